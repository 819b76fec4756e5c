import { cupellation, cupellationInputSchema, titrationOutput } from '@cupel/calculation';
import type { CalculationFigure, CertificateContent, CertifiedMelt } from './content.ts';
import { calculationCheck, type Equality, equalityCheck, figureValue } from './figure-agreement.ts';
import { impurityChecks } from './impurity-checks.ts';
import { meltReadingsCheck, physicalCheck } from './reading-checks.ts';
import type { CertificateCheck } from './verify-certificate.ts';

/** Figures that one calculation takes from another, and determinations from their runs. */
function linkEqualities(melt: CertifiedMelt): readonly Equality[] {
  const value = (figure: CalculationFigure) => figureValue(figure, melt.calculations);
  const links = melt.links.map(
    ({ from, to }): Equality => [`${to.calculation} ${to.field}`, value(to), value(from)],
  );
  const determinations = melt.determinations.map(
    (one): Equality => [`determination ${one.label}`, one.finenessPerMille, value(one.from)],
  );
  return [...links, ...determinations];
}

/** The guard factor as it was given, or as it follows from the required probability. */
function decisionEqualities({ decision, calculations }: CertifiedMelt): readonly Equality[] {
  const value = (field: string) =>
    figureValue({ calculation: decision.calculation, field }, calculations);
  const { guardFactor, requiredConformanceProbability: required, degreesOfFreedom } = decision;
  if (required === undefined) return [['guardFactor', guardFactor, value('input.guardFactor')]];
  return [
    ['guardFactor', guardFactor, value('output.guardFactor')],
    ['requiredConformanceProbability', required, value('input.requiredConformanceProbability')],
    ['degreesOfFreedom', degreesOfFreedom ?? null, value('input.degreesOfFreedom')],
  ];
}

function resultEqualities(melt: CertifiedMelt, content: CertificateContent): readonly Equality[] {
  const { result, decision, calculations } = melt;
  const verdict = (field: string) =>
    figureValue({ calculation: decision.calculation, field }, calculations);
  return [
    ['finenessPerMille', result.finenessPerMille, figureValue(result.finenessFrom, calculations)],
    [
      'standardUncertaintyPerMille',
      result.standardUncertaintyPerMille,
      figureValue(result.standardUncertaintyFrom, calculations),
    ],
    ['finenessPerMille judged', result.finenessPerMille, verdict('input.finenessPerMille')],
    [
      'standardUncertaintyPerMille judged',
      result.standardUncertaintyPerMille,
      verdict('input.standardUncertaintyPerMille'),
    ],
    ['limitPerMille', decision.limitPerMille, verdict('input.limitPerMille')],
    [
      'limitPerMille of the piece standard',
      decision.limitPerMille,
      content.pieceStandard.finenessLimitPerMille,
    ],
    ['guardBandPerMille', decision.guardBandPerMille, verdict('output.guardBandPerMille')],
    ...decisionEqualities(melt),
    ['verdict', decision.verdict, verdict('output.verdict')],
    [
      'conformanceProbability',
      decision.conformanceProbability,
      verdict('output.conformanceProbability'),
    ],
    ['consumerRisk', decision.consumerRisk, verdict('output.consumerRisk')],
    [
      'acceptanceLimitPerMille',
      decision.acceptanceLimitPerMille,
      verdict('output.acceptanceLimitPerMille'),
    ],
    [
      'rejectionLimitPerMille',
      decision.rejectionLimitPerMille,
      verdict('output.rejectionLimitPerMille'),
    ],
    ['verdict of a melt that was released', decision.verdict, 'passes'],
  ];
}

type Part = {
  readonly isShared: boolean;
  readonly contribution: string;
  readonly standardUncertaintyPerMille: number;
};

/** Root of the sum of squares of those parts of a budget that belong to a group. */
function partOfBudget(budget: readonly Part[], belongs: (part: Part) => boolean): number {
  return Math.hypot(...budget.filter(belongs).map((part) => part.standardUncertaintyPerMille));
}

const proofGold = 'fineness of the proof gold';

