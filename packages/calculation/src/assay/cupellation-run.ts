import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { meanOf } from '../quantity/sum.ts';
import { cupellationCalculation, cupellationScopePerMille } from './cupellation.ts';
import {
  type Determination,
  determine,
  lossOf,
  partsOf,
  repeatabilityOf,
} from './cupellation-run-parts.ts';
import {
  type CupellationRunInput,
  type CupellationRunOutput,
  cupellationRunInput,
  cupellationRunOutput,
} from './cupellation-run-schema.ts';
import { gradientOf } from './muffle-position.ts';

export {
  type CupellationRunInput,
  type CupellationRunOutput,
  cupellationRunInput,
  cupellationRunOutput,
} from './cupellation-run-schema.ts';

/** Duplicate limits of ISO 11426:1997/2014, clause 8.2, from memory; in per mille of range. */
const rememberedDuplicateLimits = {
  'yellow or red': 0.5,
  white: 1,
  '990 ‰ and above': 0.2,
} as const;

function gradientFound(input: CupellationRunInput, scatterMilligrams: number) {
  const gradient = gradientOf(input.proofs, input.proofs.map(lossOf));
  if (gradient === null) return null;
  const row = scatterMilligrams * Math.sqrt(gradient.rowVariance);
  const column = scatterMilligrams * Math.sqrt(gradient.columnVariance);
  return {
    perRowMilligrams: gradient.perRow,
    perRowStandardUncertaintyMilligrams: row,
    perColumnMilligrams: gradient.perColumn,
    perColumnStandardUncertaintyMilligrams: column,
    isClear: Math.abs(gradient.perRow) > 2 * row || Math.abs(gradient.perColumn) > 2 * column,
  };
}

/** Results of the melts of a run, in the order in which they first appear. */
function meltsOf(
  input: CupellationRunInput,
  repeatability: ReturnType<typeof repeatabilityOf>,
  found: readonly Determination[],
  limit: number,
): CupellationRunOutput['melts'] {
  const lowest = input.scope?.lowestPerMille ?? cupellationScopePerMille.lowest;
  const highest = input.scope?.highestPerMille ?? cupellationScopePerMille.highest;
  return [...new Set(input.samples.map((one) => one.melt))].map((melt) => {
    const some = found.filter((one) => one.sample.melt === melt);
    const results = some.map((one) => one.fineness);
    const parts = partsOf(input, repeatability, some);
    const meanFinenessPerMille = meanOf(results);
    const range = results.length < 2 ? null : Math.max(...results) - Math.min(...results);
    const isInside = meanFinenessPerMille >= lowest && meanFinenessPerMille <= highest;
    return {
      melt,
      determinations: results.length,
      meanFinenessPerMille,
      standardUncertaintyPerMille: Math.hypot(parts.own, parts.run, parts.method),
      rangePerMille: range,
      // Differences of decimals carry rounding of the last bit, which must not turn a limit.
      duplicatesAgree: range === null ? null : range <= limit + 1e-9,
      scope: isInside ? ('inside' as const) : ('outside' as const),
    };
  });
}

function runWords(input: CupellationRunInput, output: Omit<CupellationRunOutput, 'words'>): string {
  const print = (value: number, places = 2) => roundNumberText(value, places, 'half-even');
  const melts = output.melts
    .map((one) => {
      const agree =
        one.duplicatesAgree === false
          ? ` (range ${print(one.rangePerMille ?? 0)} ‰ beyond ${output.duplicateLimitPerMille} ‰: repeat)`
          : '';
      const scope = one.scope === 'inside' ? '' : ' (outside the scope: report by another method)';
      return `${one.melt} ${print(one.meanFinenessPerMille)} ‰, u ${print(one.standardUncertaintyPerMille, 3)} ‰${agree}${scope}`;
    })
    .join('; ');
  const basis =
    output.duplicateLimitBasis === 'remembered, to be confirmed'
      ? ' The duplicate limit is from memory and is to be confirmed against the purchased standard.'
      : '';
  const gradient = output.gradient?.isClear
    ? ` The proofs show a gradient over the muffle${input.interpolation === 'mean' ? ', which one mean correction does not follow' : ''}.`
    : '';
  return `${melts}.${gradient}${basis}`;
}

/**
 * Gold of several melts in one cupellation run, each sample corrected by the proofs for its own
 * place in the muffle, with uncertainty, surcharge, duplicate limits and scope of the method version.
 *
 * Formula: the correction at a place is Σ s_j·D_j (loss) or Σ s_j·R_j (recovery) over the proofs, with
 * shares s_j that add to 1 and depend on places alone: 1/n; 1/distance² over its sum, rows and
 * columns one apart; or those of the least-squares plane. Fineness (m2 + D)/m1 × 1000 or
 * m2/(R·m1) × 1000. Uncertainty by the law of propagation: a sample's own weighings and
 * repeatability; the proofs' (part of the run), each in its share, so that a place far from the
 * proofs is less sure under 'plane'; the proof gold (part of the method). Surcharge: uncorrected
 * less corrected fineness.
 *
 * @param input two proofs or more (three off one line for a plane, four where the repeatability is
 *   not stated), one sample or more, every place held once
 * @returns determinations with the three parts, melts with range and agreement; nothing rounded
 * @throws DomainError for proofs on one line under 'plane', a plane without spread, or a cornet
 *   that outweighs its sample by more than 1 %
 * Validity: with 'mean' and one melt the result is that of `cupellation`. The correction changes
 * smoothly over the muffle; what it does between proofs beyond that is not in the uncertainty.
 * Source: ISO 11426:2021, scope; ISO 11426:2014, 7.2 (proofs beside samples) and 8 (equation and
 * duplicate limits from memory); interpolation over the muffle: common practice; D. Shepard (1968),
 * Proceedings of the 23rd ACM National Conference, 517 (inverse distance); JCGM 100:2008, 5.1.2
 * @example cupellationRun(cupellationRunCalculation.example).melts[0].meanFinenessPerMille // 916.84555
 */
