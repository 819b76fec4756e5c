import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum, meanOf, rootSumOfSquares } from '../quantity/sum.ts';
import { factorAt, netVolume, type Titrant, titrantOf } from './titrant-core.ts';
import { titrationCautions } from './titrant-factor.ts';
import { budgetOf, ownAndShared, type TitrationPart, total } from './titration-parts.ts';
import {
  type TitrationInput,
  type TitrationOutput,
  titrationInput,
  titrationOutput,
} from './titration-schema.ts';

export {
  type TitrationInput,
  type TitrationOutput,
  titrationInput,
  titrationOutput,
} from './titration-schema.ts';

/** Fineness of silver between which titration is preferred, in per mille: ISO 11427:2024, scope. */
export const titrationScopePerMille = { lowest: 100, highest: 999 } as const;

/** One determination with its sensitivities: fineness per unit of each cause. */
interface Determination {
  readonly label: string;
  readonly factor: number;
  readonly silver: number;
  readonly fineness: number;
  readonly byMass: number;
  readonly byVolume: number;
  readonly byBlank: number;
  /** Change per relative change of the factor of each standard. */
  readonly byStandard: readonly number[];
}

function determine(input: TitrationInput, titrant: Titrant, index: number): Determination {
  const one = input.samples[index] as TitrationInput['samples'][number];
  const shares = titrant.sharesAt(one.minutes, `samples.${index}.minutes`);
  const factor = factorAt(titrant, shares);
  const field = `samples.${index}.volumeMillilitres`;
  const volume = netVolume(one.volumeMillilitres, input.blankMillilitres, field);
  const silver = factor * volume;
  const fineness = (1000 * silver) / one.sampleMassMilligrams;
  requireDomain(fineness <= 1010, {
    field: `samples.${index}`,
    value: `${fineness} ‰`,
    accepted: `a sample of ${silver} mg or more, since so much silver was found in it`,
  });
  const byStandard = shares.map(
    (share, j) => (fineness * share * (titrant.factors[j] ?? 0)) / factor,
  );
  // A larger blank lowers the sample's volume and raises each factor.
  const raised = byStandard.map((part, j) => part * (titrant.blankSensitivities[j] ?? 0));
  return {
    label: one.label,
    factor,
    silver,
    fineness,
    byMass: -fineness / one.sampleMassMilligrams,
    byVolume: fineness / volume,
    byBlank: compensatedSum(raised) - fineness / volume,
    byStandard,
  };
}

interface Part extends TitrationPart {
  readonly isEstimated: boolean;
}

/** Parts of the uncertainty of the mean of some determinations of one run. */
function partsOf(
  input: TitrationInput,
  titrant: Titrant,
  determinations: readonly Determination[],
): readonly Part[] {
  const count = determinations.length;
  const isEstimated = titrant.degreesOfFreedom !== null;
  // An estimated repeatability holds weighing and volume already.
  const weighing = isEstimated ? 0 : input.weighingStandardUncertaintyMilligrams;
  const reading = isEstimated ? 0 : input.volumeStandardUncertaintyMillilitres;
  const own = (contribution: string, terms: readonly number[], estimated = false): Part => ({
    contribution,
    isShared: false,
    uncertainty: rootSumOfSquares(terms) / count,
    isEstimated: estimated,
  });
  const shared = (contribution: string, uncertainty: number, estimated = false): Part => ({
    contribution,
    isShared: true,
    uncertainty: Math.abs(uncertainty),
    isEstimated: estimated,
  });
  const byStandard = titrant.factors.map((_, j) =>
    meanOf(determinations.map((one) => one.byStandard[j] ?? 0)),
  );
  const silver = input.silverStandardUncertaintyPerMille / input.silverFinenessPerMille;
  return [
    own(
      'weighing of the samples',
      determinations.map((one) => one.byMass * weighing),
    ),
    own(
      'volumes of the samples',
      determinations.map((one) => one.byVolume * reading),
    ),
    own(
      'repeatability of the samples',
      determinations.map((one) => one.fineness * titrant.repeatability),
      isEstimated,
    ),
    shared(
      'weighing and volumes of the standards',
      rootSumOfSquares(byStandard.map((part, j) => part * (titrant.measuring[j] ?? 0))),
    ),
    shared(
      'repeatability of the standards',
      rootSumOfSquares(byStandard.map((part) => part * titrant.repeatability)),
      isEstimated,
    ),
    shared(
      'fineness of the standard silver',
      meanOf(determinations.map((one) => one.fineness)) * silver,
    ),
    shared(
      'blank',
      meanOf(determinations.map((one) => one.byBlank)) * input.blankStandardUncertaintyMillilitres,
    ),
  ];
}

/** Welch and Satterthwaite; both repeatability parts rest on one and the same spread. */
function effectiveDegrees(titrant: Titrant, parts: readonly Part[]): number | null {
  const estimated = total(parts.filter((part) => part.isEstimated));
  if (titrant.degreesOfFreedom === null || estimated === 0) return null;
  return titrant.degreesOfFreedom * (total(parts) / estimated) ** 4;
}

