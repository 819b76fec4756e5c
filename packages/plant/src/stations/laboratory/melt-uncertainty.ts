import { medianVarianceRatio } from '@cupel/calculation';
import { z } from 'zod';

const perMille = z.number().min(0);

export const meltUncertaintyInput = z.strictObject({
  statistic: z.enum(['mean', 'median of four', 'median of all']).meta({
    title: 'Statistic',
    description: 'How the result is made of the determinations',
  }),
  determinations: z
    .array(
      z.strictObject({
        run: z.string().meta({ title: 'Run' }),
        label: z.string().meta({ title: 'Label' }),
        blank: z.string().meta({ title: 'Blank', description: 'That the portion was cut from' }),
        finenessPerMille: perMille.meta({ title: 'Fineness', unit: '‰' }),
        ownStandardUncertaintyPerMille: perMille.meta({
          title: 'Own part',
          description: 'Independent from one determination to the next',
          unit: '‰',
        }),
        runStandardUncertaintyPerMille: perMille.meta({
          title: "Run's part",
          description: 'Shared by the determinations of one run, as the proof correction is',
          unit: '‰',
        }),
        methodStandardUncertaintyPerMille: perMille.meta({
          title: "Method's part",
          description: 'Shared by all determinations, as the fineness of the proof gold is',
          unit: '‰',
        }),
      }),
    )
    .min(2)
    .max(10)
    .meta({ title: 'Determinations', description: 'Of at least two blanks' }),
});

export const meltUncertaintyOutput = z.strictObject({
  standardUncertaintyPerMille: perMille.meta({ title: 'Standard uncertainty', unit: '‰' }),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None where nothing was estimated from the spread of this melt',
  }),
  spreadStandardDeviationPerMille: perMille.meta({
    title: 'Spread of the determinations',
    description: 'Sample standard deviation',
    unit: '‰',
  }),
  betweenBlanksStandardDeviationPerMille: perMille.meta({
    title: 'Standard deviation between blanks',
    description: 'What the spread shows beyond the own parts; 0 where it shows nothing',
    unit: '‰',
  }),
  budget: z
    .array(
      z.strictObject({
        contribution: z.string().meta({ title: 'Contribution' }),
        standardUncertaintyPerMille: perMille.meta({ title: 'Standard uncertainty', unit: '‰' }),
        sharePercent: perMille.meta({ title: 'Share of the variance', unit: '%' }),
      }),
    )
    .meta({ title: 'Budget' }),
});

export type MeltUncertaintyInput = z.infer<typeof meltUncertaintyInput>;
export type MeltUncertaintyOutput = z.infer<typeof meltUncertaintyOutput>;

/** Raised when the same input would give another output; it stands beside each result. */
export const meltUncertaintyVersion = 1;

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

function countsBy(names: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return counts;
}

/** Variance of the mean that the shared part of each run contributes: once per run, not per portion. */
function runVariance(determinations: MeltUncertaintyInput['determinations']): number {
  const count = determinations.length;
  const byRun = new Map<string, number>();
  for (const { run, runStandardUncertaintyPerMille: part } of determinations) {
    byRun.set(run, (byRun.get(run) ?? 0) + part / count);
  }
  return sum([...byRun.values()].map((part) => part ** 2));
}

/**
 * Standard uncertainty of the fineness of one melt, from determinations of several of its blanks
 * in one or more runs. It is what the verdict on the melt is taken with.
 *
 * Formula, n determinations of b blanks, nᵢ of blank i, n_r of run r:
 * u² = M·(Σ own² / n² + s_B²·Σ nᵢ² / n²) + Σ_r (n_r·u_r / n)² + (mean of u_m)².
 * Own parts (weighing and repeatability of a portion) fall with the number of determinations. The
 * part of a run u_r (proofs: their weighing and repeatability) is one error for all its portions
 * and enters once per run; the part of the method u_m (fineness of the proof gold, calibration of
 * the spectrometer) is one error for all runs and does not fall at all. s_B is the standard
 * deviation between blanks: s_B² = max(0, s² − mean of own²)·(n − 1)/(n − Σ nᵢ²/n), s the sample
 * standard deviation of the determinations; where every blank is determined once, the independent
 * part becomes s²/n or own²/n, whichever is greater. M is 1 for the mean, and the
 * ratio of `medianVarianceRatio` for a median, 1.193 for that of four. Degrees of freedom after Welch and Satterthwaite: (b − 1)·(u²/between part)², since only
 * the part between blanks is estimated from this melt.
 *
 * @param input two to ten determinations of at least two blanks; fineness and parts in ‰, 0 or more
 * @returns standard uncertainties in ‰, degrees of freedom at least b − 1 or null for infinite,
 *   budget whose shares add to 100 %; nothing rounded
 * @throws RangeError when all determinations come from one blank, which says nothing of the others
 * Validity: errors normal; runs independent of one another but for the part of the method. With
 * few determinations s_B is poorly known, which the degrees of freedom say. Differences
 * between runs raise s as well and are then counted twice, on the safe side.
 * Source: JCGM 100:2008, 5.1.2, 5.2.2 (shared errors), G.4.1; between blanks: expected sum of
 * squares of an unbalanced one-way layout with known variance within, common practice in the
 * homogeneity studies of ISO 33405:2024 (formerly ISO Guide 35)
 * @example meltUncertainty({ statistic: 'mean', determinations: [portion('A', 916.8),
 *   portion('B', 916.8)] }).standardUncertaintyPerMille // with parts 0.1, 0.1, 0.02: 0.1241
 */
export function meltUncertainty(input: MeltUncertaintyInput): MeltUncertaintyOutput {
  const { determinations } = input;
  const count = determinations.length;
  const counts = [...countsBy(determinations.map((one) => one.blank)).values()];
  if (counts.length < 2) {
    throw new RangeError(`${count} determinations of one blank; accepted: of at least two blanks`);
  }
  const squares = sum(counts.map((one) => one ** 2));
  const mean = sum(determinations.map((one) => one.finenessPerMille)) / count;
  const deviations = determinations.map((one) => (one.finenessPerMille - mean) ** 2);
  const spreadVariance = sum(deviations) / (count - 1);
  const ownSquares = sum(determinations.map((one) => one.ownStandardUncertaintyPerMille ** 2));
  const excess = Math.max(0, spreadVariance - ownSquares / count);
  const betweenVariance = (excess * (count - 1)) / (count - squares / count);
  const factor = input.statistic === 'mean' ? 1 : medianVarianceRatio(count);
  const method = sum(determinations.map((one) => one.methodStandardUncertaintyPerMille)) / count;
  const between = (factor * betweenVariance * squares) / count ** 2;
  const parts = [
    { contribution: 'single determinations', variance: (factor * ownSquares) / count ** 2 },
    { contribution: 'between blanks', variance: between },
    { contribution: 'shared by a run', variance: runVariance(determinations) },
    { contribution: 'shared by the method', variance: method ** 2 },
  ];
  const variance = sum(parts.map((part) => part.variance));
  return {
    standardUncertaintyPerMille: Math.sqrt(variance),
    effectiveDegreesOfFreedom:
      between === 0 ? null : (counts.length - 1) * (variance / between) ** 2,
    spreadStandardDeviationPerMille: Math.sqrt(spreadVariance),
    betweenBlanksStandardDeviationPerMille: Math.sqrt(betweenVariance),
    budget: parts.map((part) => ({
      contribution: part.contribution,
      standardUncertaintyPerMille: Math.sqrt(part.variance),
      sharePercent: variance === 0 ? 0 : (100 * part.variance) / variance,
    })),
  };
}
