import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfNumber,
  largestDecimal,
  numberOfDecimal,
  smallestDecimal,
  subtractDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  type CupellationInput,
  type CupellationOutput,
  cupellationInputSchema,
  cupellationOutputSchema,
} from './cupellation-schema.ts';
import {
  combinedStandardUncertainty,
  effectiveDegreesOfFreedom,
  type ProofSummary,
  summariseProofs,
  uncertaintyParts,
} from './cupellation-uncertainty.ts';

export {
  type CupellationInput,
  type CupellationOutput,
  cupellationInputSchema,
  cupellationOutputSchema,
} from './cupellation-schema.ts';

/** Fineness between which ISO 11426:2021 prefers cupellation, in per mille. */
export const cupellationScopePerMille = { lowest: 100, highest: 999.5 } as const;

/** A cornet may outweigh its sample by this factor; beyond it the two readings were exchanged. */
const largestCornetOverSample = 1.01;

/** Largest less smallest loss of the proofs, exact in the decimals that were read. */
function proofSpread(proofs: CupellationInput['proofs']): Decimal {
  const [first, ...rest] = proofs.map((one) =>
    subtractDecimals(
      decimalOfNumber(one.goldTakenMilligrams, 'goldTakenMilligrams'),
      decimalOfNumber(one.cornetMassMilligrams, 'cornetMassMilligrams'),
    ),
  );
  requireDomain(first !== undefined, {
    field: 'proofs',
    value: 'none',
    accepted: 'at least two proofs',
  });
  return subtractDecimals(largestDecimal([first, ...rest]), smallestDecimal([first, ...rest]));
}

function finenessOf(
  input: CupellationInput,
  summary: ProofSummary,
  sample: CupellationInput['samples'][number],
  index: number,
): number {
  const { sampleMassMilligrams: m1, cornetMassMilligrams: m2 } = sample;
  requireDomain(m2 <= largestCornetOverSample * m1, {
    field: `samples.${index}.cornetMassMilligrams`,
    value: m2,
    accepted: `a cornet mass not above the sample mass ${m1} mg by more than 1 %`,
  });
  const fineness =
    input.correction === 'absolute'
      ? ((m2 + summary.proofCorrectionMilligrams) / m1) * 1000
      : (m2 / (summary.recoveryRatio * m1)) * 1000;
  requireDomain(fineness >= 0, {
    field: `samples.${index}.cornetMassMilligrams`,
    value: m2,
    accepted: `a cornet mass that stays above 0 mg after the proof correction ${summary.proofCorrectionMilligrams} mg`,
  });
  return fineness;
}

function cupellationWords(input: CupellationInput, output: Omit<CupellationOutput, 'words'>) {
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const result = `Gold ${print(output.meanFinenessPerMille, 2)} ‰ with standard uncertainty ${print(output.standardUncertaintyPerMille, 3)} ‰ from ${input.samples.length} determination(s), ${input.correction} proof correction ${print(output.proofCorrectionMilligrams, 4)} mg.`;
  const spread = print(output.proofSpreadMilligrams, 4);
  const proofs = {
    none: `The proofs spread over ${spread} mg; no limit was given.`,
    true: `The proofs spread over ${spread} mg, within their limit.`,
    false: `The proofs spread over ${spread} mg, beyond their limit: the run is to be repeated.`,
  }[String(output.proofsWithinLimit ?? 'none')];
  const scope =
    output.scope === 'inside'
      ? ''
      : ' The result lies outside 100 ‰ to 999.5 ‰: report by another method, above it by difference.';
  const purity =
    input.proofGoldStandardUncertaintyPerMille === undefined
      ? ' The proof gold is taken as known without uncertainty.'
      : '';
  return `${result} ${proofs}${scope}${purity}`;
}

/**
 * Gold by cupellation: fineness of the portions of one melt from their cornets, corrected by the
 * proofs that ran beside them, with uncertainty.
 *
 * Formula: absolute, W = (m2 + D)/m1 × 1000, m1 sample, m2 cornet, D the mean over the proofs of
 * gold taken less cornet. Proportional, W = m2/(R·m1) × 1000, R the mean over the proofs of cornet
 * over gold taken. Uncertainty by the law of propagation from every weighing, the repeatability of
 * one cupellation (as a spread of the cornet mass, for proofs and samples alike) and the fineness
 * of the proof gold. D or R is one value for the whole run: its uncertainty is added once to the
 * mean, and only the parts of the samples themselves fall with their number. Surcharge:
 * −D over the mean sample mass × 1000.
 *
 * @param input masses from 0.001 to 100 000 mg, two to 100 proofs, one to 100 samples, labels unique;
 *   standard uncertainties from 0 to 1000 mg or ‰. Repeatability is that of cupellation and parting; one
 *   that includes weighing overstates a little. Absent, it is the standard deviation of the losses
 *   of the proofs, which also holds their weighing
 * @returns correction in mg, fineness and standard uncertainty in ‰, budget of the mean with shares
 *   that add to 100 %, effective degrees of freedom (null for infinite); nothing rounded but words
 * @throws DomainError when a cornet outweighs its sample by more than 1 %, or the correction
 *   carries a fineness below 0 ‰
 * Validity: proofs of like composition and gold content, samples of one melt, less than 0.25 ‰ of
 * iridium, rhodium and ruthenium together. Weighings independent of one another. First order
 * propagation; laws/cupellation.test.ts holds it against simulation. See reference/iso-11426.
 * Source: ISO 11426:2021, scope; ISO 11426:2014, 7.2 (proofs) and 8.1 (equation, from memory);
 * proportional correction: common practice; uncertainty JCGM 100:2008, 5.1.2 and G.4.1
 * @example cupellation({ correction: 'absolute', weighingStandardUncertaintyMilligrams: 0.01,
 *   proofs: [{ label: 'P1', goldTakenMilligrams: 229.2, cornetMassMilligrams: 229.32 },
 *     { label: 'P2', goldTakenMilligrams: 229.35, cornetMassMilligrams: 229.46 }],
 *   samples: [{ label: 'A', sampleMassMilligrams: 250.12, cornetMassMilligrams: 229.45 }],
 * }).meanFinenessPerMille // 916.8999
 */
