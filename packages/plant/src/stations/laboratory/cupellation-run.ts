import {
  type CupellationInput,
  type CupellationOutput,
  criticalRangeFactors,
  cupellation,
  rangeQuantile,
} from '@cupel/calculation';
import { invariant } from '../../journal/fault.ts';
import { type Reading, readingMilligrams } from '../../journal/reading.ts';
import type { Instrument, PieceStandard } from '../registers/index.ts';
import type { Determination } from './bodies.ts';

/** The readings of a cupellation run as they stand on the worksheet. */
export interface CupellationWorksheet {
  readonly correction: 'absolute' | 'proportional';
  readonly proofs: readonly {
    readonly label: string;
    readonly goldTaken: Reading;
    readonly cornet: Reading;
  }[];
  readonly samples: readonly {
    readonly label: string;
    readonly blank: string;
    readonly sample: Reading;
    readonly cornet: Reading;
  }[];
  readonly proofGoldStandardUncertaintyPerMille?: number | undefined;
}

/** Probability that repeatable results stay within a critical range: ISO 5725-6:1994. */
const criticalRangeProbability = 0.95;

/** f(n) of ISO 5725-6:1994, Table 1, as printed to four results, above by its definition. */
export function criticalRangeFactor(count: number): number {
  const printed = (criticalRangeFactors as Readonly<Record<number, number>>)[count];
  return printed ?? rangeQuantile(criticalRangeProbability, count);
}

/**
 * Repeatability standard deviation of one determination, from the limit on duplicates: limit / 2.8.
 * Source: ISO 5725-6:1994, 5.2.2 (r = 2.8 σ).
 */
export function repeatabilityPerMille(standard: PieceStandard): number {
  return standard.duplicateLimitPerMille / criticalRangeFactors[2];
}

/**
 * How far the losses of the proofs may spread in one run, in mg: the critical range that as many
 * determinations of the mean mass of proof gold would keep, limit × f(n) / f(2) × mass / 1000.
 * Source: common practice, that proofs repeat as well as samples; f(n) of ISO 5725-6:1994, Table 1.
 */
export function proofSpreadLimitMilligrams(
  standard: PieceStandard,
  goldTakenMilligrams: readonly number[],
): number {
  const count = goldTakenMilligrams.length;
  const mean = goldTakenMilligrams.reduce((total, one) => total + one, 0) / count;
  const factor = criticalRangeFactor(count) / criticalRangeFactors[2];
  return (standard.duplicateLimitPerMille * factor * mean) / 1000;
}

/**
 * Standard uncertainty of one weighing, in mg: repeatability and the rounding to the division,
 * d/√12, of a balance. Source: JCGM 100:2008, 4.3.7 and 5.1.2.
 */
export function weighingStandardUncertaintyMilligrams(balance: Instrument): number {
  const repeatability = balance.repeatabilityGrams ?? 0;
  const rounding = (balance.divisionGrams ?? 0) / Math.sqrt(12);
  return 1000 * Math.hypot(repeatability, rounding);
}

/** The input of the calculation, from readings, piece standard and balance. */
export function cupellationInputOf(
  worksheet: CupellationWorksheet,
  standard: PieceStandard,
  balance: Instrument,
): CupellationInput {
  const proofs = worksheet.proofs.map((proof) => ({
    label: proof.label,
    goldTakenMilligrams: readingMilligrams(proof.goldTaken),
    cornetMassMilligrams: readingMilligrams(proof.cornet),
  }));
  const samples = worksheet.samples.map((sample) => ({
    label: sample.label,
    sampleMassMilligrams: readingMilligrams(sample.sample),
    cornetMassMilligrams: readingMilligrams(sample.cornet),
  }));
  const purity = worksheet.proofGoldStandardUncertaintyPerMille;
  return {
    correction: worksheet.correction,
    proofs,
    samples,
    weighingStandardUncertaintyMilligrams: weighingStandardUncertaintyMilligrams(balance),
    ...(purity === undefined ? {} : { proofGoldStandardUncertaintyPerMille: purity }),
    repeatabilityStandardDeviationPerMille: repeatabilityPerMille(standard),
    proofSpreadLimitMilligrams: proofSpreadLimitMilligrams(
      standard,
      proofs.map((proof) => proof.goldTakenMilligrams),
    ),
  };
}

const proofGold = 'fineness of the proof gold';

const rootSumOfSquares = (parts: readonly { standardUncertaintyPerMille: number }[]): number =>
  Math.hypot(...parts.map((part) => part.standardUncertaintyPerMille));

/**
 * The parts of the uncertainty of one determination of a run, from the calculation of that one
 * portion with all the proofs: its own weighings and repeatability; what the proofs of this run
 * share with all its portions; what the proof gold shares with all runs.
 */
export function determinationsOfRun(
  input: CupellationInput,
  output: CupellationOutput,
  blanks: readonly string[],
): readonly Determination[] {
  return input.samples.map((sample, index) => {
    const { budget } = cupellation({ ...input, samples: [sample] });
    const own = budget.filter((part) => !part.isShared);
    const method = budget.filter((part) => part.contribution === proofGold);
    const run = budget.filter((part) => part.isShared && part.contribution !== proofGold);
    const found = output.determinations[index];
    const blank = blanks[index];
    invariant(found && blank !== undefined, `portion ${sample.label} has no determination`);
    invariant(method.length === 1, 'the budget of a cupellation has no part for the proof gold');
    return {
      label: sample.label,
      blank,
      finenessPerMille: found.finenessPerMille,
      ownStandardUncertaintyPerMille: rootSumOfSquares(own),
      runStandardUncertaintyPerMille: rootSumOfSquares(run),
      methodStandardUncertaintyPerMille: rootSumOfSquares(method),
    };
  });
}
