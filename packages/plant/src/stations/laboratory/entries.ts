import { defineKind } from '../../journal/station.ts';
import {
  type BlanksCut as BlanksCutBody,
  type BlanksMeasured as BlanksMeasuredBody,
  type BlanksReturned as BlanksReturnedBody,
  blanksCut,
  blanksMeasured,
  blanksReturned,
  type ChartSignalAnswered as ChartSignalAnsweredBody,
  type CupellationRecorded as CupellationRecordedBody,
  chartSignalAnswered,
  cupellationRecorded,
  type DeterminationDiscarded as DeterminationDiscardedBody,
  type DifferenceRecorded as DifferenceRecordedBody,
  determinationDiscarded,
  differenceRecorded,
  type MeltReturned as MeltReturnedBody,
  type MeltRuled as MeltRuledBody,
  meltReturned,
  meltRuled,
  type ResultChecked as ResultCheckedBody,
  type ResultSentBack as ResultSentBackBody,
  type ResultSigned as ResultSignedBody,
  resultChecked,
  resultSentBack,
  resultSigned,
} from './bodies.ts';
import { applyChartAnswer } from './chart-read-model.ts';
import { postingsOfBlankReturn, postingsOfCutting, postingsOfMeltReturn } from './postings.ts';
import {
  applyBlankReturn,
  applyCheck,
  applyCupellation,
  applyCutting,
  applyDifference,
  applyDiscard,
  applyMeasurement,
  applyMeltReturn,
  applyResult,
  applyRuling,
  applySendingBack,
} from './read-model.ts';

const station = 'laboratory';
const meltThing = (melt: string) => ({ thing: 'melt', id: melt });
const blankThing = (blank: string) => ({ thing: 'blank', id: blank });
const runThing = (assayRun: string) => ({ thing: 'assay-run', id: assayRun });

/** Each thing once: a blank may give several portions of one run. */
function distinctBlanks(items: readonly { readonly blank: string }[]) {
  return [...new Set(items.map((item) => item.blank))].map(blankThing);
}

export const BlanksMeasured = defineKind<BlanksMeasuredBody>({
  kind: 'BlanksMeasured',
  version: 1,
  station,
  meaning:
    'An inspector weighed and gauged drawn blanks and held each against its limits. It never accepts or rejects the melt by itself.',
  body: blanksMeasured,
  postings: 'moves nothing',
  things: (body) => [
    meltThing(body.melt),
    ...distinctBlanks(body.measurements),
    { thing: 'instrument', id: body.balance },
    { thing: 'instrument', id: body.micrometer },
  ],
  apply: applyMeasurement,
});

export const BlanksCut = defineKind<BlanksCutBody>({
  kind: 'BlanksCut',
  version: 1,
  station,
  meaning:
    'An assayer cut drawn blanks for test portions: they cease to be pieces, and their grams stay in the laboratory.',
  body: blanksCut,
  postings: postingsOfCutting,
  things: (body) => [meltThing(body.melt), ...body.blanks.map(blankThing)],
  apply: applyCutting,
});

export const BlanksReturned = defineKind<BlanksReturnedBody>({
  kind: 'BlanksReturned',
  version: 1,
  station,
  meaning:
    'An inspector and a custodian took whole, measured blanks from the laboratory back to receiving. It never moves a blank that was cut.',
  body: blanksReturned,
  postings: postingsOfBlankReturn,
  things: (body) => [meltThing(body.melt), ...body.blanks.map(blankThing)],
  apply: applyBlankReturn,
});

export const CupellationRecorded = defineKind<CupellationRecordedBody>({
  kind: 'CupellationRecorded',
  version: 1,
  station,
  meaning:
    'An assayer cupelled portions of one melt beside proofs and recorded every reading. Where the proofs lie beyond their limit the run is void and none of its determinations can be signed.',
  body: cupellationRecorded,
  postings: 'moves nothing',
  things: (body) => [
    runThing(body.assayRun),
    meltThing(body.melt),
    ...distinctBlanks(body.samples),
    { thing: 'instrument', id: body.instrument },
  ],
  descents: (body) =>
    distinctBlanks(body.samples).map((parent) => ({ parent, child: runThing(body.assayRun) })),
  apply: applyCupellation,
});

