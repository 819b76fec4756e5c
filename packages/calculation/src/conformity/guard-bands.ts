import { z } from 'zod';
import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfNumber,
  multiplyDecimals,
  numberOfDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { conformanceProbability, nonconformanceProbability } from './conformance-probability.ts';
import { valueWithConformance } from './guarded-value.ts';
import {
  anyFigure,
  freedomField,
  limitFields,
  openProbability,
  positiveFigure,
  probabilityFigure,
  requireLimits,
  standardUncertaintyField,
  unitField,
} from './limits-schema.ts';

/** Who has to prove his statement before it counts. */
export const proofBurdens = ['seller', 'buyer', 'each his own claim'] as const;

const kind = <Kind extends string>(name: Kind) => z.literal(name).meta({ title: 'Rule' });

export const guardBandsInput = z.strictObject({
  unit: unitField(),
  value: anyFigure().meta({ title: 'Measured value', description: 'Unrounded' }),
  standardUncertainty: standardUncertaintyField(),
  coverageFactor: positiveFigure().meta({
    title: 'Coverage factor',
    description: 'k of the expanded uncertainty U = k·u that the rule names; 2 as a rule',
  }),
  degreesOfFreedom: freedomField(),
  ...limitFields,
  rule: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({ kind: kind('simple acceptance') }),
      z.strictObject({ kind: kind('guard band U') }),
      z.strictObject({
        kind: kind('share of U'),
        share: z
          .number({ error: 'a share from 0 to 10, such as 0.83' })
          .min(0, 'a share from 0 to 10, such as 0.83')
          .max(10, 'a share from 0 to 10, such as 0.83')
          .meta({ title: 'Share r of U', description: '0.83 keeps a one-sided risk below 5 %' }),
      }),
      z.strictObject({
        kind: kind('required probability'),
        probability: openProbability().meta({
          title: 'Required probability',
          description: 'Of what has to be proved; 0.95 is the default of ISO 14253-1:2017',
        }),
      }),
    ],
    { error: 'a rule of kind simple acceptance, guard band U, share of U or required probability' },
  ),
  burdenOfProof: z.enum(proofBurdens, `one of ${proofBurdens.join(', ')}`).meta({
    title: 'Burden of proof',
    description:
      'seller: it passes only with proof of conformity; buyer: it fails only with proof of nonconformity; each his own claim: neither without proof, undecided between',
  }),
});

export type GuardBandsInput = z.infer<typeof guardBandsInput>;

const limitOf = (title: string) =>
  z.number().nullable().meta({ title, description: 'None where there is no such limit' });

export const guardBandsOutput = z.strictObject({
  verdict: z.enum(['passes', 'undecided', 'fails']).meta({ title: 'Verdict' }),
  zone: z
    .enum(['pass', 'conditional pass', 'conditional fail', 'fail'])
    .meta({ title: 'Zone of the measured value', description: 'Conditional: within a guard band' }),
  ruleName: z.string().meta({ title: 'Rule in full' }),
  guardBand: z
    .number()
    .meta({ title: 'Guard band', description: 'Width, at the lower limit first' }),
  acceptanceLower: limitOf('Lower acceptance limit'),
  acceptanceUpper: limitOf('Upper acceptance limit'),
  rejectionLower: limitOf('Lower rejection limit'),
  rejectionUpper: limitOf('Upper rejection limit'),
  conformanceProbability: probabilityFigure(
    'Probability of conformity',
    'That the true value lies within the limits',
  ),
  nonconformanceProbability: probabilityFigure(
    'Probability of nonconformity',
    "Specific consumer's risk where it passes; one less it is the producer's where it fails",
  ),
  greatestConsumerRisk: probabilityFigure(
    'Highest risk of a pass',
    'Probability of nonconformity of a value that only just passes under this rule',
  ),
  greatestProducerRisk: probabilityFigure(
    'Highest risk of a failure',
    'Probability of conformity of a value that only just fails under this rule',
  ),
  words: z.string().meta({ title: 'In words' }),
});

export type GuardBandsOutput = z.infer<typeof guardBandsOutput>;

/** Limits of acceptance or rejection, exact where the rule is a multiple of U. */
interface ExactLimits {
  readonly lower: Decimal | null;
  readonly upper: Decimal | null;
}

function ruleInWords(input: GuardBandsInput): string {
  const { rule, coverageFactor: k } = input;
  switch (rule.kind) {
    case 'simple acceptance':
      return 'simple acceptance, guard band 0: the risk is shared (JCGM 106:2012, 8.2; ILAC-G8:09/2019, 4.2.1)';
    case 'guard band U':
      return `guard band w = U, U = ${k}·u (ILAC-G8:09/2019, Table 1)`;
    case 'share of U':
      return `guard band w = ${rule.share}·U, U = ${k}·u (ILAC-G8:09/2019, Table 1${rule.share === 0.83 ? '; ISO 14253-1:2017' : ', rule of the customer'})`;
    case 'required probability':
      return `guard band for a probability of at least ${rule.probability} (JCGM 106:2012, 8.3; ISO 14253-1:2017)`;
  }
}

