import type { AssayMethod } from '../../registers/index.ts';
import { codeOf } from '../pick-list-pdf.ts';
import type { PortionRow, SendingRow } from './books.ts';

/** The note of a portion that is sent, in words and figures; the template only sets it. */
export interface PortionNotePage {
  readonly title: string;
  readonly plant: string;
  readonly about: string;
  readonly facts: readonly (readonly [string, string])[];
  readonly blanks: string;
  readonly asked: string;
  readonly cautions: readonly string[];
  readonly signatures: readonly (readonly [what: string, name: string])[];
  /** What the code says, and its drawing. */
  readonly code: { readonly text: string; readonly drawing: string };
  readonly entry: string;
  readonly entryHash: string;
  readonly date: readonly [number, number, number];
}

interface NoteContent {
  readonly plantTitle: string;
  readonly supplierName: string;
  readonly standardTitle: string;
  readonly assayMethod: AssayMethod;
  readonly portion: PortionRow;
  readonly sending: SendingRow;
  readonly entryHash: string | undefined;
  readonly nameOf: (person: string) => string;
}

const methodWords: Readonly<Record<AssayMethod, string>> = {
  cupellation: 'cupellation with proofs',
  titration: 'potentiometric titration',
  'fineness-by-difference': 'difference from the impurities found by spectrometry',
};

/** What whoever opens the portion and assays it should take care of. */
const cautions: Readonly<Record<AssayMethod, readonly string[]>> = {
  cupellation: [
    'Cupellation: hot furnace, molten lead and its fume. Parting: hot nitric acid and its brown gas, which is poisonous. Hood, face shield, gloves and apron.',
  ],
  titration: [
    'Dissolving: hot nitric acid and its brown gas, which is poisonous. Hood, face shield, gloves and apron. Silver nitrate burns skin and eyes.',
  ],
  'fineness-by-difference': [
    'Dissolving: hot nitric acid, with gold also hydrochloric acid, and their gases, which are poisonous. Hood, face shield, gloves and apron.',
  ],
};

const general =
  'The rules of the site, local law and licensed practice come first; this note does not take their place.';

const grams = (micrograms: number): string => (micrograms / 1e6).toFixed(3);

function recipientOf({ sending, supplierName }: NoteContent): string {
  return sending.to === 'supplier' ? supplierName : 'The umpire';
}

function askedFor({ assayMethod, portion, sending }: NoteContent): string {
  const until = sending.answerBy === null ? '' : `, until ${sending.answerBy}`;
  return `Asked for${until}: the fineness of melt ${portion.melt}, found by ${methodWords[assayMethod]} or by the method that was agreed, with the number of determinations and the standard uncertainty, unrounded, and the number of this portion. The plant states its own result after yours.`;
}

/** Puts the note of a sent portion into words and figures. */
export function portionNotePage(content: NoteContent): PortionNotePage {
  const { portion, sending, nameOf } = content;
  const [year = 0, month = 0, day = 0] = sending.instant.slice(0, 10).split('-').map(Number);
  return {
    title: `Portion ${portion.portion}`,
    plant: content.plantTitle,
    about: `For: ${recipientOf(content)}. ${content.standardTitle}, of melt ${portion.melt}.`,
    facts: [
      ['Melt', portion.melt],
      ['Consignment', portion.consignment],
      ['Delivered by', content.supplierName],
      ['Mass', `${grams(sending.grossMicrograms)} g`],
      [
        'Whole blanks',
        sending.blanks.length === 0 ? 'none: cuttings' : String(sending.blanks.length),
      ],
      ['Seal', sending.seal],
      ['Sealed for', portion.for],
      ['Sent with', sending.document],
      ['Answer by', sending.answerBy ?? 'no day agreed'],
    ],
    blanks: sending.blanks.length === 0 ? '' : `Blanks: ${sending.blanks.join(', ')}.`,
    asked: askedFor(content),
    cautions: [
      `Before you open it: compare seal ${sending.seal} and the mass. If the seal is broken or another, do not assay; tell the plant at once.`,
      'Open it before a witness. Keep what you do not use, closed and marked with the number of the portion, until the plant asks for it.',
      ...cautions[content.assayMethod],
      general,
    ],
    signatures: [
      ['Handed over by', nameOf(sending.author)],
      ['Witness', nameOf(sending.witness)],
      ['Received by, day and time', ''],
    ],
    code: { text: portion.portion, drawing: codeOf(portion.portion) },
    entry: `Entry ${sending.entry} of the plant’s journal`,
    entryHash: content.entryHash ?? '',
    date: [year, month, day],
  };
}
