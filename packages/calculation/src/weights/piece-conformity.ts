import t from '@stdlib/stats-base-dists-t';
import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { sampleMoments } from '../quantity/sample-moments.ts';
import { meanOf } from '../quantity/sum.ts';
import {
  conformityProbability,
  jointConformity,
  type MassLimits,
  type SharedUncertainty,
} from './joint-conformity.ts';
import {
  type ConformityRule,
  type PieceConformityInput,
  type PieceConformityOutput,
  pieceConformityInput,
  pieceConformityOutput,
} from './piece-conformity-schema.ts';

export {
  type PieceConformityInput,
  type PieceConformityOutput,
  pieceConformityInput,
  pieceConformityOutput,
} from './piece-conformity-schema.ts';

type RuleResult = PieceConformityOutput['rules'][number];
type Verdict = PieceConformityOutput['verdict'];

/** Values of a rule with their uncertainty. */
interface Judged {
  readonly values: readonly number[];
  readonly uncertainty: SharedUncertainty;
  readonly effectiveDegreesOfFreedom: number | null;
}

function limitsOf(rule: ConformityRule, index: number): MassLimits {
  const { lowerLimitGrams: lower, upperLimitGrams: upper } = rule;
  requireDomain(lower !== undefined || upper !== undefined, {
    field: `rules.${index}.lowerLimitGrams`,
    value: 'no limit',
    accepted: 'a lower limit, an upper limit or both',
  });
  requireDomain(lower === undefined || upper === undefined || lower <= upper, {
    field: `rules.${index}.lowerLimitGrams`,
    value: lower,
    accepted: `a mass up to the upper limit of ${upper} g`,
  });
  return { ...(lower === undefined ? {} : { lower }), ...(upper === undefined ? {} : { upper }) };
}

function groupMeans(masses: readonly number[], size: number, index: number): number[] {
  requireDomain(masses.length % size === 0, {
    field: `rules.${index}.piecesPerGroup`,
    value: size,
    accepted: `a number of pieces that divides the ${masses.length} pieces weighed`,
  });
  return Array.from({ length: masses.length / size }, (_, group) =>
    meanOf(masses.slice(group * size, (group + 1) * size)),
  );
}

/** Mean of the lot: the spread of the drawn pieces, which holds their weighing, over the root of n. */
function lotMean(
  input: PieceConformityInput,
  rule: ConformityRule & { kind: 'lot-mean' },
  index: number,
): Judged {
  const { massesGrams, individualStandardUncertaintyGrams: own } = input;
  const count = massesGrams.length;
  const lot = rule.lotSizePieces;
  requireDomain(count >= 2, {
    field: 'massesGrams',
    value: `${count} masses`,
    accepted: 'at least 2 masses for a statement about the lot',
  });
  requireDomain(lot === undefined || lot >= count, {
    field: `rules.${index}.lotSizePieces`,
    value: lot,
    accepted: `at least the ${count} pieces weighed`,
  });
  const square = (sampleMoments(massesGrams).standardDeviation ?? 0) ** 2;
  const pieces = Math.max(0, square - own ** 2) * (lot === undefined ? 1 : 1 - count / lot);
  const drawn = pieces / count + Math.min(square, own ** 2) / count;
  const total = drawn + input.commonStandardUncertaintyGrams ** 2;
  return {
    values: [meanOf(massesGrams)],
    uncertainty: {
      own: Math.sqrt(drawn),
      common: input.commonStandardUncertaintyGrams,
    },
    effectiveDegreesOfFreedom: drawn === 0 ? null : (total / drawn) ** 2 * (count - 1),
  };
}

function judgedBy(input: PieceConformityInput, rule: ConformityRule, index: number): Judged {
  const { massesGrams, individualStandardUncertaintyGrams: own } = input;
  const common = input.commonStandardUncertaintyGrams;
  const judged = (values: readonly number[], pieces: number): Judged => ({
    values,
    uncertainty: { own: own / Math.sqrt(pieces), common },
    effectiveDegreesOfFreedom: null,
  });
  switch (rule.kind) {
    case 'every-piece':
      return judged(massesGrams, 1);
    case 'group-mean':
      return judged(groupMeans(massesGrams, rule.piecesPerGroup, index), rule.piecesPerGroup);
    case 'sample-mean':
      return judged([meanOf(massesGrams)], massesGrams.length);
    default:
      return lotMean(input, rule, index);
  }
}