/**
 * Silver by potentiometric titration: fineness of the portions of one melt, each with the factor of
 * the titrant at its own time, with uncertainty.
 *
 * Formula: w = F(t)·(V − V_b)/m × 1000, F(t) as `titrantFactor`. Uncertainty by the law of
 * propagation: weighing, volume and repeatability of a portion are its own and fall with the number
 * of portions; the standards behind F, the fineness of their silver and the blank are one error for
 * all and do not. A blank that is too large lowers the volume of the sample and raises the factor:
 * the two cancel as far as the volumes are alike.
 *
 * @param input standards of the run, samples of one melt; times within the standards for bracketing
 * @returns fineness in ‰ with own and shared part, mean with budget whose shares add to 100 %
 * @throws DomainError as `titrantFactor`, and when more silver is found than the sample weighs
 * Validity: no palladium or mercury (they are titrated with silver) and no more chloride or bromide than the
 * blank holds; first order propagation, held against simulation in laws/titration.test.ts. See
 * reference/silver-titration.
 * Source: ISO 11427:2024 and ISO 13756:2024, scope and factor (equation as remembered); JCGM
 * 100:2008, 5.1.2, 5.2.2 and G.4.1
 * @example titration(titrationCalculation.example).meanFinenessPerMille // 925.287
 */
export function titration(input: TitrationInput): TitrationOutput {
  const titrant = titrantOf(input);
  const found = input.samples.map((_, index) => determine(input, titrant, index));
  const parts = partsOf(input, titrant, found);
  const combined = total(parts);
  const meanFineness = meanOf(found.map((one) => one.fineness));
  const { lowest, highest } = titrationScopePerMille;
  const output = {
    determinations: found.map((one) => {
      const alone = partsOf(input, titrant, [one]);
      return {
        label: one.label,
        factorMilligramsPerMillilitre: one.factor,
        silverMilligrams: one.silver,
        finenessPerMille: one.fineness,
        ...ownAndShared(alone),
      };
    }),
    meanFinenessPerMille: meanFineness,
    standardUncertaintyPerMille: combined,
    effectiveDegreesOfFreedom: effectiveDegrees(titrant, parts),
    budget: budgetOf(parts),
    scope:
      meanFineness >= lowest && meanFineness <= highest
        ? ('inside' as const)
        : ('outside' as const),
  };
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const outside =
    output.scope === 'inside'
      ? ''
      : ' The result lies outside 100 ‰ to 999 ‰: above it report by difference.';
  const shared = total(parts.filter((part) => part.isShared));
  const words = `Silver ${print(meanFineness, 2)} ‰ with standard uncertainty ${print(combined, 3)} ‰ from ${found.length} determination(s); ${print(shared, 3)} ‰ of it is shared by the run and does not fall with more of them.${outside}`;
  return { ...output, words };
}

function drawBudget(_input: TitrationInput, output: TitrationOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Shares of the variance of the mean',
      xTitle: 'Contribution',
      yTitle: 'Share, %',
      series: [
        {
          label: 'share',
          kind: 'bars',
          x: output.budget.map((_, i) => i + 1),
          y: output.budget.map((line) => line.sharePercent),
        },
      ],
      xNames: output.budget.map((line, i) => ({ x: i + 1, name: line.contribution })),
    },
  ];
}

export const titrationCalculation = defineCalculation<TitrationInput, TitrationOutput>({
  id: 'titration',
  version: 1,
  topic: 'assay',
  title: 'Silver by titration',
  purpose:
    'Finds the silver fineness of the portions of one melt from sample masses and titrant volumes, each with the factor at its time, with own and shared uncertainty apart.',
  source:
    'ISO 11427:2024 and ISO 13756:2024, scope and factor (equation as remembered); JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1',
  cautions: titrationCautions,
  input: titrationInput,
  output: titrationOutput,
  // Chosen figures after the equation of ISO 11427, see reference/silver-titration: 925.287 ‰.
  example: {
    standards: [
      { label: 'S1', minutes: 0, silverMassMilligrams: 301.25, volumeMillilitres: 27.912 },
      { label: 'S2', minutes: 90, silverMassMilligrams: 300.87, volumeMillilitres: 27.879 },
    ],
    silverFinenessPerMille: 1000,
    silverStandardUncertaintyPerMille: 0.02,
    blankMillilitres: 0,
    blankStandardUncertaintyMillilitres: 0.002,
    drift: 'bracketing',
    weighingStandardUncertaintyMilligrams: 0.01,
    volumeStandardUncertaintyMillilitres: 0.002,
    repeatabilityPerMille: 0.1,
    samples: [{ label: 'A', minutes: 45, sampleMassMilligrams: 325.48, volumeMillilitres: 27.905 }],
  },
  compute: titration,
  draw: drawBudget,
});