export function cupellationRun(input: CupellationRunInput): CupellationRunOutput {
  const repeatability = repeatabilityOf(input);
  const found = input.samples.map((sample, index) => determine(input, sample, index));
  const losses = input.proofs.map(lossOf);
  const stated = input.duplicateLimitPerMille;
  const limit = stated ?? rememberedDuplicateLimits[input.alloy];
  const output = {
    proofCorrectionMilligrams: meanOf(losses),
    recoveryRatio: meanOf(
      input.proofs.map((one) => one.cornetMassMilligrams / one.goldTakenMilligrams),
    ),
    proofSpreadMilligrams: Math.max(...losses) - Math.min(...losses),
    gradient: gradientFound(input, repeatability.proof),
    determinations: found.map((one) => {
      const { own, run, method } = partsOf(input, repeatability, [one]);
      const { label, melt, cornetMassMilligrams, sampleMassMilligrams } = one.sample;
      const uncorrectedPerMille = (1000 * cornetMassMilligrams) / sampleMassMilligrams;
      return {
        label,
        melt,
        uncorrectedPerMille,
        correctionMilligrams: one.correction,
        surchargePerMille: uncorrectedPerMille - one.fineness,
        finenessPerMille: one.fineness,
        ownStandardUncertaintyPerMille: own,
        runStandardUncertaintyPerMille: run,
        methodStandardUncertaintyPerMille: method,
        standardUncertaintyPerMille: Math.hypot(own, run, method),
      };
    }),
    melts: meltsOf(input, repeatability, found, limit),
    duplicateLimitPerMille: limit,
    duplicateLimitBasis:
      stated === undefined
        ? ('remembered, to be confirmed' as const)
        : ('stated by the method version' as const),
    degreesOfFreedom: repeatability.degreesOfFreedom,
  };
  return { ...output, words: runWords(input, output) };
}

function drawRun(input: CupellationRunInput, output: CupellationRunOutput): Chart[] {
  const x = output.determinations.map((_, i) => i + 1);
  const y = output.determinations.map((one) => one.finenessPerMille);
  const spread = output.determinations.map((one) => 2 * one.standardUncertaintyPerMille);
  return [
    {
      kind: 'chart',
      title: 'Determinations with twice their standard uncertainty',
      xTitle: 'Sample',
      yTitle: 'Fineness, ‰',
      series: [
        {
          label: 'fineness',
          kind: 'points',
          x,
          y,
          lower: y.map((value, i) => value - (spread[i] ?? 0)),
          upper: y.map((value, i) => value + (spread[i] ?? 0)),
        },
      ],
      xNames: output.determinations.map((one, i) => ({ x: i + 1, name: one.label })),
    },
    {
      kind: 'chart',
      title: 'Losses of the proofs by row',
      xTitle: 'Row, from the door',
      yTitle: 'Gold taken less cornet, mg',
      series: [
        {
          label: 'proofs',
          kind: 'points',
          x: input.proofs.map((one) => one.row),
          y: input.proofs.map(lossOf),
        },
      ],
      levels: [{ y: output.proofCorrectionMilligrams, label: 'mean' }],
    },
  ];
}

export const cupellationRunCalculation = defineCalculation<
  CupellationRunInput,
  CupellationRunOutput
>({
  id: 'cupellation-run',
  version: 1,
  topic: 'assay',
  title: 'Cupellation run with places in the muffle',
  purpose:
    'Finds the gold of several melts in one run, each sample corrected by the proofs for its own place in the muffle, with surcharge, duplicate limits and scope of the method version.',
  source:
    'ISO 11426:2021, scope; ISO 11426:2014, 7.2 and 8 (equation and duplicate limits as remembered, to be confirmed against the purchased standard); interpolation over the muffle: common practice; D. Shepard (1968); JCGM 100:2008, 5.1.2',
  cautions: cupellationCalculation.cautions ?? [],
  input: cupellationRunInput,
  output: cupellationRunOutput,
  example: {
    methodVersion: 'Gold by cupellation, version 4',
    correction: 'absolute',
    interpolation: 'inverse distance',
    proofs: [
      { label: 'P1', row: 1, column: 1, goldTakenMilligrams: 229.2, cornetMassMilligrams: 229.32 },
      { label: 'P2', row: 1, column: 5, goldTakenMilligrams: 229.35, cornetMassMilligrams: 229.46 },
      { label: 'P3', row: 4, column: 3, goldTakenMilligrams: 229.18, cornetMassMilligrams: 229.33 },
    ],
    samples: [
      {
        label: 'A1',
        melt: 'A',
        row: 2,
        column: 2,
        sampleMassMilligrams: 250.12,
        cornetMassMilligrams: 229.45,
      },
      {
        label: 'A2',
        melt: 'A',
        row: 3,
        column: 4,
        sampleMassMilligrams: 250.31,
        cornetMassMilligrams: 229.63,
      },
    ],
    weighingStandardUncertaintyMilligrams: 0.01,
    proofGoldStandardUncertaintyPerMille: 0.02,
    repeatabilityStandardDeviationPerMille: 0.15,
    alloy: 'yellow or red',
    duplicateLimitPerMille: 0.5,
  },
  compute: cupellationRun,
  draw: drawRun,
});