/** With an estimated spread the t distribution takes the place of the normal one. */
function probabilityOf(value: number, judged: Judged, limits: MassLimits): number {
  const { effectiveDegreesOfFreedom: degrees, uncertainty } = judged;
  if (degrees === null) return conformityProbability(value, uncertainty, limits);
  const u = Math.hypot(uncertainty.own, uncertainty.common);
  const below = limits.lower === undefined ? 0 : t.cdf((limits.lower - value) / u, degrees);
  const above = limits.upper === undefined ? 0 : t.cdf((value - limits.upper) / u, degrees);
  return Math.max(0, 1 - below - above);
}

function verdictOf(probability: number, greatestRisk: number): Verdict {
  if (probability >= 1 - greatestRisk) return 'passes';
  return probability <= greatestRisk ? 'fails' : 'undecided';
}

const ruleNames = {
  'every-piece': 'every piece',
  'group-mean': 'mean of each group',
  'sample-mean': 'mean of these pieces',
  'lot-mean': 'mean of the lot',
} as const;

function nameOf(rule: ConformityRule): string {
  const what =
    rule.kind === 'group-mean' ? `mean of each ${rule.piecesPerGroup}` : ruleNames[rule.kind];
  const least = rule.lowerLimitGrams === undefined ? [] : [`at least ${rule.lowerLimitGrams} g`];
  const most = rule.upperLimitGrams === undefined ? [] : [`at most ${rule.upperLimitGrams} g`];
  return `${what} ${[...least, ...most].join(' and ')}`;
}

function judge(input: PieceConformityInput, rule: ConformityRule, index: number): RuleResult {
  const limits = limitsOf(rule, index);
  const judged = judgedBy(input, rule, index);
  const { values, uncertainty, effectiveDegreesOfFreedom: degrees } = judged;
  const probabilities = values.map((value) => probabilityOf(value, judged, limits));
  const worst = probabilities.reduce(
    (least, value, place) => (value < (probabilities[least] as number) ? place : least),
    0,
  );
  const u = Math.hypot(uncertainty.own, uncertainty.common);
  const risk = input.greatestRisk;
  const guard = u * (degrees === null ? -normalQuantile(risk) : t.quantile(1 - risk, degrees));
  const probability =
    degrees === null
      ? jointConformity(values, uncertainty, limits)
      : (probabilities[worst] as number);
  const { lower, upper } = limits;
  return {
    rule: nameOf(rule),
    judged: values.length,
    outside: values.filter((value) => value < (lower ?? -Infinity) || value > (upper ?? Infinity))
      .length,
    uncertain: probabilities.filter((value) => verdictOf(value, risk) === 'undecided').length,
    standardUncertaintyGrams: u,
    worstGrams: values[worst] as number,
    worstPlace: worst + 1,
    worstProbability: probabilities[worst] as number,
    probability,
    effectiveDegreesOfFreedom: degrees,
    acceptFromGrams: lower === undefined ? null : lower + guard,
    acceptToGrams: upper === undefined ? null : upper - guard,
    verdict: verdictOf(probability, risk),
  };
}

const probabilityWords = (value: number): string => probabilityText(value, 3);

function describe(rules: readonly RuleResult[]): string {
  return rules
    .map((one) => {
      const stated = `${one.rule.charAt(0).toUpperCase()}${one.rule.slice(1)}: ${one.verdict}, probability ${probabilityWords(one.probability)}`;
      const read =
        one.judged === 1
          ? `${one.worstGrams.toPrecision(7)} g`
          : `least sure is number ${one.worstPlace} with ${one.worstGrams.toPrecision(7)} g`;
      return `${stated} (${read}).`;
    })
    .join(' ');
}

