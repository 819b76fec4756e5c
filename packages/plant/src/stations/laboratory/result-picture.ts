import {
  type Chart,
  type ConformanceStatementOutput,
  calculationById,
  type MeltFinenessInput,
  type MeltFinenessOutput,
  runCalculation,
} from '@cupel/calculation';
import type { ResultFigures } from './bodies.ts';
import type { DeterminationRow } from './books.ts';
import {
  type EvaluationFacts,
  evaluate,
  type ScopePerMille,
  scopePerMilleOf,
} from './evaluation.ts';
import { greatestDeterminations } from './run-facts.ts';

/** What one more determination would make of the result, were it to find that fineness. */
export interface FurtherCase {
  /** How it lies to the result of now. */
  readonly lies: 'lower' | 'the same' | 'higher';
  readonly determinationPerMille: number;
  readonly outcome:
    | {
        readonly state: 'result';
        readonly finenessPerMille: number;
        readonly standardUncertaintyPerMille: number;
        readonly marginInStandardUncertainties: number;
        readonly conformanceProbability: number;
        readonly verdict: ResultFigures['verdict'];
      }
    /** The rule on replicates would ask for more first. */
    | { readonly state: 'more needed'; readonly words: string };
}

/** A result as a picture: its budget, its way to the limit, and what more work would change. */
export interface ResultPicture {
  readonly limitPerMille: number;
  readonly marginPerMille: number;
  /** Fineness less limit, in standard uncertainties; below 0 where it lies below the limit. */
  readonly marginInStandardUncertainties: number;
  readonly conformanceProbability: number;
  readonly probabilityWords: string;
  readonly meltWords: string;
  readonly budget: Chart;
  /** Share of the variance that all determinations by the method have in common, in percent. */
  readonly sharedByMethodPercent: number;
  readonly scopePerMille: ScopePerMille;
  readonly further:
    | { readonly state: 'possible'; readonly cases: readonly FurtherCase[] }
    | { readonly state: 'none'; readonly why: string };
  /** Calculations of the catalogue that it is made of, each with its version. */
  readonly calculations: readonly string[];
}

/** Runs a calculation of the catalogue for the picture; nothing where it refuses. */
function ran<Output>(id: string, input: object) {
  const result = runCalculation(calculationById(id), input);
  if (result.outcome === 'refused') return undefined;
  return { output: result.output as Output, name: `${id} version ${result.version}` };
}

/** The input of the catalogue's calculation from what the record keeps of a result. */
function meltFinenessInputOf(recorded: ResultFigures['uncertainty']): MeltFinenessInput {
  return { ...recorded.input, ownPart: 'as stated' };
}

function budgetChart(output: MeltFinenessOutput): Chart {
  const { budget, standardUncertaintyPerMille } = output;
  return {
    kind: 'chart',
    title: 'Where the uncertainty comes from',
    xTitle: 'Contribution',
    yTitle: 'Standard uncertainty, ‰',
    series: [
      {
        label: 'contributions',
        kind: 'bars',
        x: budget.map((_, index) => index + 1),
        y: budget.map((line) => line.standardUncertaintyPerMille),
      },
    ],
    levels: [{ y: standardUncertaintyPerMille, label: 'all together' }],
    xNames: budget.map((line, index) => ({ x: index + 1, name: line.contribution })),
  };
}

const shareOf = (contribution: string, { budget }: MeltFinenessOutput): number =>
  budget.find((line) => line.contribution === contribution)?.sharePercent ?? 0;

const mean = (values: readonly number[]): number =>
  values.reduce((total, one) => total + one, 0) / values.length;

/** A determination like those there are, of a blank and in a run of its own. */
function oneMore(valid: readonly DeterminationRow[], finenessPerMille: number): DeterminationRow {
  const [first] = valid;
  if (!first) throw new RangeError('no determination to follow');
  return {
    ...first,
    assayRun: 'further run',
    label: 'further',
    blank: 'further blank',
    place: 1,
    finenessPerMille,
    ownStandardUncertaintyPerMille: mean(valid.map((row) => row.ownStandardUncertaintyPerMille)),
    runStandardUncertaintyPerMille: mean(valid.map((row) => row.runStandardUncertaintyPerMille)),
    methodStandardUncertaintyPerMille: mean(
      valid.map((row) => row.methodStandardUncertaintyPerMille),
    ),
  };
}

