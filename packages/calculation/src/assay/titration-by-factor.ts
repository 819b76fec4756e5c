import { defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { meanOf, rootSumOfSquares } from '../quantity/sum.ts';
import { netVolume } from './titrant-core.ts';
import { titrationCautions } from './titrant-factor.ts';
import { titrationScopePerMille } from './titration.ts';
import {
  type TitrationByFactorInput,
  type TitrationByFactorOutput,
  titrationByFactorInput,
  titrationByFactorOutput,
} from './titration-by-factor-schema.ts';
import { budgetOf, ownAndShared, type TitrationPart, total } from './titration-parts.ts';

export {
  type TitrationByFactorInput,
  type TitrationByFactorOutput,
  titrationByFactorInput,
  titrationByFactorOutput,
} from './titration-by-factor-schema.ts';

/** One portion with its net volume: what the sensitivities are made of. */
interface Found {
  readonly label: string;
  readonly mass: number;
  readonly volume: number;
  readonly silver: number;
  readonly fineness: number;
}

function determine(input: TitrationByFactorInput, index: number): Found {
  const one = input.samples[index] as TitrationByFactorInput['samples'][number];
  const field = `samples.${index}.volumeMillilitres`;
  const volume = netVolume(one.volumeMillilitres, input.blankMillilitres, field);
  const silver = input.factorMilligramsPerMillilitre * volume;
  const fineness = (1000 * silver) / one.sampleMassMilligrams;
  requireDomain(fineness <= 1010, {
    field: `samples.${index}`,
    value: `${fineness} ‰`,
    accepted: `a sample of ${silver} mg or more, since so much silver was found in it`,
  });
  return { label: one.label, mass: one.sampleMassMilligrams, volume, silver, fineness };
}

const factorPart = 'factor of the titrant';

/** Parts of the uncertainty of the mean of some portions. */
function partsOf(input: TitrationByFactorInput, found: readonly Found[]): readonly TitrationPart[] {
  const own = (contribution: string, terms: readonly number[]): TitrationPart => ({
    contribution,
    isShared: false,
    uncertainty: rootSumOfSquares(terms) / found.length,
  });
  const shared = (contribution: string, uncertainty: number): TitrationPart => ({
    contribution,
    isShared: true,
    uncertainty: Math.abs(uncertainty),
  });
  const factor =
    input.factorStandardUncertaintyMilligramsPerMillilitre / input.factorMilligramsPerMillilitre;
  return [
    own(
      'weighing of the samples',
      found.map((one) => (one.fineness * input.weighingStandardUncertaintyMilligrams) / one.mass),
    ),
    own(
      'volumes of the samples',
      found.map((one) => (one.fineness * input.volumeStandardUncertaintyMillilitres) / one.volume),
    ),
    own(
      'repeatability of the samples',
      found.map((one) => (one.fineness * input.repeatabilityPerMille) / 1000),
    ),
    shared(factorPart, meanOf(found.map((one) => one.fineness)) * factor),
    shared(
      'blank',
      meanOf(found.map((one) => one.fineness / one.volume)) *
        input.blankStandardUncertaintyMillilitres,
    ),
  ];
}

/** Welch and Satterthwaite, where the factor alone was estimated from few. */
function effectiveDegrees(
  input: TitrationByFactorInput,
  parts: readonly TitrationPart[],
): number | null {
  const factor = total(parts.filter((part) => part.contribution === factorPart));
  if (input.factorDegreesOfFreedom === null || factor === 0) return null;
  return input.factorDegreesOfFreedom * (total(parts) / factor) ** 4;
}

/**
 * Silver by potentiometric titration with a titrant whose factor was determined before: fineness of
 * the portions of one melt, with uncertainty. The factor is one error for all portions, and for all
 * runs that are computed with it, so that it never falls with their number.
 *
 * Formula: w = F·(V − V_b)/m × 1000; u by the law of propagation: weighing, volume and repeatability
 * of a portion are its own; F and the blank are shared. The blank of the run and that in F are taken
 * for independent, which is on the safe side: they would cancel in part.
 *
 * @param input factor in mg/mL with standard uncertainty and degrees of freedom, blank, samples of
 *   one melt with mass in mg and volume in mL
 * @returns fineness in ‰ with own and shared part, mean with budget whose shares add to 100 %
 * @throws DomainError for a volume not above the blank, and when more silver is found than the
 *   sample weighs
 * Validity: the factor holds for this titrant on this day: its age is the plant's to limit; first
 * order propagation. See reference/silver-titration.
 * Source: ISO 11427:2024 and ISO 13756:2024 (equation as remembered); JCGM 100:2008, 5.1.2, 5.2.2
 * and G.4.1
 * @example titrationByFactor(titrationByFactorCalculation.example).meanFinenessPerMille // 925.287
 */
export function titrationByFactor(input: TitrationByFactorInput): TitrationByFactorOutput {
  const found = input.samples.map((_, index) => determine(input, index));
  const parts = partsOf(input, found);
  const combined = total(parts);
  const meanFinenessPerMille = meanOf(found.map((one) => one.fineness));
  const { lowest, highest } = titrationScopePerMille;
  const isInside = meanFinenessPerMille >= lowest && meanFinenessPerMille <= highest;
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const outside = isInside
    ? ''
    : ' The result lies outside 100 ‰ to 999 ‰: above it report by difference.';
  const shared = total(parts.filter((part) => part.isShared));
  return {
    determinations: found.map((one) => {
      const alone = partsOf(input, [one]);
      return {
        label: one.label,
        factorMilligramsPerMillilitre: input.factorMilligramsPerMillilitre,
        silverMilligrams: one.silver,
        finenessPerMille: one.fineness,
        ...ownAndShared(alone),
      };
    }),
    meanFinenessPerMille,
    standardUncertaintyPerMille: combined,
    effectiveDegreesOfFreedom: effectiveDegrees(input, parts),
    budget: budgetOf(parts),
    scope: isInside ? 'inside' : 'outside',
    words: `Silver ${print(meanFinenessPerMille, 2)} ‰ with standard uncertainty ${print(combined, 3)} ‰ from ${found.length} determination(s); ${print(shared, 3)} ‰ of it is shared, the factor in all runs by it.${outside}`,
  };
}

export const titrationByFactorCalculation = defineCalculation<
  TitrationByFactorInput,
  TitrationByFactorOutput
>({
  id: 'titration-by-factor',
  version: 1,
  topic: 'assay',
  title: 'Silver by titration, factor determined before',
  purpose:
    'Finds the silver fineness of the portions of one melt from sample masses and titrant volumes by a factor that was determined before, with own and shared uncertainty apart.',
  source:
    'ISO 11427:2024 and ISO 13756:2024 (equation as remembered); JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1',
  cautions: titrationCautions,
  input: titrationByFactorInput,
  output: titrationByFactorOutput,
  // Chosen figures after the equation of ISO 11427: 10.79242 mg/mL × 27.905 mL / 325.48 mg.
  example: {
    factorMilligramsPerMillilitre: 10.79242,
    factorStandardUncertaintyMilligramsPerMillilitre: 0.0011,
    factorDegreesOfFreedom: null,
    blankMillilitres: 0,
    blankStandardUncertaintyMillilitres: 0.002,
    weighingStandardUncertaintyMilligrams: 0.01,
    volumeStandardUncertaintyMillilitres: 0.002,
    repeatabilityPerMille: 0.1,
    samples: [{ label: 'A', sampleMassMilligrams: 325.48, volumeMillilitres: 27.905 }],
  },
  compute: titrationByFactor,
});
