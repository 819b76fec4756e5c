import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { medianOf } from '../../quantity/median.ts';
import { algorithmA, type RobustEstimate } from './algorithm-a.ts';
import { inWords, listInWords, measured } from './precision-fields.ts';
import {
  type ProficiencyScoresInput,
  type ProficiencyScoresOutput,
  proficiencyScoresInput,
  proficiencyScoresOutput,
} from './proficiency-scores-schema.ts';
import { qHampel } from './q-hampel.ts';

export {
  type ProficiencyScoresInput,
  type ProficiencyScoresOutput,
  proficiencyScoresInput,
  proficiencyScoresOutput,
} from './proficiency-scores-schema.ts';

type Participant = ProficiencyScoresInput['participants'][number];
type ScoreRow = ProficiencyScoresOutput['participants'][number];
type Verdict = ScoreRow['verdict'];

/** Share of the standard deviation for assessment that an uncertainty may have and be neglected. */
const negligibleShare = 0.3;
/** Widens the standard error of a robust mean, which uses its results less well than a plain one. */
const robustErrorFactor = 1.25;
const questionable = 2;
const unsatisfactory = 3;

/** What the scores are reckoned from. */
interface Basis {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
  readonly deviation: number;
  readonly isCertain: boolean;
}

function verdictOf(score: number): Verdict {
  const size = Math.abs(score);
  if (size >= unsatisfactory) return 'unsatisfactory';
  return size > questionable ? 'questionable' : 'satisfactory';
}

function robustBy(method: 'algorithm-a' | 'q-hampel', results: readonly number[]): RobustEstimate {
  return method === 'algorithm-a' ? algorithmA(results) : qHampel(results);
}

function basisOf(input: ProficiencyScoresInput, results: readonly number[]): Basis {
  const { assignedValue, assessment } = input;
  const deviation =
    assessment.kind === 'given'
      ? assessment.standardDeviation
      : robustBy(assessment.method, results).standardDeviation;
  requireDomain(deviation > 0, {
    field: 'assessment',
    value: deviation,
    accepted: 'a standard deviation above 0: most results are equal, give one set beforehand',
  });
  if (assignedValue.kind === 'given') {
    const standardUncertainty = assignedValue.expandedUncertainty / assignedValue.coverageFactor;
    return {
      value: assignedValue.value,
      standardUncertainty,
      expandedUncertainty: assignedValue.expandedUncertainty,
      deviation,
      isCertain: standardUncertainty <= negligibleShare * deviation,
    };
  }
  const robust = robustBy(assignedValue.method, results);
  const standardUncertainty =
    (robustErrorFactor * robust.standardDeviation) / Math.sqrt(results.length);
  return {
    value: robust.mean,
    standardUncertainty,
    expandedUncertainty: 2 * standardUncertainty,
    deviation,
    isCertain: standardUncertainty <= negligibleShare * deviation,
  };
}

const verdictWords: Readonly<Record<Verdict, string>> = {
  satisfactory: 'in order',
  questionable: 'questionable: look for a cause',
  unsatisfactory: 'not in order: find the cause and act',
};

function rowWords(row: Omit<ScoreRow, 'words'>, basis: Basis, unit: string): string {
  const score = basis.isCertain ? `z ${inWords(row.z)}` : `z′ ${inWords(row.zPrime)}`;
  const stated =
    row.en === null
      ? ''
      : row.isEnSatisfactory
        ? ' Its stated uncertainty covers the deviation.'
        : ' Its stated uncertainty does not cover the deviation.';
  return `${row.name}: ${measured(row.deviation, unit)} from the assigned value, ${score}, ${verdictWords[row.verdict]}.${stated}`;
}

