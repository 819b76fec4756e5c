/** For whom a portion of a sample is sealed. */
export const portionParties = ['plant', 'supplier', 'umpire', 'reserve'] as const;
export type PortionParty = (typeof portionParties)[number];

/** Where a portion is, or what became of it. */
export const portionStates = [
  'sealed',
  'with the supplier',
  'with the umpire',
  'opened',
  'returned',
  'discarded',
  'used up',
] as const;
export type PortionState = (typeof portionStates)[number];

/** To whom a portion can be sent. */
export const recipients = ['supplier', 'umpire'] as const;
export type Recipient = (typeof recipients)[number];

const mayGoTo: Readonly<Record<PortionParty, readonly Recipient[]>> = {
  plant: [],
  supplier: ['supplier'],
  umpire: ['umpire'],
  reserve: ['supplier', 'umpire'],
};

/** To whom the portion of a party can go: a reserve to either side, the plant's own to neither. */
export function recipientsOf(party: PortionParty): readonly Recipient[] {
  return mayGoTo[party];
}

/** True while the blanks and grams of a portion are out of the hands of the laboratory. */
export function isHeld(state: PortionState): boolean {
  return state !== 'opened';
}
