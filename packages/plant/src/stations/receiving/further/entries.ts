import type { Thing } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { postingsOfDraw } from '../postings.ts';
import {
  type FurtherBlanksDrawnBody,
  type FurtherBlanksTakenBody,
  type FurtherPickSubstitutedBody,
  furtherBlanksDrawn,
  furtherBlanksTaken,
  furtherPickSubstituted,
} from './bodies.ts';
import { applyFurtherDraw, applyFurtherSubstitution, applyFurtherTaking } from './read-model.ts';

const station = 'receiving';

const meltThings = (body: { melt: string; consignment: string }): readonly Thing[] => [
  { thing: 'consignment', id: body.consignment },
  { thing: 'melt', id: body.melt },
];

const drumThings = (drums: readonly string[]): readonly Thing[] =>
  [...new Set(drums)].map((id) => ({ thing: 'drum', id }));

export const FurtherBlanksDrawn = defineKind<FurtherBlanksDrawnBody>({
  kind: 'FurtherBlanksDrawn',
  version: 1,
  station,
  meaning:
    'Which further blanks of a melt are taken for assay, and from which places of which drums: drawn from the hash of the entry by which the laboratory asked, never chosen.',
  body: furtherBlanksDrawn,
  postings: 'moves nothing',
  things: (body) => [
    ...meltThings(body),
    ...drumThings(body.blanks.map(({ drum }) => drum)),
    ...body.blanks.map(({ blank }) => ({ thing: 'blank', id: blank })),
  ],
  apply: applyFurtherDraw,
});

export const FurtherPickSubstituted = defineKind<FurtherPickSubstitutedBody>({
  kind: 'FurtherPickSubstituted',
  version: 1,
  station,
  meaning:
    'A further blank that was drawn cannot be taken, so that another is, for the reason given. Its place is drawn from the same seed: nobody chooses it.',
  body: furtherPickSubstituted,
  postings: 'moves nothing',
  things: (body) => [
    ...meltThings(body),
    ...drumThings([body.drawn.drum, body.substitute.drum]),
    { thing: 'blank', id: body.blank },
  ],
  apply: applyFurtherSubstitution,
});

export const FurtherBlanksTaken = defineKind<FurtherBlanksTakenBody>({
  kind: 'FurtherBlanksTaken',
  version: 1,
  station,
  meaning:
    'The inspector took the further blanks that were drawn out of their drums and brought them to the laboratory; it names those that were not scanned, and why.',
  body: furtherBlanksTaken,
  postings: postingsOfDraw,
  things: (body) => [
    ...meltThings(body),
    ...drumThings(body.blanks.map(({ drum }) => drum)),
    ...body.blanks.map(({ blank }) => ({ thing: 'blank', id: blank })),
  ],
  descents: (body) =>
    body.blanks.map(({ blank, drum }) => ({
      parent: { thing: 'drum', id: drum },
      child: { thing: 'blank', id: blank },
    })),
  apply: applyFurtherTaking,
});

export const furtherKinds = [
  FurtherBlanksDrawn,
  FurtherPickSubstituted,
  FurtherBlanksTaken,
] as const;
