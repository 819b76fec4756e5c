import type { Thing } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import {
  type DifferenceAnsweredBody,
  type DifferenceRaisedBody,
  type DifferenceSettledBody,
  differenceAnswered,
  differenceRaised,
  differenceSettled,
} from './bodies.ts';
import { applyAnswered, applyRaised, applySettled } from './read-model.ts';

const station = 'receiving';
const differenceThing = (id: string): Thing => ({ thing: 'supplier-difference', id });

/** Drums, and the melts that they or the lines themselves are of, each once. */
function thingsOfLines(lines: DifferenceRaisedBody['lines']): readonly Thing[] {
  const melts = [...new Set(lines.map(({ melt }) => melt))];
  const drums = lines.filter(({ thing }) => thing === 'drum');
  return [
    ...melts.map((id) => ({ thing: 'melt', id })),
    ...drums.map(({ id }) => ({ thing: 'drum', id })),
  ];
}

export const DifferenceRaised = defineKind<DifferenceRaisedBody>({
  kind: 'DifferenceRaised',
  version: 1,
  station,
  meaning:
    'Two people raise with the supplier in what drums and melts of a consignment differ from his document. It claims; it moves no metal.',
  body: differenceRaised,
  postings: 'moves nothing',
  things: (body) => [
    differenceThing(body.difference),
    { thing: 'consignment', id: body.consignment },
    { thing: 'supplier', id: body.supplier },
    ...thingsOfLines(body.lines),
  ],
  descents: (body) => [
    {
      parent: { thing: 'consignment', id: body.consignment },
      child: differenceThing(body.difference),
    },
  ],
  apply: applyRaised,
});

export const DifferenceAnswered = defineKind<DifferenceAnsweredBody>({
  kind: 'DifferenceAnswered',
  version: 1,
  station,
  meaning:
    'What the supplier answered to a difference, and the document in which he did. It settles nothing.',
  body: differenceAnswered,
  postings: 'moves nothing',
  things: (body) => [differenceThing(body.difference)],
  apply: applyAnswered,
});

export const DifferenceSettled = defineKind<DifferenceSettledBody>({
  kind: 'DifferenceSettled',
  version: 1,
  station,
  meaning:
    'The chief assayer and a witness settle a difference: pieces and grams agreed for each drum and melt, and how. Metal moved when it was weighed, counted and returned; none moves by this.',
  body: differenceSettled,
  postings: 'moves nothing',
  things: (body) => [
    differenceThing(body.difference),
    ...body.lines.map(({ thing, id }) => ({ thing, id })),
  ],
  apply: applySettled,
});

export const differenceKinds = [DifferenceRaised, DifferenceAnswered, DifferenceSettled] as const;
