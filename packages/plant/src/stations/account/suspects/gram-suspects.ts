import type { MetalBalanceInput, MetalBalanceOutput } from '@cupel/calculation';

/** Which errors of a suspect weigh most: what to do first follows from it. */
type SuspectError = 'calibration' | 'readings' | 'tare';

/** A balance, or tares that nobody weighed, whose errors can make grams seem to be missing. */
export interface GramSuspect {
  readonly what: 'balance' | 'tares';
  /** The instrument; of tares how well they are known. */
  readonly name: string;
  /** Of the variance of the whole difference. */
  readonly sharePercent: number;
  /** What it most likely makes of the difference, if nothing was lost; positive seems missing. */
  readonly expectedPartGrams: number;
  readonly mainly: SuspectError;
}

type Weighing = Pick<MetalBalanceInput, 'strata' | 'scales' | 'tareGroups'>;
type Judged = Pick<MetalBalanceOutput, 'contributions' | 'unexplainedGrossGrams'>;
type Variance = Pick<GramSuspect, 'what' | 'name' | 'mainly'> & { readonly variance: number };

const sharedVariance = ({ contributions }: Judged, source: string): number =>
  (contributions.find((one) => one.source === source)?.standardUncertaintyGrams ?? 0) ** 2;

/** Random variance of strata: that of the readings, and that of containers one against another. */
function randomVariance({ strata, tareGroups = [] }: Weighing, isIts: (one: Stratum) => boolean) {
  const deviations = new Map(tareGroups.map((one) => [one.tareGroup, one.standardDeviationGrams]));
  let readings = 0;
  let tare = 0;
  for (const { count, randomStandardDeviationGrams, tareGroup } of strata.filter(isIts)) {
    const container = Math.min(
      tareGroup === undefined ? 0 : (deviations.get(tareGroup) ?? 0),
      randomStandardDeviationGrams,
    );
    tare += count * container ** 2;
    readings += count * (randomStandardDeviationGrams ** 2 - container ** 2);
  }
  return { readings, tare };
}

type Stratum = Weighing['strata'][number];

/**
 * Who is to blame for a difference of grams: each balance with its calibration and its readings, and
 * each kind of tare that was not weighed, by their shares of the variance; the greatest stands first.
 */
export function gramSuspects(input: Weighing, output: Judged): readonly GramSuspect[] {
  const balances = input.scales.map(({ scale }): Variance => {
    const calibration = sharedVariance(output, `gain ${scale}`);
    const { readings } = randomVariance(input, (one) => one.scale === scale);
    const mainly = calibration > readings ? 'calibration' : 'readings';
    return { what: 'balance', name: scale, variance: calibration + readings, mainly };
  });
  const tares = (input.tareGroups ?? []).map(({ tareGroup }): Variance => {
    const { tare } = randomVariance(input, (one) => one.tareGroup === tareGroup);
    const variance = sharedVariance(output, `tare ${tareGroup}`) + tare;
    return { what: 'tares', name: tareGroup, variance, mainly: 'tare' };
  });
  const all = [...balances, ...tares];
  const total = all.reduce((sum, { variance }) => sum + variance, 0);
  if (total === 0) return [];
  return all
    .map(({ variance, ...suspect }) => ({
      ...suspect,
      sharePercent: (100 * variance) / total,
      expectedPartGrams: (output.unexplainedGrossGrams * variance) / total,
    }))
    .sort((left, right) => right.sharePercent - left.sharePercent);
}

const firstStep = ({ name, mainly }: GramSuspect): string =>
  ({
    calibration: `check ${name} with weights`,
    readings: `weigh again on ${name}`,
    tare: 'weigh the empty containers',
  })[mainly];

/** A suspect as a sentence names it, with how much of the doubt is its own. */
function doubtOf({ what, name, mainly, sharePercent }: GramSuspect): string {
  const share = `${sharePercent.toFixed(0)}\u00a0%`;
  return what === 'tares'
    ? `the tares ${name}: ${share}`
    : `the balance ${name}: ${share}, mainly its ${mainly}`;
}

/** Beyond so many standard uncertainties nobody looks at balances first. */
const noBalanceErrs = 10;

/** Whether the balances explain a difference, who among them most, and what to do first. */
export function suspectWords(
  { state, significance }: Pick<MetalBalanceOutput, 'state' | 'significance'>,
  suspects: readonly GramSuspect[],
): string {
  const beyond = `${Math.abs(significance ?? 0).toFixed(1)} times the standard uncertainty`;
  const judged = {
    inside: 'The balances explain it.',
    warn: `It is more than the balances usually leave: ${beyond}.`,
    act: `It is more than the balances explain: ${beyond}.`,
  }[state];
  const [first] = suspects;
  if (!first) return judged;
  if (Math.abs(significance ?? 0) > noBalanceErrs) {
    return `${judged} No balance errs so far: look for metal, or for an entry that is wrong.`;
  }
  const then = state === 'act' ? ', then look for metal.' : '.';
  const step = state === 'inside' ? '' : ` First ${firstStep(first)}${then}`;
  return `${judged} Most doubt lies in ${doubtOf(first)}.${step}`;
}
