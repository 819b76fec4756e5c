import { defineKind } from '../../journal/station.ts';
import {
  type DifferenceExplained as DifferenceExplainedBody,
  type DifferenceSigned as DifferenceSignedBody,
  differenceExplained,
  differenceSigned,
  type PlaceTallied as PlaceTalliedBody,
  placeTallied,
  type ShiftClosed as ShiftClosedBody,
  shiftClosed,
} from './bodies.ts';
import { periodKinds } from './entries-periods.ts';
import { postingsOfExplanation, postingsOfSignedDifference } from './postings.ts';
import { applyClosing, applyExplanation, applySignedDifference, applyTally } from './read-model.ts';
import { seesBook } from './sees-book.ts';

export const PlaceTallied = defineKind<PlaceTalliedBody>({
  kind: 'PlaceTallied',
  version: 1,
  station: 'account',
  meaning:
    'A person counted and weighed what lies at a place without seeing what should lie there. It never changes what should lie there.',
  body: placeTallied,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'place', id: body.place }],
  // Where nothing has moved since, what was counted last is what should lie there.
  readableBy: seesBook,
  apply: applyTally,
});

export const ShiftClosed = defineKind<ShiftClosedBody>({
  kind: 'ShiftClosed',
  version: 1,
  station: 'account',
  meaning:
    'The metal accountant and a witness close a shift: at every place the pieces found are those that the postings say, or the difference is signed. It never makes a balance fit.',
  body: shiftClosed,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'shift', id: body.shift }],
  readableBy: seesBook,
  apply: applyClosing,
  signsHead: true,
});

export const DifferenceSigned = defineKind<DifferenceSignedBody>({
  kind: 'DifferenceSigned',
  version: 1,
  station: 'account',
  meaning:
    'The chief assayer and a witness sign for metal that a tally shows as missing or too much, and take it out of the place or into it. It never says where the metal is.',
  body: differenceSigned,
  postings: postingsOfSignedDifference,
  things: (body) => [
    { thing: 'difference', id: body.difference },
    ...(body.melt === null ? [] : [{ thing: 'melt', id: body.melt }]),
  ],
  apply: applySignedDifference,
});

export const DifferenceExplained = defineKind<DifferenceExplainedBody>({
  kind: 'DifferenceExplained',
  version: 1,
  station: 'account',
  meaning:
    'The chief assayer and a witness say how a difference ended. The signed difference stays in the journal.',
  body: differenceExplained,
  postings: postingsOfExplanation,
  things: (body) => [{ thing: 'difference', id: body.difference }],
  apply: applyExplanation,
});

export const accountKinds = [
  PlaceTallied,
  ShiftClosed,
  DifferenceSigned,
  DifferenceExplained,
  ...periodKinds,
] as const;
