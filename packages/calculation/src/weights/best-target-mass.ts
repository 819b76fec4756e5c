import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import {
  bestTarget,
  bestUpperLimit,
  type TargetCosts,
  type TargetProcess,
  targetCost,
} from './target-cost.ts';
import { boundedField, figure, grams, gramsOrNull, massField, words } from './weight-fields.ts';

const moneyField = (title: string, description: string) =>
  boundedField(
    { least: 0, greatest: 1e9, accepted: 'an amount of money from 0 to 1000000000' },
    { title, description },
  );
const metalPrice = () =>
  moneyField('Price of the alloy', 'Money per gram of the metal of which pieces are made');

export const bestTargetMassInput = z.strictObject({
  standardDeviationGrams: massField('Standard deviation', 'Of the process, piece to piece'),
  lowerLimitGrams: massField('Lower limit', 'Least mass that a piece may have'),
  upperLimit: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({ kind: z.literal('none').meta({ title: 'Upper limit: none' }) }),
      z.strictObject({
        kind: z.literal('given').meta({ title: 'Upper limit: given' }),
        massGrams: massField('Upper limit', 'Greatest mass that a piece may have'),
      }),
      z.strictObject({
        kind: z.literal('best').meta({ title: 'Upper limit: where it pays best' }),
      }),
    ],
    'an upper limit of kind none, given with its mass, or best',
  ),
  costs: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z
          .literal('fixed-costs')
          .meta({ title: 'Costs: one for a light and one for a heavy piece' }),
        costOfLightPiece: moneyField('Cost of a light piece', 'Below the lower limit'),
        costOfHeavyPiece: moneyField('Cost of a heavy piece', 'Above the upper limit'),
      }),
      z.strictObject({
        kind: z
          .literal('sold-apart')
          .meta({ title: 'Costs: light pieces sold at a loss, metal above the limit given away' }),
        costOfLightPiece: moneyField('Loss on a light piece', 'Against a good one'),
        metalPricePerGram: metalPrice(),
      }),
      z.strictObject({
        kind: z.literal('remelted').meta({ title: 'Costs: pieces outside the limits remelted' }),
        makingCost: moneyField('Cost of making a piece', 'Without its metal, spent on every piece'),
        remeltCost: moneyField('Cost of remelting a piece', 'Beside the metal lost'),
        metalPricePerGram: metalPrice(),
        metalLossShare: boundedField(
          { least: 0, greatest: 0.9, accepted: 'a share from 0 to 0.9' },
          { title: 'Metal lost in a remelt', description: 'Share of the mass of the piece' },
        ),
      }),
    ],
    'costs of kind fixed-costs, sold-apart or remelted',
  ),
});

export type BestTargetMassInput = z.infer<typeof bestTargetMassInput>;

export const bestTargetMassOutput = z.strictObject({
  targetGrams: grams('Best target'),
  upperLimitGrams: gramsOrNull('Upper limit'),
  aboveLowerLimitGrams: grams('Target above the lower limit'),
  aboveLowerLimitDeviations: figure('The same in standard deviations'),
  lightShare: figure('Share of pieces below the lower limit'),
  heavyShare: figure('Share of pieces above the upper limit'),
  meanOfGoodGrams: grams('Mean mass of the good pieces'),
  givenAwayPerGoodPieceGrams: grams('Given away per good piece, above the lower limit'),
  cost: z.number().meta({
    title: 'Expected cost at the best target',
    description: 'Per piece made; per good piece, its metal included, where pieces are remelted',
  }),
  costTenthDeviationLower: figure('More cost with the target a tenth of a deviation lower'),
  costTenthDeviationHigher: figure('More cost with the target a tenth of a deviation higher'),
  costWithTenthLessSpread: figure('Cost saved if the spread were a tenth smaller'),
  words: words(),
});

export type BestTargetMassOutput = z.infer<typeof bestTargetMassOutput>;

function refuseTarget(field: string, value: unknown, accepted: string): never {
  throw new DomainError({ field, value, accepted });
}

