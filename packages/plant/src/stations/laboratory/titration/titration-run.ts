import {
  criticalRangeFactors,
  type TitrantFactorInput,
  type TitrationByFactorInput,
  type TitrationInput,
  type TitrationOutput,
} from '@cupel/calculation';
import { invariant } from '../../../journal/fault.ts';
import { type Reading, readingMilligrams } from '../../../journal/reading.ts';
import type { Instrument, PieceStandard } from '../../registers/index.ts';
import type { Determination } from '../bodies.ts';
import {
  criticalRangeFactor,
  repeatabilityPerMille,
  weighingStandardUncertaintyMilligrams,
} from '../cupellation-run.ts';
import type { Titrated, TitrationRecorded, UsedTitre } from './bodies.ts';
import type { StandardsOfRun } from './inputs.ts';

/** A standard of pure silver whose end point is confirmed. */
type TitratedStandard = TitrationRecorded['standards'][number];

/** What every portion of a run with its own standards is computed with. */
export type TitrantRun = Omit<TitrationInput, 'samples'>;

/** What every portion of a run is computed with whose factor was determined before. */
type FactorRun = Omit<TitrationByFactorInput, 'samples'>;

/** By what the portions of a run are computed: its own standards, or a titre in their place. */
export type WayOfRun =
  | { readonly by: 'standards'; readonly shared: TitrantRun }
  | { readonly by: 'titre'; readonly shared: FactorRun };

/**
 * Relative repeatability of one titration, in ‰ of what is found: from the limit on duplicates, at
 * the declared fineness. It holds the weighings too, so that these count twice, on the safe side.
 */
function relativeRepeatabilityPerMille(standard: PieceStandard): number {
  const declared = standard.finenessDeclaredPartsPerMillion / 1e6;
  return repeatabilityPerMille(standard) / declared;
}

function blankOf(blank: TitrationRecorded['reagentBlank']) {
  switch (blank.kind) {
    case 'none':
      return { volume: 0, uncertainty: 0 };
    case 'stated':
      return {
        volume: blank.volumeMillilitres,
        uncertainty: blank.standardUncertaintyMillilitres,
      };
    case 'titrated':
      return {
        volume: blank.titrated.volumeMillilitres,
        uncertainty: blank.titrated.standardUncertaintyMillilitres,
      };
  }
}

/**
 * What the portions of a run share. The calculation knows one standard uncertainty of a volume: the
 * greatest of all end points of the run stands for each, on the safe side.
 */
export function titrantRunOf(
  run: {
    readonly command: StandardsOfRun;
    readonly reagentBlank: TitrationRecorded['reagentBlank'];
    readonly standards: readonly TitratedStandard[];
    /** Every end point but that of the blank. */
    readonly endPoints: readonly Titrated[];
  },
  standard: PieceStandard,
  balance: Instrument,
): TitrantRun {
  const blank = blankOf(run.reagentBlank);
  return {
    standards: run.standards.map(({ label, silver, titrated }) => ({
      label,
      minutes: titrated.minutes,
      silverMassMilligrams: readingMilligrams(silver),
      volumeMillilitres: titrated.volumeMillilitres,
    })),
    silverFinenessPerMille: run.command.silverFinenessPerMille,
    silverStandardUncertaintyPerMille: run.command.silverStandardUncertaintyPerMille,
    blankMillilitres: blank.volume,
    blankStandardUncertaintyMillilitres: blank.uncertainty,
    drift: run.command.drift,
    weighingStandardUncertaintyMilligrams: weighingStandardUncertaintyMilligrams(balance),
    volumeStandardUncertaintyMillilitres: widestOf(run.endPoints),
    repeatabilityPerMille: relativeRepeatabilityPerMille(standard),
  };
}

/** The greatest standard uncertainty of all end points, which stands for each. */
const widestOf = (endPoints: readonly Titrated[]): number =>
  Math.max(...endPoints.map((one) => one.standardUncertaintyMillilitres));

