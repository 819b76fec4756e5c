export { presentDifferences, shiftInHand } from './overview.ts';
export { placeName } from './place-name.ts';
export { type PresentRack, presentAccount } from './present-lines.ts';
export { maySeeBook, seesBook } from './sees-book.ts';