function requireCosts(input: BestTargetMassInput): void {
  const { costs, upperLimit, lowerLimitGrams: lower } = input;
  if (upperLimit.kind === 'given') {
    requireDomain(upperLimit.massGrams > lower, {
      field: 'upperLimit.massGrams',
      value: upperLimit.massGrams,
      accepted: `a mass above the lower limit of ${lower} g`,
    });
  }
  const wanted = { 'fixed-costs': ['given'], 'sold-apart': ['none'], remelted: null }[costs.kind];
  requireDomain(wanted === null || wanted.includes(upperLimit.kind), {
    field: 'upperLimit.kind',
    value: upperLimit.kind,
    accepted: `${wanted?.join(', ')} where the costs are of kind ${costs.kind}`,
  });
  // Without an upper limit only the metal makes a heavy piece dear.
  const isFree = costs.kind !== 'fixed-costs' && costs.metalPricePerGram === 0;
  requireDomain(!isFree || upperLimit.kind === 'given', {
    field: 'costs.metalPricePerGram',
    value: 0,
    accepted: 'a price above 0 where there is no given upper limit',
  });
}

/** Target and limits; a refusal where cost only falls or rises. */
function solve(input: BestTargetMassInput): { target: number; process: TargetProcess } {
  const process: TargetProcess = {
    standardDeviation: input.standardDeviationGrams,
    lower: input.lowerLimitGrams,
    upper: input.upperLimit.kind === 'given' ? input.upperLimit.massGrams : Infinity,
  };
  const costs: TargetCosts = input.costs;
  if (input.upperLimit.kind === 'best') {
    const found = bestUpperLimit(process, costs);
    return found
      ? { target: found.target, process: { ...process, upper: found.upper } }
      : refuseTarget(
          'costs.metalPricePerGram',
          (costs as { metalPricePerGram?: number }).metalPricePerGram,
          'a price and costs that make both too light and too heavy pieces dear',
        );
  }
  const target = bestTarget(process, costs);
  return target === null
    ? refuseTarget(
        'costs',
        costs.kind,
        'costs that rise on both sides: here every step lower, or every step higher, only gets cheaper',
      )
    : { target, process };
}

function describe(output: Omit<BestTargetMassOutput, 'words'>): string {
  const light = Number((100 * output.lightShare).toPrecision(2));
  const heavy =
    output.upperLimitGrams === null
      ? ''
      : `, ${Number((100 * output.heavyShare).toPrecision(2))} % too heavy (above ${output.upperLimitGrams.toPrecision(6)} g)`;
  return `Set the process to a mean of ${output.targetGrams.toPrecision(6)} g, ${output.aboveLowerLimitDeviations.toFixed(2)} standard deviations above the lower limit: ${light} % of the pieces will be too light${heavy}, and each good piece gives away ${(1000 * output.givenAwayPerGoodPieceGrams).toPrecision(3)} mg above the lower limit. A tenth of a deviation lower costs ${output.costTenthDeviationLower.toPrecision(2)} more per piece, a tenth higher ${output.costTenthDeviationHigher.toPrecision(2)}.`;
}

/**
 * Mean mass to which the process should be set: low enough not to give metal away, high enough not to
 * make light pieces.
 *
 * Formula: the least of the expected cost, see `targetCost`, where its derivative is zero. Fixed costs:
 * (L + U)/2 + σ²·ln(A/B)/(U − L). Light pieces sold apart: φ(δ)/Φ(δ) = p·σ/A with δ standard deviations
 * between limit and target. Remelted: by the derivative; the best upper limit by `bestUpperLimit`.
 *
 * @param input standard deviation and limits in grams above 0; amounts of money 0 or more
 * @returns target, shares, mean of the good pieces, cost and its change about the target; not rounded
 * @throws DomainError for crossed limits, an upper limit that does not belong to the kind of costs, and
 * costs without a least
 * Validity: normal masses that are sorted without error. Held against the closed solutions, golden
 * section and simulation in laws/weights-money.
 * Source: C. H. Springer (1951), Industrial Quality Control 8(1), 36-39; W. G. Hunter and C. P. Kartha
 * (1977), Journal of Quality Technology 9, 176-181; D. C. Bettes (1962), Applied Statistics 11, 202-210; D.
 * Y. Golhar and S. M. Pollock (1988), Journal of Quality Technology 20, 188-192 (citations from memory)
 * @example bestTargetMass({ standardDeviationGrams: 1, lowerLimitGrams: 10,
 *   upperLimit: { kind: 'given', massGrams: 14 }, costs: { kind: 'fixed-costs', costOfLightPiece: 1,
 *   costOfHeavyPiece: 1 } }).targetGrams // 12
 */
