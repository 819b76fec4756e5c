import { defineKind } from '../../../journal/station.ts';
import { type HoldAnswered as HoldAnsweredBody, holdAnswered } from './hold-bodies.ts';
import { applyHoldAnswer } from './hold-read-model.ts';

export const HoldAnswered = defineKind<HoldAnsweredBody>({
  kind: 'HoldAnswered',
  version: 1,
  station: 'laboratory',
  meaning:
    'The chief assayer said of results or weighings in doubt, after a condemned lot, a failed check or a wrong calibration, that they stand, or set them aside. What is set aside counts no longer, and no result rests on it; its readings stay.',
  body: holdAnswered,
  postings: 'moves nothing',
  things: (body) => [
    ...[...new Set(body.answeredFor.map((one) => one.melt))]
      .filter((melt) => melt !== '')
      .map((id) => ({ thing: 'melt', id })),
    ...body.answeredFor.flatMap(({ assayRun }) =>
      assayRun === null ? [] : [{ thing: 'assay-run', id: assayRun }],
    ),
  ],
  apply: applyHoldAnswer,
});