export const DifferenceRecorded = defineKind<DifferenceRecordedBody>({
  kind: 'DifferenceRecorded',
  version: 1,
  station,
  meaning:
    'An assayer measured the impurities in solutions of one melt; the fineness is what they leave of the whole.',
  body: differenceRecorded,
  postings: 'moves nothing',
  things: (body) => [
    runThing(body.assayRun),
    meltThing(body.melt),
    ...distinctBlanks(body.solutions),
    { thing: 'instrument', id: body.instrument },
  ],
  descents: (body) =>
    distinctBlanks(body.solutions).map((parent) => ({ parent, child: runThing(body.assayRun) })),
  apply: applyDifference,
});

export const DeterminationDiscarded = defineKind<DeterminationDiscardedBody>({
  kind: 'DeterminationDiscarded',
  version: 1,
  station,
  meaning:
    'An assayer took a determination out of the result for a stated cause. It stays visible with its reason.',
  body: determinationDiscarded,
  postings: 'moves nothing',
  things: (body) => [runThing(body.assayRun), meltThing(body.melt)],
  apply: applyDiscard,
});

export const ResultSigned = defineKind<ResultSignedBody>({
  kind: 'ResultSigned',
  version: 1,
  station,
  meaning:
    "An authorised assayer signed the fineness of a melt with its uncertainty, before seeing the supplier's value. It is no ruling.",
  body: resultSigned,
  postings: 'moves nothing',
  things: (body) => [
    meltThing(body.melt),
    ...[...new Set(body.determinations.map((one) => one.assayRun))].map(runThing),
  ],
  apply: applyResult,
});

export const ResultChecked = defineKind<ResultCheckedBody>({
  kind: 'ResultChecked',
  version: 1,
  station,
  meaning:
    'A second authorised assayer, who had no part in it, compared a signed result with its worksheets and stands for it.',
  body: resultChecked,
  postings: 'moves nothing',
  things: (body) => [meltThing(body.melt)],
  apply: applyCheck,
});

export const ResultSentBack = defineKind<ResultSentBackBody>({
  kind: 'ResultSentBack',
  version: 1,
  station,
  meaning:
    'A second authorised assayer found a signed result wanting and gave it back, with the reason. The result stays visible and counts no longer.',
  body: resultSentBack,
  postings: 'moves nothing',
  things: (body) => [meltThing(body.melt)],
  apply: applySendingBack,
});

export const MeltRuled = defineKind<MeltRuledBody>({
  kind: 'MeltRuled',
  version: 1,
  station,
  meaning:
    'The chief assayer ruled on a melt over his signature: release, refuse, hold or concession. It never concedes fineness, least mass or count.',
  body: meltRuled,
  postings: 'moves nothing',
  things: (body) => [meltThing(body.melt)],
  apply: applyRuling,
});

export const MeltReturned = defineKind<MeltReturnedBody>({
  kind: 'MeltReturned',
  version: 1,
  station,
  meaning:
    'A custodian and a witness handed what was left of a refused melt at receiving back to its supplier.',
  body: meltReturned,
  postings: postingsOfMeltReturn,
  things: (body) => [meltThing(body.melt)],
  apply: applyMeltReturn,
});

export const ChartSignalAnswered = defineKind<ChartSignalAnsweredBody>({
  kind: 'ChartSignalAnswered',
  version: 1,
  station,
  meaning:
    'The chief assayer looked into the signals of a control chart and said what was found. It changes no result; it may leave points out of the limits or set the limits anew.',
  body: chartSignalAnswered,
  postings: 'moves nothing',
  things: (body) => body.assayRuns.map(runThing),
  apply: applyChartAnswer,
});

export const laboratoryKinds = [
  BlanksMeasured,
  BlanksCut,
  BlanksReturned,
  CupellationRecorded,
  DifferenceRecorded,
  DeterminationDiscarded,
  ResultSigned,
  ResultChecked,
  ResultSentBack,
  MeltRuled,
  MeltReturned,
  ChartSignalAnswered,
] as const;
