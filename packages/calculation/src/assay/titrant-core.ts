import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum, meanOf } from '../quantity/sum.ts';
import type { TitrantRun } from './titrant-schema.ts';

/** Factors of the standards of a run, with what their uncertainty is made of. */
export interface Titrant {
  /** Silver per millilitre of titrant, in mg/mL. */
  readonly factors: readonly number[];
  /** Relative standard uncertainty of each factor from its own weighing and volume. */
  readonly measuring: readonly number[];
  /** Relative standard deviation of one titration beyond those two, or holding them where estimated. */
  readonly repeatability: number;
  /** Null where the repeatability was stated. */
  readonly degreesOfFreedom: number | null;
  /** Share of each standard in the factor at a time; the shares add to 1. */
  readonly sharesAt: (minutes: number, field: string) => readonly number[];
  /** Relative change of each factor per millilitre of blank. */
  readonly blankSensitivities: readonly number[];
}

/** Volume less the blank, which must leave something. */
export function netVolume(volume: number, blank: number, field: string): number {
  requireDomain(volume > blank, {
    field,
    value: volume,
    accepted: `a volume above the blank of ${blank} mL`,
  });
  return volume - blank;
}

/** Shares of a straight line in time through all standards. */
function lineShares(times: readonly number[], minutes: number): number[] {
  const centre = meanOf(times);
  const spread = compensatedSum(times.map((time) => (time - centre) ** 2));
  return times.map((time) => 1 / times.length + ((minutes - centre) * (time - centre)) / spread);
}

/** Shares of the standards next before and next after; standards of one time share evenly. */
function bracketShares(times: readonly number[], minutes: number, field: string): number[] {
  const before = Math.max(...times.filter((time) => time <= minutes));
  const after = Math.min(...times.filter((time) => time >= minutes));
  requireDomain(Number.isFinite(before) && Number.isFinite(after), {
    field,
    value: minutes,
    accepted: `a time from the first standard at ${Math.min(...times)} min to the last at ${Math.max(...times)} min`,
  });
  const share = after === before ? 0 : (minutes - before) / (after - before);
  const countAt = (time: number) => times.filter((one) => one === time).length;
  return times.map((time) => {
    if (time === before && time === after) return 1 / countAt(time);
    if (time === before) return (1 - share) / countAt(before);
    return time === after ? share / countAt(after) : 0;
  });
}

function sharesOf(run: TitrantRun): Titrant['sharesAt'] {
  const times = run.standards.map((one) => one.minutes);
  const isSpread = new Set(times).size > 1;
  requireDomain(run.drift === 'none' || isSpread, {
    field: 'standards',
    value: 'standards that all have one time',
    accepted: 'standards at two times or more, or no drift',
  });
  return (minutes, field) => {
    if (run.drift === 'straight line') return lineShares(times, minutes);
    if (run.drift === 'bracketing') return bracketShares(times, minutes, field);
    return times.map(() => 1 / times.length);
  };
}

/** Relative spread of the factors about the model of their drift, with its degrees of freedom. */
function spreadOfFactors(run: TitrantRun, factors: readonly number[]) {
  const times = run.standards.map((one) => one.minutes);
  const isLine = run.drift !== 'none';
  const degreesOfFreedom = factors.length - (isLine ? 2 : 1);
  requireDomain(degreesOfFreedom > 0, {
    field: 'repeatabilityPerMille',
    value: 'none',
    accepted:
      'a stated repeatability, since two standards with a drift leave no spread to take it from',
  });
  const expected = times.map((time) => {
    const shares = isLine ? lineShares(times, time) : times.map(() => 1 / times.length);
    return compensatedSum(shares.map((share, j) => share * (factors[j] ?? 0)));
  });
  const squares = factors.map((factor, i) => (factor / (expected[i] ?? 1) - 1) ** 2);
  return { repeatability: Math.sqrt(compensatedSum(squares) / degreesOfFreedom), degreesOfFreedom };
}

/** Factors of a run and the parts of their uncertainty. */
export function titrantOf(run: TitrantRun): Titrant {
  const { standards, blankMillilitres: blank } = run;
  const volumes = standards.map((one, index) =>
    netVolume(one.volumeMillilitres, blank, `standards.${index}.volumeMillilitres`),
  );
  const factors = standards.map(
    (one, i) =>
      (one.silverMassMilligrams * (run.silverFinenessPerMille / 1000)) / (volumes[i] as number),
  );
  const stated = run.repeatabilityPerMille;
  const spread =
    stated === undefined
      ? spreadOfFactors(run, factors)
      : { repeatability: stated / 1000, degreesOfFreedom: null };
  return {
    factors,
    // A spread that was taken from the factors holds weighing and volume already.
    measuring: standards.map((one, i) =>
      stated === undefined
        ? 0
        : Math.hypot(
            run.weighingStandardUncertaintyMilligrams / one.silverMassMilligrams,
            run.volumeStandardUncertaintyMillilitres / (volumes[i] as number),
          ),
    ),
    ...spread,
    sharesAt: sharesOf(run),
    blankSensitivities: volumes.map((volume) => 1 / volume),
  };
}

/** Factor at a time. */
export function factorAt(titrant: Titrant, shares: readonly number[]): number {
  return compensatedSum(shares.map((share, j) => share * (titrant.factors[j] ?? 0)));
}