function scoreOf(participant: Participant, basis: Basis, unit: string): ScoreRow {
  const deviation = participant.value - basis.value;
  const z = deviation / basis.deviation;
  const zPrime = deviation / Math.hypot(basis.deviation, basis.standardUncertainty);
  const { uncertainty } = participant;
  const own = uncertainty ? uncertainty.expanded / uncertainty.coverageFactor : null;
  const zeta = own === null ? null : deviation / Math.hypot(own, basis.standardUncertainty);
  const en = uncertainty
    ? deviation / Math.hypot(uncertainty.expanded, basis.expandedUncertainty)
    : null;
  const row = {
    name: participant.name,
    value: participant.value,
    deviation,
    z,
    zPrime,
    zeta,
    en,
    verdict: verdictOf(basis.isCertain ? z : zPrime),
    zetaVerdict: zeta === null ? null : verdictOf(zeta),
    isEnSatisfactory: en === null ? null : Math.abs(en) <= 1,
  };
  return { ...row, words: rowWords(row, basis, unit) };
}

function scoresWords(
  input: ProficiencyScoresInput,
  basis: Basis,
  rows: readonly ScoreRow[],
): string {
  const named = (verdict: Verdict) =>
    rows.filter((row) => row.verdict === verdict).map((row) => row.name);
  const { unit } = input;
  const lines = [
    `${input.characteristic}: assigned ${measured(basis.value, unit)} with standard uncertainty ${inWords(basis.standardUncertainty)}, standard deviation for assessment ${measured(basis.deviation, unit)}.`,
  ];
  if (!basis.isCertain) {
    lines.push('The assigned value is not certain enough for z: z′ decides.');
  }
  const bad = named('unsatisfactory');
  const doubtful = named('questionable');
  if (bad.length > 0) lines.push(`Not in order: ${listInWords(bad)}.`);
  if (doubtful.length > 0) lines.push(`Questionable: ${listInWords(doubtful)}.`);
  if (bad.length + doubtful.length === 0) lines.push('All participants are in order.');
  return lines.join(' ');
}

/**
 * Scores of participants in a comparison of laboratories, with the assigned value known beforehand
 * or drawn from the results.
 *
 * Formula: z = (x − X)/σ; z′ = (x − X)/√(σ² + u²(X)); zeta = (x − X)/√(u²(x) + u²(X)); En = (x − X)/√(U²(x)
 * + U²(X)). Assigned value from the results: robust mean, u(X) = 1.25·s/√p, U = 2u. Where u(X) exceeds 0.3 σ
 * z′ decides in place of z. Above 2 questionable, from 3 on unsatisfactory; En satisfactory within 1.
 *
 * @param input 2 or more results in one unit, with expanded uncertainty and coverage factor where
 *   stated; assigned value and standard deviation for assessment, each given or by a robust method
 * @returns the basis and the scores of every participant, nothing rounded
 * @throws DomainError where the robust standard deviation is 0
 * Validity: participants independent; a consensus from fewer than about 12 results is weak. Where
 * the result helped to make the assigned value, zeta and En neglect that tie.
 * See reference/robust-means and reference/key-comparisons.
 * Source: ISO 13528:2022, 7.7, 9.2.1, 9.4 to 9.7 and Annex C
 * @example proficiencyScores(proficiencyScoresCalculation.example).participants[0].en // -12.862857
 */
export function proficiencyScores(input: ProficiencyScoresInput): ProficiencyScoresOutput {
  const results = input.participants.map((participant) => participant.value);
  const method = input.assignedValue.kind === 'robust' ? input.assignedValue.method : 'algorithm-a';
  const robust = robustBy(method, results);
  const basis = basisOf(input, results);
  const rows = input.participants.map((participant) => scoreOf(participant, basis, input.unit));
  const count = (verdict: Verdict) => rows.filter((row) => row.verdict === verdict).length;
  return {
    participantCount: results.length,
    assignedValue: basis.value,
    assignedStandardUncertainty: basis.standardUncertainty,
    assessmentStandardDeviation: basis.deviation,
    robustMean: robust.mean,
    robustStandardDeviation: robust.standardDeviation,
    median: medianOf(results),
    greatestUncertainty: negligibleShare * basis.deviation,
    isUncertaintyNegligible: basis.isCertain,
    participants: rows,
    questionableCount: count('questionable'),
    unsatisfactoryCount: count('unsatisfactory'),
    words: scoresWords(input, basis, rows),
  };
}