/** What the portions of a run share whose factor was determined before. */
export function factorRunOf(
  run: {
    readonly titre: UsedTitre;
    readonly reagentBlank: TitrationRecorded['reagentBlank'];
    /** Every end point but that of the blank. */
    readonly endPoints: readonly Titrated[];
  },
  standard: PieceStandard,
  balance: Instrument,
): FactorRun {
  const blank = blankOf(run.reagentBlank);
  const { titre } = run;
  return {
    factorMilligramsPerMillilitre: titre.factorMilligramsPerMillilitre,
    factorStandardUncertaintyMilligramsPerMillilitre:
      titre.standardUncertaintyMilligramsPerMillilitre,
    factorDegreesOfFreedom: titre.degreesOfFreedom,
    blankMillilitres: blank.volume,
    blankStandardUncertaintyMillilitres: blank.uncertainty,
    weighingStandardUncertaintyMilligrams: weighingStandardUncertaintyMilligrams(balance),
    volumeStandardUncertaintyMillilitres: widestOf(run.endPoints),
    repeatabilityPerMille: relativeRepeatabilityPerMille(standard),
  };
}

/** The calculation for one portion of the run, with its input. */
export function portionCalculation(
  way: WayOfRun,
  portion: { readonly label: string; readonly taken: Reading; readonly titrated: Titrated },
): { readonly id: string; readonly input: TitrationInput | TitrationByFactorInput } {
  const { label, taken, titrated } = portion;
  const { minutes, volumeMillilitres } = titrated;
  const sample = { label, sampleMassMilligrams: readingMilligrams(taken), volumeMillilitres };
  return way.by === 'standards'
    ? { id: 'titration', input: { ...way.shared, samples: [{ ...sample, minutes }] } }
    : { id: 'titration-by-factor', input: { ...way.shared, samples: [sample] } };
}

/** The input of the factor of the titrant, wanted at those times. */
export function factorInput(
  shared: TitrantRun,
  times: readonly number[],
  titrantMolesPerLitre: number | undefined,
): TitrantFactorInput {
  return {
    ...shared,
    times: [...times],
    ...(titrantMolesPerLitre === undefined ? {} : { titrantMolesPerLitre }),
  };
}

/** Parts that all runs share: of the silver that standards are made of, or of a titre. */
const sharedByRuns = ['fineness of the standard silver', 'factor of the titrant'];

const isSharedByRuns = ({ contribution }: { readonly contribution: string }): boolean =>
  sharedByRuns.includes(contribution);

const rootSumOfSquares = (parts: readonly { standardUncertaintyPerMille: number }[]): number =>
  Math.hypot(...parts.map((part) => part.standardUncertaintyPerMille));

/**
 * The parts of the uncertainty of one portion: its own; what standards and blank of this run share
 * with all its portions; what the standard silver shares with all runs.
 */
export function determinationOf(blank: string, output: TitrationOutput): Determination {
  const [found] = output.determinations;
  invariant(found, 'a titration without a determination');
  const method = output.budget.filter(isSharedByRuns);
  invariant(method.length === 1, 'the budget of a titration has no part that all runs share');
  return {
    label: found.label,
    blank,
    finenessPerMille: found.finenessPerMille,
    ownStandardUncertaintyPerMille: rootSumOfSquares(
      output.budget.filter((part) => !part.isShared),
    ),
    runStandardUncertaintyPerMille: rootSumOfSquares(
      output.budget.filter((part) => part.isShared && !isSharedByRuns(part)),
    ),
    methodStandardUncertaintyPerMille: rootSumOfSquares(method),
  };
}

/**
 * How far the factors of the standards may spread in one run, in ‰ of their mean: the critical
 * range that as many titrations of pure silver would keep, limit × f(n) / f(2) over the declared
 * fineness. Source: common practice, that standards repeat as well as samples; f(n) of
 * ISO 5725-6:1994, Table 1.
 */
export function factorSpreadLimitPerMille(standard: PieceStandard, count: number): number {
  const factor = criticalRangeFactor(count) / criticalRangeFactors[2];
  const declared = standard.finenessDeclaredPartsPerMillion / 1e6;
  return (standard.duplicateLimitPerMille * factor) / declared;
}