/** Multiple of u that a rule with U takes as guard band, exact. */
function exactBand(input: GuardBandsInput): Decimal | null {
  const { rule } = input;
  if (rule.kind === 'required probability') return null;
  const share = rule.kind === 'share of U' ? rule.share : rule.kind === 'guard band U' ? 1 : 0;
  return multiplyDecimals([
    decimalOfNumber(share, 'share'),
    decimalOfNumber(input.coverageFactor, 'coverageFactor'),
    decimalOfNumber(input.standardUncertainty, 'standardUncertainty'),
  ]);
}

type Limits = ReturnType<typeof requireLimits>;

/** Both zones by moving the limits by one width. */
function byWidth(limits: Limits, band: Decimal): { inner: ExactLimits; outer: ExactLimits } {
  const exact = (limit: number | null, field: string) =>
    limit === null ? null : decimalOfNumber(limit, field);
  const [lower, upper] = [exact(limits.lower, 'lowerLimit'), exact(limits.upper, 'upperLimit')];
  return {
    inner: {
      lower: lower && sumDecimals([lower, band]),
      upper: upper && subtractDecimals(upper, band),
    },
    outer: {
      lower: lower && subtractDecimals(lower, band),
      upper: upper && sumDecimals([upper, band]),
    },
  };
}

/** Both zones by the probability of what has to be proved. */
function byProbability(input: GuardBandsInput, limits: Limits, probability: number) {
  const edges = (conformance: number): ExactLimits => {
    const edge = (side: 'lower' | 'upper') => {
      if (limits[side] === null) return null;
      const value = valueWithConformance({
        ...limits,
        standardUncertainty: input.standardUncertainty,
        degreesOfFreedom: input.degreesOfFreedom,
        conformance,
        side,
      });
      return decimalOfNumber(value, 'rule.probability');
    };
    return { lower: edge('lower'), upper: edge('upper') };
  };
  return { inner: edges(probability), outer: edges(1 - probability) };
}

function isWithin(value: Decimal, { lower, upper }: ExactLimits): boolean {
  return (
    (lower === null || compareDecimals(value, lower) >= 0) &&
    (upper === null || compareDecimals(value, upper) <= 0)
  );
}

function zoneOf(
  value: Decimal,
  zones: { inner: ExactLimits; outer: ExactLimits },
  limits: ExactLimits,
): GuardBandsOutput['zone'] {
  if (isWithin(value, zones.inner)) return 'pass';
  if (!isWithin(value, zones.outer)) return 'fail';
  return isWithin(value, limits) ? 'conditional pass' : 'conditional fail';
}

const verdicts: Readonly<
  Record<
    GuardBandsInput['burdenOfProof'],
    Readonly<Record<GuardBandsOutput['zone'], GuardBandsOutput['verdict']>>
  >
> = {
  seller: {
    pass: 'passes',
    'conditional pass': 'fails',
    'conditional fail': 'fails',
    fail: 'fails',
  },
  buyer: {
    pass: 'passes',
    'conditional pass': 'passes',
    'conditional fail': 'passes',
    fail: 'fails',
  },
  'each his own claim': {
    pass: 'passes',
    'conditional pass': 'undecided',
    'conditional fail': 'undecided',
    fail: 'fails',
  },
};

/** Probability of conformity of a value on the edge where verdicts part, the worse of two edges. */
function edgeProbability(
  input: GuardBandsInput,
  limits: Limits,
  edge: ExactLimits,
  of: typeof conformanceProbability,
): number {
  const values = [edge.lower, edge.upper].filter((one) => one !== null);
  return Math.max(...values.map((value) => of(measured(input, limits, numberOfDecimal(value)))));
}

function measured(input: GuardBandsInput, limits: Limits, value: number) {
  return {
    value,
    standardUncertainty: input.standardUncertainty,
    degreesOfFreedom: input.degreesOfFreedom ?? undefined,
    lowerLimit: limits.lower ?? undefined,
    upperLimit: limits.upper ?? undefined,
  };
}

function guardWords(input: GuardBandsInput, output: Omit<GuardBandsOutput, 'words'>): string {
  const { unit, value, burdenOfProof } = input;
  const unproved = {
    seller: 'Conformity is not proved, and the seller has to prove it.',
    buyer: 'Nonconformity is not proved, and the buyer who refuses has to prove it.',
    'each his own claim':
      'Neither conformity nor nonconformity is proved: more replicates, a second method or an umpire decide.',
  }[burdenOfProof];
  const reason = {
    pass: 'Conformity is proved.',
    'conditional pass': unproved,
    'conditional fail': unproved,
    fail: 'Nonconformity is proved.',
  }[output.zone];
  const verdict = output.verdict[0]?.toUpperCase() + output.verdict.slice(1);
  return `${verdict}: ${value} ${unit} by ${output.ruleName}. ${reason} Probability of conformity ${probabilityText(output.conformanceProbability, 4)}.`;
}

const toNumber = (limit: Decimal | null): number | null =>
  limit === null ? null : numberOfDecimal(limit);