function outcomeWith(facts: EvaluationFacts, further: DeterminationRow): FurtherCase['outcome'] {
  const evaluation = evaluate({ ...facts, valid: [...facts.valid, further] });
  if ('refusals' in evaluation) {
    const [refusal] = evaluation.refusals;
    return { state: 'more needed', words: refusal?.message ?? '' };
  }
  const { figures } = evaluation;
  const { finenessPerMille, standardUncertaintyPerMille } = figures;
  const margin = finenessPerMille - facts.standard.finenessLimitPerMille;
  return {
    state: 'result',
    finenessPerMille,
    standardUncertaintyPerMille,
    marginInStandardUncertainties: margin / standardUncertaintyPerMille,
    conformanceProbability: Number(figures.decision.output['conformanceProbability']),
    verdict: figures.verdict,
  };
}

/**
 * How far a further determination would scatter about the result: its own part, that of its run,
 * and what the blanks differ by; the part of the method is the same for all and not in it.
 */
function scatterOf(valid: readonly DeterminationRow[], melt: MeltFinenessOutput): number {
  const { ownStandardUncertaintyPerMille: own, runStandardUncertaintyPerMille: run } = oneMore(
    valid,
    melt.finenessPerMille,
  );
  return Math.hypot(own, run, melt.betweenBlanksStandardDeviationPerMille);
}

function furtherOf(facts: EvaluationFacts, melt: MeltFinenessOutput): ResultPicture['further'] {
  const { valid } = facts;
  if (valid.length >= greatestDeterminations) {
    const why = `A melt is judged on at most ${greatestDeterminations} determinations, and it has them.`;
    return { state: 'none', why };
  }
  const scatter = scatterOf(valid, melt);
  const cases = [
    { lies: 'lower' as const, determinationPerMille: melt.finenessPerMille - scatter },
    { lies: 'the same' as const, determinationPerMille: melt.finenessPerMille },
    { lies: 'higher' as const, determinationPerMille: melt.finenessPerMille + scatter },
  ].map((one) => ({
    ...one,
    outcome: outcomeWith(facts, oneMore(valid, one.determinationPerMille)),
  }));
  return { state: 'possible', cases };
}

/**
 * The picture of a result, made of the catalogue's calculations from what the record keeps of it.
 * Nothing where the record of an older result is not accepted by them.
 */
export function pictureOf(
  figures: ResultFigures,
  facts: EvaluationFacts,
): ResultPicture | undefined {
  const limitPerMille = Number(figures.decision.input['limitPerMille']);
  const freedom = figures.decision.input['degreesOfFreedom'];
  const melt = ran<MeltFinenessOutput>('melt-fineness', meltFinenessInputOf(figures.uncertainty));
  if (!melt) return undefined;
  const { finenessPerMille, standardUncertaintyPerMille } = figures;
  const statement = ran<ConformanceStatementOutput>('conformance-probability', {
    unit: '‰',
    lowerLimit: limitPerMille,
    upperLimit: null,
    knowledge: {
      kind: 'result',
      value: finenessPerMille,
      standardUncertainty: standardUncertaintyPerMille,
      degreesOfFreedom: typeof freedom === 'number' ? freedom : null,
    },
  });
  if (!statement) return undefined;
  const marginPerMille = finenessPerMille - limitPerMille;
  return {
    limitPerMille,
    marginPerMille,
    marginInStandardUncertainties: marginPerMille / standardUncertaintyPerMille,
    conformanceProbability: statement.output.conformanceProbability,
    probabilityWords: statement.output.words,
    meltWords: melt.output.words,
    budget: budgetChart(melt.output),
    sharedByMethodPercent: shareOf('shared by the method', melt.output),
    scopePerMille: scopePerMilleOf(facts.standard.assayMethod, facts.editions),
    further: furtherOf(facts, melt.output),
    calculations: [melt.name, statement.name],
  };
}