export function bestTargetMass(input: BestTargetMassInput): BestTargetMassOutput {
  requireCosts(input);
  const { target, process } = solve(input);
  const { standardDeviation: sigma, lower, upper } = process;
  const costAt = (mass: number, spread = sigma): number =>
    targetCost(mass, { ...process, standardDeviation: spread }, input.costs).cost;
  const cost = costAt(target);
  const zLower = (lower - target) / sigma;
  const lightShare = normalDistribution(zLower, 0, 1);
  const heavyShare = Number.isFinite(upper)
    ? normalDistribution((target - upper) / sigma, 0, 1)
    : 0;
  const good = 1 - lightShare - heavyShare;
  const density = (z: number): number =>
    Number.isFinite(z) ? Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI) : 0;
  const meanOfGoodGrams =
    target + (sigma * (density(zLower) - density((upper - target) / sigma))) / good;
  const narrower = bestTarget({ ...process, standardDeviation: 0.9 * sigma }, input.costs);
  const output = {
    targetGrams: target,
    upperLimitGrams: Number.isFinite(upper) ? upper : null,
    aboveLowerLimitGrams: target - lower,
    aboveLowerLimitDeviations: -zLower,
    lightShare,
    heavyShare,
    meanOfGoodGrams,
    givenAwayPerGoodPieceGrams: meanOfGoodGrams - lower,
    cost,
    costTenthDeviationLower: costAt(target - sigma / 10) - cost,
    costTenthDeviationHigher: costAt(target + sigma / 10) - cost,
    costWithTenthLessSpread: cost - costAt(narrower ?? target, 0.9 * sigma),
  };
  return { ...output, words: describe(output) };
}

const curvePoints = 120;

function drawBestTargetMass(input: BestTargetMassInput, output: BestTargetMassOutput): Chart[] {
  const { process, target } = solve(input);
  const reach = 2.5 * process.standardDeviation;
  const x = Array.from(
    { length: curvePoints + 1 },
    (_, index) => target - reach + (2 * reach * index) / curvePoints,
  );
  const all = x
    .map((mass) => ({ mass, cost: targetCost(mass, process, input.costs).cost }))
    .filter(({ cost }) => Number.isFinite(cost) && cost - output.cost < 1e6 * (1 + output.cost));
  // Far on the wrong side the cost runs away and would flatten the picture.
  const highest =
    output.cost +
    12 * Math.max(output.costTenthDeviationLower, output.costTenthDeviationHigher) * 20;
  const points = all.filter(({ cost }) => cost <= highest);
  return [
    {
      kind: 'chart',
      title: 'Expected cost against the target',
      xTitle: 'Target mean, g',
      yTitle: 'Expected cost, money',
      series: [
        {
          label: 'cost',
          kind: 'line',
          x: points.map(({ mass }) => mass),
          y: points.map(({ cost }) => cost),
        },
      ],
      marks: [
        { x: process.lower, label: 'lower limit' },
        { x: output.targetGrams, label: 'best target' },
        ...(output.upperLimitGrams === null
          ? []
          : [{ x: output.upperLimitGrams, label: 'upper limit' }]),
      ],
    },
  ];
}

export const bestTargetMassCalculation = defineCalculation({
  id: 'best-target-mass',
  version: 1,
  topic: 'weights',
  title: 'Best target mass',
  purpose:
    'To which mean mass the cutting of blanks should be set, given the spread, the limits, the price of the metal and what a rejected piece costs; with the cost curve about it.',
  source:
    'C. H. Springer (1951), Industrial Quality Control 8(1); D. C. Bettes (1962), Applied Statistics 11; W. G. Hunter and C. P. Kartha (1977), Journal of Quality Technology 9; D. Y. Golhar and S. M. Pollock (1988), Journal of Quality Technology 20 (citations from memory; the formulas are derived anew)',
  input: bestTargetMassInput,
  output: bestTargetMassOutput,
  // Invented silver blanks; light ones are remelted.
  example: {
    standardDeviationGrams: 0.02,
    lowerLimitGrams: 31.103,
    upperLimit: { kind: 'none' },
    costs: {
      kind: 'remelted',
      makingCost: 0.4,
      remeltCost: 0.25,
      metalPricePerGram: 0.9,
      metalLossShare: 0.002,
    },
  },
  compute: bestTargetMass,
  draw: drawBestTargetMass,
});