/**
 * Verdict by a named decision rule with a guard band, for one limit or two: what passes, what fails
 * and what neither side can prove; the mirror rule settles disputes, for who refuses has to
 * prove nonconformity as who delivers has to prove conformity.
 *
 * Formula: acceptance limits = limits moved inwards by w, rejection limits = limits moved outwards by
 * w; w = 0, U, r·U with U = k·u, or so that a value on the limit conforms (does not conform)
 * with the required probability, both limits regarded. Burden on the seller: passes within the
 * acceptance limits, else fails. On the buyer: fails beyond the rejection limits, else passes. Each
 * his own claim: undecided between the two.
 *
 * @param input measured value, standard uncertainty and coverage factor above 0, degrees of freedom
 *   or null, one or two limits, rule, burden of proof
 * @returns verdict, zone, limits in the unit of the value, probabilities in [0, 1]; nothing rounded
 * @throws DomainError for no limit, limits in the wrong order, guard bands that leave nothing between
 *   two limits, a probability that no value between two limits can reach
 * Validity: nothing known but the result. Multiples of U are compared in exact decimals, so a value
 * on a limit counts as within it. See reference/conformity.
 * Source: JCGM 106:2012, 8.2 and 8.3; ILAC-G8:09/2019, 4.2 and Table 1; ISO 14253-1:2017
 * @example guardBands(guardBandsCalculation.example).zone // 'conditional pass'
 */
export function guardBands(input: GuardBandsInput): GuardBandsOutput {
  const limits = requireLimits(input);
  const band = exactBand(input);
  const zones =
    band === null && input.rule.kind === 'required probability'
      ? byProbability(input, limits, input.rule.probability)
      : byWidth(limits, band ?? decimalOfNumber(0));
  const { inner, outer } = zones;
  requireDomain(
    inner.lower === null || inner.upper === null || compareDecimals(inner.lower, inner.upper) <= 0,
    {
      field: 'rule',
      value: input.rule.kind,
      accepted: `a guard band below half the tolerance, that is a smaller uncertainty than ${input.standardUncertainty}, or another rule`,
    },
  );
  const exactLimits = byWidth(limits, decimalOfNumber(0)).inner;
  const zone = zoneOf(decimalOfNumber(input.value, 'value'), zones, exactLimits);
  const at = measured(input, limits, input.value);
  const passEdge = input.burdenOfProof === 'buyer' ? outer : inner;
  const failEdge = input.burdenOfProof === 'seller' ? inner : outer;
  const width =
    inner.lower !== null && exactLimits.lower !== null
      ? subtractDecimals(inner.lower, exactLimits.lower)
      : subtractDecimals(exactLimits.upper as Decimal, inner.upper as Decimal);
  const output = {
    verdict: verdicts[input.burdenOfProof][zone],
    zone,
    ruleName: ruleInWords(input),
    guardBand: numberOfDecimal(width),
    acceptanceLower: toNumber(inner.lower),
    acceptanceUpper: toNumber(inner.upper),
    rejectionLower: toNumber(outer.lower),
    rejectionUpper: toNumber(outer.upper),
    conformanceProbability: conformanceProbability(at),
    nonconformanceProbability: nonconformanceProbability(at),
    greatestConsumerRisk: edgeProbability(input, limits, passEdge, nonconformanceProbability),
    greatestProducerRisk: edgeProbability(input, limits, failEdge, conformanceProbability),
  };
  return { ...output, words: guardWords(input, output) };
}

function drawGuardBands(input: GuardBandsInput, output: GuardBandsOutput): LimitRule[] {
  return [
    {
      kind: 'limit-rule',
      title: 'Measured value, limits and guard bands',
      unit: input.unit,
      value: input.value,
      expandedUncertainty: input.coverageFactor * input.standardUncertainty,
      ...(input.lowerLimit === null ? {} : { lowerLimit: input.lowerLimit }),
      ...(input.upperLimit === null ? {} : { upperLimit: input.upperLimit }),
      guardBand: output.guardBand,
      words: output.words,
    },
  ];
}

export const guardBandsCalculation = defineCalculation<GuardBandsInput, GuardBandsOutput>({
  id: 'guard-bands',
  version: 1,
  topic: 'conformity',
  title: 'Verdict by decision rule and guard band',
  purpose:
    'Applies a named decision rule to one result: passes, undecided or fails, with the limits of acceptance and rejection, the risks, and who has to prove what.',
  source:
    'JCGM 106:2012, 8.2 and 8.3; ILAC-G8:09/2019, 4.2 and Table 1; ISO 14253-1:2017 (required probability 0.95, proof by who states)',
  input: guardBandsInput,
  output: guardBandsOutput,
  // Chosen figures: least fineness 916.6 ‰, U = 0.30 ‰.
  example: {
    unit: '‰',
    value: 916.8,
    standardUncertainty: 0.15,
    coverageFactor: 2,
    degreesOfFreedom: null,
    lowerLimit: 916.6,
    upperLimit: null,
    rule: { kind: 'guard band U' },
    burdenOfProof: 'each his own claim',
  },
  compute: guardBands,
  draw: drawGuardBands,
});