function scoresChart(output: ProficiencyScoresOutput): Chart {
  const certain = output.isUncertaintyNegligible;
  const ranked = output.participants.toSorted((a, b) => a.value - b.value);
  const points = ranked.map((row, index) => ({
    x: index + 1,
    y: certain ? row.z : row.zPrime,
    name: row.name,
    isBad: row.verdict === 'unsatisfactory',
  }));
  const series = (label: string, isBad: boolean) => {
    const chosen = points.filter((point) => point.isBad === isBad);
    const [x, y] = [chosen.map((point) => point.x), chosen.map((point) => point.y)];
    return { label, kind: 'bars' as const, x, y, standsOut: isBad };
  };
  return {
    kind: 'chart',
    title: certain ? 'z scores' : 'z′ scores',
    xTitle: 'Participant',
    yTitle: certain ? 'z' : 'z′',
    series: [series('within 3', false), series('3 or more', true)],
    levels: [-3, -2, 2, 3].map((y) => ({ y, label: String(y) })),
    xNames: points.map(({ x, name }) => ({ x, name })),
  };
}

function resultsChart(input: ProficiencyScoresInput, output: ProficiencyScoresOutput): Chart {
  const ranked = input.participants.toSorted((a, b) => a.value - b.value);
  const half = ranked.map((participant) => participant.uncertainty?.expanded ?? 0);
  return {
    kind: 'chart',
    title: `${input.characteristic}: results with their stated uncertainties`,
    xTitle: 'Participant',
    yTitle: `Result, ${input.unit}`,
    series: [
      {
        label: 'results',
        kind: 'points',
        x: ranked.map((_, index) => index + 1),
        y: ranked.map((participant) => participant.value),
        lower: ranked.map((participant, index) => participant.value - (half[index] ?? 0)),
        upper: ranked.map((participant, index) => participant.value + (half[index] ?? 0)),
      },
    ],
    levels: [{ y: output.assignedValue, label: 'assigned' }],
    xNames: ranked.map((participant, index) => ({ x: index + 1, name: participant.name })),
  };
}

/** Lead in wine, key comparison CCQM-K30: result, coverage factor and expanded uncertainty in mg/kg. */
const leadInWine = [
  ['1', 1.62, 2, 0.088],
  ['2', 2.893, 2.13, 0.044],
  ['3', 2.936, 2, 0.025],
] as const;

export const proficiencyScoresCalculation = defineCalculation<
  ProficiencyScoresInput,
  ProficiencyScoresOutput
>({
  id: 'proficiency-scores',
  version: 1,
  topic: 'control',
  title: 'Scores of a laboratory comparison',
  purpose:
    'How far each laboratory lies from the assigned value, by what is allowed and by what it states as its uncertainty.',
  source: 'ISO 13528:2022, 7.7, 9.2.1, 9.4 to 9.7 and Annex C',
  input: proficiencyScoresInput,
  output: proficiencyScoresOutput,
  // Three participants of key comparison CCQM-K30 (Metrologia 45, 2008, 08001) against its reference value 2.99 mg/kg.
  example: {
    characteristic: 'Lead in wine',
    unit: 'mg/kg',
    participants: leadInWine.map(([name, value, coverageFactor, expanded]) => ({
      name: `Laboratory ${name}`,
      value,
      uncertainty: { expanded, coverageFactor },
    })),
    assignedValue: { kind: 'given', value: 2.99, expandedUncertainty: 0.06, coverageFactor: 2 },
    assessment: { kind: 'given', standardDeviation: 0.15 },
  },
  compute: proficiencyScores,
  draw: (input, output) => [scoresChart(output), resultsChart(input, output)],
});