export function cupellation(input: CupellationInput): CupellationOutput {
  const summary = summariseProofs(input.proofs);
  const determinations = input.samples.map((sample, index) => ({
    label: sample.label,
    uncorrectedPerMille: (sample.cornetMassMilligrams / sample.sampleMassMilligrams) * 1000,
    finenessPerMille: finenessOf(input, summary, sample, index),
    standardUncertaintyPerMille: combinedStandardUncertainty(
      uncertaintyParts(input, summary, [sample]),
    ),
  }));
  const parts = uncertaintyParts(input, summary, input.samples);
  const combined = combinedStandardUncertainty(parts);
  const meanFinenessPerMille =
    compensatedSum(determinations.map((one) => one.finenessPerMille)) / determinations.length;
  const meanSampleMass =
    compensatedSum(input.samples.map((one) => one.sampleMassMilligrams)) / input.samples.length;
  const spread = proofSpread(input.proofs);
  const limit = input.proofSpreadLimitMilligrams;
  const { lowest, highest } = cupellationScopePerMille;
  const isInside = meanFinenessPerMille >= lowest && meanFinenessPerMille <= highest;
  const output = {
    proofCorrectionMilligrams: summary.proofCorrectionMilligrams,
    recoveryRatio: summary.recoveryRatio,
    surchargePerMille: (-summary.proofCorrectionMilligrams / meanSampleMass) * 1000,
    proofSpreadMilligrams: numberOfDecimal(spread),
    determinations,
    meanFinenessPerMille,
    standardUncertaintyPerMille: combined,
    effectiveDegreesOfFreedom: effectiveDegreesOfFreedom(parts),
    budget: parts.map(({ contribution, isShared, standardUncertaintyPerMille }) => ({
      contribution,
      isShared,
      standardUncertaintyPerMille,
      sharePercent: combined === 0 ? 0 : 100 * (standardUncertaintyPerMille / combined) ** 2,
    })),
    proofsWithinLimit:
      limit === undefined ? null : compareDecimals(spread, decimalOfNumber(limit)) <= 0,
    scope: isInside ? ('inside' as const) : ('outside' as const),
  };
  return { ...output, words: cupellationWords(input, output) };
}

function drawBudget(_input: CupellationInput, output: CupellationOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Shares of the variance of the mean',
      xTitle: 'Contribution',
      yTitle: 'Share, %',
      series: output.budget.map((line, index) => ({
        label: line.contribution,
        kind: 'bars',
        x: [index + 1],
        y: [line.sharePercent],
      })),
    },
  ];
}

export const cupellationCalculation = defineCalculation<CupellationInput, CupellationOutput>({
  id: 'cupellation',
  version: 1,
  topic: 'assay',
  title: 'Gold by cupellation',
  purpose:
    'Finds the gold fineness of the portions of one melt from sample and cornet masses, corrected by the proofs of the run, with its uncertainty and budget.',
  source:
    'ISO 11426:2021, scope; ISO 11426:2014, 7.2 and 8.1 (equation as remembered); proportional correction: common practice; JCGM 100:2008, 5.1.2 and G.4.1',
  cautions: [
    "Hot furnace (above 1000 °C) and molten lead: burns and splashes. The site's rules, local law and licensed practice come first; wear face and hand protection.",
    'Lead and its fume are poisonous: extraction must run, no food at the bench, hands and clothes washed.',
    'Parting acid is nitric acid and gives off nitrogen oxides, whose harm can show hours later: work in a fume cupboard.',
  ],
  input: cupellationInputSchema,
  output: cupellationOutputSchema,
  // Equation of ISO 11426 on chosen masses, see reference/iso-11426: D = −0.1150 mg, 916.900 ‰.
  example: {
    correction: 'absolute',
    proofs: [
      { label: 'P1', goldTakenMilligrams: 229.2, cornetMassMilligrams: 229.32 },
      { label: 'P2', goldTakenMilligrams: 229.35, cornetMassMilligrams: 229.46 },
    ],
    samples: [{ label: 'A', sampleMassMilligrams: 250.12, cornetMassMilligrams: 229.45 }],
    weighingStandardUncertaintyMilligrams: 0.01,
    proofGoldStandardUncertaintyPerMille: 0.02,
    repeatabilityStandardDeviationPerMille: 0.15,
    proofSpreadLimitMilligrams: 0.1,
  },
  compute: cupellation,
  draw: drawBudget,
});
