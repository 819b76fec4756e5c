/** What can differ from the document of a consignment. */
export const differingThings = ['drum', 'melt'] as const;
export type DifferingThing = (typeof differingThings)[number];

/** In what a drum or melt differs. */
export const differenceCauses = ['pieces', 'mass', 'seal', 'returned', 'refused'] as const;
export type DifferenceCause = (typeof differenceCauses)[number];

/** How a line of a difference is settled with the supplier. */
export const settlements = ['credit', 'replacement', 'withdrawn'] as const;

/** What a supplier can answer. */
export const supplierAnswers = ['accepted', 'accepted in part', 'disputed'] as const;

const causeWords: Readonly<Record<DifferenceCause, string>> = {
  pieces: 'another count',
  mass: 'another mass',
  seal: 'another seal',
  returned: 'sent back',
  refused: 'refused',
};

/** The causes of a line in words. */
export function causesInWords(causes: readonly DifferenceCause[]): string {
  return causes.map((cause) => causeWords[cause]).join(', ');
}