/**
 * Whether pieces are as heavy as promised, piece by piece, group by group and in the mean, with the
 * uncertainty of the weighing taken into account.
 *
 * Formula: probability that a value conforms Φ((y − lower)/u) − Φ((y − upper)/u), u² = ui²/n + uc² with
 * n = 1, the pieces of a group, or all; that all conform, by integration over the error uc that all
 * weighings share, see `jointConformity`. Mean of the lot: u² = s²·(1 − n/N)/n + uc² with the weighing's
 * part of s² without the factor, t distribution with effective degrees of freedom. Passes at a
 * probability of 1 − risk, fails at or below the risk, else undecided. A value passes alone from the
 * limit plus z(1 − risk)·u.
 *
 * @param input 1 to 100000 masses in grams; standard uncertainties 0 g or more; 1 to 10 rules; risk
 * @returns for each rule the counts, probabilities and verdict, the worst verdict of all; not rounded
 * @throws DomainError for a rule without limits or with crossed ones, groups that do not come out even,
 * a lot smaller than the sample or fewer than 2 pieces for it
 * Validity: normal errors; nothing taken as known of the masses beforehand, which is on the safe side
 * for a process that runs well inside. Shown in reference/coinage-act-1870 and laws/weights-money.
 * Source: JCGM 106:2012, 7 and 8.3; JCGM 100:2008, G.4.1
 * @example pieceConformity({ massesGrams: [10], individualStandardUncertaintyGrams: 1,
 *   commonStandardUncertaintyGrams: 0, rules: [{ kind: 'every-piece', lowerLimitGrams: 10 }],
 *   greatestRisk: 0.05 }).rules[0].probability // 0.5
 */
export function pieceConformity(input: PieceConformityInput): PieceConformityOutput {
  const rules = input.rules.map((rule, index) => judge(input, rule, index));
  const verdict = (['fails', 'undecided', 'passes'] as const).find((one) =>
    rules.some((rule) => rule.verdict === one),
  ) as Verdict;
  return { rules, verdict, words: describe(rules) };
}

function drawPieceConformity(
  input: PieceConformityInput,
  output: PieceConformityOutput,
): LimitRule[] {
  return output.rules.map((one, index) => {
    const rule = input.rules[index] as ConformityRule;
    const guard = (limit: number | undefined, accept: number | null): number =>
      limit === undefined || accept === null ? 0 : Math.abs(accept - limit);
    return {
      kind: 'limit-rule',
      title: `Least sure value: ${one.rule}`,
      unit: 'g',
      value: one.worstGrams,
      expandedUncertainty: 2 * one.standardUncertaintyGrams,
      ...(rule.lowerLimitGrams === undefined ? {} : { lowerLimit: rule.lowerLimitGrams }),
      ...(rule.upperLimitGrams === undefined ? {} : { upperLimit: rule.upperLimitGrams }),
      guardBand: Math.max(
        guard(rule.lowerLimitGrams, one.acceptFromGrams),
        guard(rule.upperLimitGrams, one.acceptToGrams),
      ),
      words: `${one.verdict}, probability that all conform ${probabilityWords(one.probability)}`,
    };
  });
}

export const pieceConformityCalculation = defineCalculation({
  id: 'piece-conformity',
  version: 1,
  topic: 'weights',
  title: 'Pieces as heavy as promised',
  purpose:
    'Whether every piece, the mean of every group and the mean of sample or lot keep their limits of mass, at a stated risk and with the uncertainty of the balance.',
  source:
    'JCGM 106:2012, 7 and 8.3, conformity with measurement uncertainty; JCGM 100:2008, G.4.1; joint probability over the shared error, elementary',
  input: pieceConformityInput,
  output: pieceConformityOutput,
  // Ten sovereigns weighed for a trial; standard weight and remedy of the Coinage Act 1870.
  example: {
    massesGrams: [
      7.98512, 7.99105, 7.9879, 7.98651, 7.99034, 7.9887, 7.98405, 7.992, 7.98688, 7.98921,
    ],
    individualStandardUncertaintyGrams: 0.0002,
    commonStandardUncertaintyGrams: 0.0001,
    rules: [
      { kind: 'every-piece', lowerLimitGrams: 7.97509, upperLimitGrams: 8.00101 },
      { kind: 'group-mean', piecesPerGroup: 5, lowerLimitGrams: 7.97509, upperLimitGrams: 8.00101 },
      { kind: 'sample-mean', lowerLimitGrams: 7.98805 },
      { kind: 'lot-mean', lotSizePieces: 5000, lowerLimitGrams: 7.98805 },
    ],
    greatestRisk: 0.05,
  },
  compute: pieceConformity,
  draw: drawPieceConformity,
});
