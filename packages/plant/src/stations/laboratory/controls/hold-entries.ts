import { defineKind } from '../../../journal/station.ts';
import { type HoldAnswered as HoldAnsweredBody, holdAnswered } from './hold-bodies.ts';
import { applyHoldAnswer } from './hold-read-model.ts';

export const HoldAnswered = defineKind<HoldAnsweredBody>({
  kind: 'HoldAnswered',
  version: 1,
  station: 'laboratory',
  meaning:
    'The chief assayer said of runs or measurements in doubt, after a condemned lot or a failed check, that they stand, or set the runs aside. A run set aside counts no longer, and no result rests on it; its readings stay.',
  body: holdAnswered,
  postings: 'moves nothing',
  things: (body) => [
    ...[...new Set(body.answeredFor.map((one) => one.melt))].map((id) => ({ thing: 'melt', id })),
    ...body.answeredFor.flatMap(({ assayRun }) =>
      assayRun === null ? [] : [{ thing: 'assay-run', id: assayRun }],
    ),
  ],
  apply: applyHoldAnswer,
});