/**
 * The three parts of a cupelled portion's uncertainty, from the budget of that portion alone: its
 * own, what the proofs share with the portions of the run, what the proof gold shares with all runs.
 */
function partsOfPortion(
  melt: CertifiedMelt,
  from: CalculationFigure,
): Readonly<Record<string, number>> | undefined {
  const run = melt.calculations.find((one) => one.name === from.calculation)?.calculated;
  const index = Number(/^output\.determinations\.(\d+)\./.exec(from.field)?.[1] ?? -1);
  const parsed = cupellationInputSchema.safeParse(run?.input);
  const sample = parsed.success ? parsed.data.samples[index] : undefined;
  if (run?.calculation !== 'cupellation' || !parsed.success || !sample) return undefined;
  const { budget } = cupellation({ ...parsed.data, samples: [sample] });
  return {
    ownStandardUncertaintyPerMille: partOfBudget(budget, (part) => !part.isShared),
    runStandardUncertaintyPerMille: partOfBudget(
      budget,
      (part) => part.isShared && part.contribution !== proofGold,
    ),
    methodStandardUncertaintyPerMille: partOfBudget(
      budget,
      (part) => part.contribution === proofGold,
    ),
  };
}

/** Parts that a titrated portion shares with all runs: by the silver of the standards, or by a titre. */
const sharedByTitrations = ['fineness of the standard silver', 'factor of the titrant'];

/**
 * The three parts of a titrated portion's uncertainty, from its own budget: its own, what the
 * standards and the blank share with the portions of the run, what silver or titre share with all runs.
 */
function partsOfTitration(
  melt: CertifiedMelt,
  from: CalculationFigure,
): Readonly<Record<string, number>> | undefined {
  const run = melt.calculations.find((one) => one.name === from.calculation)?.calculated;
  if (run?.calculation !== 'titration' && run?.calculation !== 'titration-by-factor') {
    return undefined;
  }
  const parsed = titrationOutput.safeParse(run.output);
  if (!parsed.success) return undefined;
  const { budget } = parsed.data;
  return {
    ownStandardUncertaintyPerMille: partOfBudget(budget, (part) => !part.isShared),
    runStandardUncertaintyPerMille: partOfBudget(
      budget,
      (part) => part.isShared && !sharedByTitrations.includes(part.contribution),
    ),
    methodStandardUncertaintyPerMille: partOfBudget(budget, (part) =>
      sharedByTitrations.includes(part.contribution),
    ),
  };
}

/** The parts of each determination's uncertainty against the budget of its run. */
function partOfUncertaintyEqualities(melt: CertifiedMelt): readonly Equality[] {
  const target = /^input\.determinations\.(\d+)\.finenessPerMille$/;
  return melt.links.flatMap(({ from, to }) => {
    const parts = target.test(to.field)
      ? (partsOfPortion(melt, from) ?? partsOfTitration(melt, from))
      : undefined;
    return Object.entries(parts ?? {}).map(([part, value]): Equality => {
      const field = to.field.replace('finenessPerMille', part);
      const stated = figureValue({ calculation: to.calculation, field }, melt.calculations);
      return [`${to.calculation} ${field}`, stated, value];
    });
  });
}

/** Checks every figure of a melt, from its readings to its verdict. */
export function checkMelt(
  melt: CertifiedMelt,
  content: CertificateContent,
): readonly CertificateCheck[] {
  const name = `melt ${melt.melt}`;
  return [
    calculationCheck(`${name}: calculations`, [
      ...melt.sampling.calculations,
      ...melt.calculations,
    ]),
    physicalCheck(melt, content),
    meltReadingsCheck(melt),
    ...impurityChecks(melt, content),
    equalityCheck(
      `${name}: links`,
      [...linkEqualities(melt), ...partOfUncertaintyEqualities(melt)],
      'Each calculation takes from the one before it what that one gave.',
    ),
    equalityCheck(
      `${name}: result`,
      resultEqualities(melt, content),
      `${melt.result.finenessPerMille} ‰ and the verdict “${melt.decision.verdict}” are what the calculations give.`,
    ),
  ];
}
