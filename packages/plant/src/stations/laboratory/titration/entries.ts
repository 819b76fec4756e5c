import { defineKind } from '../../../journal/station.ts';
import { applyTitration } from '../read-model.ts';
import { type TitrationRecorded as TitrationRecordedBody, titrationRecorded } from './bodies.ts';

const runThing = (assayRun: string) => ({ thing: 'assay-run', id: assayRun });

/** Each blank once: it may give several portions of one run. */
const blankThings = ({ samples }: TitrationRecordedBody) =>
  [...new Set(samples.map(({ blank }) => blank))].map((id) => ({ thing: 'blank', id }));

export const TitrationRecorded = defineKind<TitrationRecordedBody>({
  kind: 'TitrationRecorded',
  version: 1,
  station: 'laboratory',
  meaning:
    'An assayer titrated portions of one silver melt between standards of pure silver, or by a factor of the titrant determined before, and confirmed each end point on its curve. Where the standards lie too far apart the run is void and none of its determinations can be signed.',
  body: titrationRecorded,
  postings: 'moves nothing',
  things: (body) => [
    runThing(body.assayRun),
    { thing: 'melt', id: body.melt },
    ...blankThings(body),
    { thing: 'instrument', id: body.instrument },
    { thing: 'instrument', id: body.balance },
  ],
  descents: (body) =>
    blankThings(body).map((parent) => ({ parent, child: runThing(body.assayRun) })),
  apply: applyTitration,
});

export const titrationKinds = [TitrationRecorded] as const;
