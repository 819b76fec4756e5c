import {
  criticalRangeFactors,
  type TitrantFactorInput,
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
import type { Titrated, TitrationRecorded } from './bodies.ts';
import type { TitrationCommand } from './inputs.ts';

/** A standard of pure silver whose end point is confirmed. */
type TitratedStandard = TitrationRecorded['standards'][number];

/** What every portion of a run is computed with. */
export type TitrantRun = Omit<TitrationInput, 'samples'>;

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
    readonly command: Pick<
      TitrationCommand,
      'drift' | 'silverFinenessPerMille' | 'silverStandardUncertaintyPerMille'
    >;
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
    volumeStandardUncertaintyMillilitres: Math.max(
      ...run.endPoints.map((one) => one.standardUncertaintyMillilitres),
    ),
    repeatabilityPerMille: relativeRepeatabilityPerMille(standard),
  };
}

/** The input of the calculation for one portion of the run. */
export function portionInput(
  shared: TitrantRun,
  portion: { readonly label: string; readonly taken: Reading; readonly titrated: Titrated },
): TitrationInput {
  const { label, taken, titrated } = portion;
  return {
    ...shared,
    samples: [
      {
        label,
        minutes: titrated.minutes,
        sampleMassMilligrams: readingMilligrams(taken),
        volumeMillilitres: titrated.volumeMillilitres,
      },
    ],
  };
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

const standardSilver = 'fineness of the standard silver';

const rootSumOfSquares = (parts: readonly { standardUncertaintyPerMille: number }[]): number =>
  Math.hypot(...parts.map((part) => part.standardUncertaintyPerMille));

/**
 * The parts of the uncertainty of one portion: its own; what standards and blank of this run share
 * with all its portions; what the standard silver shares with all runs.
 */
export function determinationOf(blank: string, output: TitrationOutput): Determination {
  const [found] = output.determinations;
  invariant(found, 'a titration without a determination');
  const method = output.budget.filter((part) => part.contribution === standardSilver);
  invariant(method.length === 1, 'the budget of a titration has no part for the standard silver');
  return {
    label: found.label,
    blank,
    finenessPerMille: found.finenessPerMille,
    ownStandardUncertaintyPerMille: rootSumOfSquares(
      output.budget.filter((part) => !part.isShared),
    ),
    runStandardUncertaintyPerMille: rootSumOfSquares(
      output.budget.filter((part) => part.isShared && part.contribution !== standardSilver),
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
