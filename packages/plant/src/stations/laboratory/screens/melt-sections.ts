import { printNumber } from '../../../workbench/number-text.ts';
import type { ResultFigures } from '../bodies.ts';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

/** A section of the page of a melt, and what it says when it is folded. */
export interface MeltSection {
  readonly id: string;
  readonly title: string;
  readonly isFinished: boolean;
  readonly result: string;
}

/** A trial as far as its sections tell of it. */
export interface TrialOfSections {
  readonly stage: TrialAnswer['stage'];
  readonly physical: Pick<
    TrialAnswer['physical'],
    'state' | 'blanksForPhysical' | 'blanksMeasured' | 'blanksNonconforming'
  >;
  readonly blanks: readonly { readonly measurement: unknown }[];
  readonly runs: readonly {
    readonly assayRun: string;
    readonly state: string;
    readonly voidReason: string | null;
  }[];
  readonly determinations: readonly {
    readonly assayRun: string;
    readonly state: string;
    readonly finenessPerMille: number;
  }[];
  readonly preview:
    | null
    | { readonly state: 'incomplete' }
    | { readonly state: 'complete'; readonly figures: Told };
  readonly results: readonly { readonly state: string; readonly body: Told }[];
  readonly rulings: readonly unknown[];
}

type Told = Pick<ResultFigures, 'finenessPerMille' | 'standardUncertaintyPerMille' | 'verdict'>;

/** The readings of a run are gone through until its result is checked. */
const atWork: readonly TrialAnswer['stage'][] = [
  'to be measured',
  'to be cut',
  'to be assayed',
  'to be signed',
];

const isOpenTrial = ({ stage }: TrialOfSections): boolean =>
  stage.startsWith('to be') || stage === 'held';

function determinationsSection(trial: TrialOfSections): readonly MeltSection[] {
  const { determinations, preview } = trial;
  if (determinations.length === 0) return [];
  const told =
    preview?.state === 'complete' ? preview.figures : standingResultOf(trial.results)?.body;
  const valid = determinations.filter(({ state }) => state === 'valid').length;
  return [
    {
      id: 'determinations',
      title: 'From determinations to result',
      isFinished: !isOpenTrial(trial),
      result: told
        ? `${printNumber(told.finenessPerMille, 3)} ‰, standard uncertainty ${printNumber(told.standardUncertaintyPerMille, 4)} ‰: ${told.verdict}`
        : `${printNumber(valid)} of ${printNumber(determinations.length)} count`,
    },
  ];
}

function runWords(trial: TrialOfSections, run: TrialOfSections['runs'][number]): string {
  if (run.state === 'void') return `void: ${run.voidReason ?? ''}`;
  const found = trial.determinations
    .filter(({ assayRun }) => assayRun === run.assayRun)
    .map(({ finenessPerMille }) => printNumber(finenessPerMille, 3));
  return `${found.join(', ')} ‰`;
}

/** Of the runs the newest is at work; the checker goes through all of them. */
function runSections(trial: TrialOfSections): readonly MeltSection[] {
  const newest = trial.runs.at(-1)?.assayRun;
  return trial.runs.map((run) => ({
    id: runId(run.assayRun),
    title: `Run ${run.assayRun}`,
    isFinished: !(
      trial.stage === 'to be checked' ||
      (atWork.includes(trial.stage) && run.assayRun === newest)
    ),
    result: runWords(trial, run),
  }));
}

/** Name of the section of a run. */
export const runId = (assayRun: string): string => `run-${assayRun}`;

function blanksSection({ physical, blanks, stage }: TrialOfSections): readonly MeltSection[] {
  if (blanks.every(({ measurement }) => !measurement)) return [];
  const { state, blanksMeasured, blanksForPhysical, blanksNonconforming } = physical;
  return [
    {
      id: 'blanks',
      title: 'Blanks of the sample',
      isFinished: state !== 'open' && stage !== 'to be measured',
      result: `${state}: ${printNumber(blanksMeasured)} of ${printNumber(blanksForPhysical)} measured, ${printNumber(blanksNonconforming)} outside their limits`,
    },
  ];
}

/** What was signed is short, and never folded. */
function signedSection({ results, rulings }: TrialOfSections): readonly MeltSection[] {
  if (results.length === 0 && rulings.length === 0) return [];
  const result = `${printNumber(results.length)} results, ${printNumber(rulings.length)} rulings`;
  return [{ id: 'signed', title: 'Signed', isFinished: false, result }];
}

/** The sections below what stands now, in their order on the page. */
export function meltSections(trial: TrialOfSections): readonly MeltSection[] {
  return [
    ...determinationsSection(trial),
    ...runSections(trial),
    ...blanksSection(trial),
    ...signedSection(trial),
  ];
}
