import {
  cupellationScopePerMille,
  type ReplicateAcceptanceOutput,
  titrationScopePerMille,
  type VerdictAtStatedRiskOutput,
} from '@cupel/calculation';
import { calculate } from '../../journal/calculated.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type AssayMethod,
  type MethodEdition,
  type PieceStandard,
  requiredProbabilityOf,
} from '../registers/index.ts';
import type { ResultFigures } from './bodies.ts';
import type { DeterminationRow } from './books.ts';
import { checkImpurities, type FoundContent } from './impurities/check.ts';
import { meltUncertainty, meltUncertaintyVersion } from './melt-uncertainty.ts';
import { laboratoryRefusals } from './refusals.ts';

/** What the result of a melt is made of. */
export interface EvaluationFacts {
  readonly melt: string;
  readonly standard: PieceStandard;
  /** Blanks that the draw chose for assay. */
  readonly blanksForAssay: number;
  /** The determinations that count, in the order in which they were obtained. */
  readonly valid: readonly DeterminationRow[];
  /** Contents of impurities in the solutions of those determinations; none by other methods. */
  readonly contents: readonly FoundContent[];
  /** Editions of the methods that their runs were made by; none where none was stated. */
  readonly editions: readonly MethodEdition[];
}

export type Evaluation =
  | { readonly figures: ResultFigures }
  | { readonly refusals: readonly Refusal[] };

/** Blanks that the first result must rest on at most, however many were drawn for assay. */
const mostBlanksNeeded = 4;

/** Blanks that a result must rest on: those drawn for assay, two at least, four at most. */
function blanksNeeded(blanksForAssay: number): number {
  return Math.max(2, Math.min(blanksForAssay, mostBlanksNeeded));
}

/** Fineness between which each method is in its scope. */
const methodScopesPerMille: Readonly<Record<AssayMethod, ScopePerMille>> = {
  cupellation: cupellationScopePerMille,
  // ISO 15093:2020, clause 1.
  'fineness-by-difference': { lowest: 999, highest: 1000 },
  titration: titrationScopePerMille,
};

/** Beyond this many degrees of freedom Student's t and the normal distribution are one. */
const manyDegreesOfFreedom = 1e6;

/** Fineness between which a result is in the scope of its method. */
export interface ScopePerMille {
  readonly lowest: number;
  readonly highest: number;
}

/** Scope of the method itself, narrowed by the editions that governed the runs. */
export function scopePerMilleOf(
  method: AssayMethod,
  editions: readonly MethodEdition[],
): ScopePerMille {
  const { lowest, highest } = methodScopesPerMille[method];
  return {
    lowest: Math.max(lowest, ...editions.map(({ scope }) => scope.leastPerMille)),
    highest: Math.min(highest, ...editions.map(({ scope }) => scope.greatestPerMille)),
  };
}

function scopeOf(
  method: AssayMethod,
  finenessPerMille: number,
  editions: readonly MethodEdition[],
): 'inside' | 'outside' {
  const { lowest, highest } = scopePerMilleOf(method, editions);
  return finenessPerMille >= lowest && finenessPerMille <= highest ? 'inside' : 'outside';
}

/** Refuses fewer determinations than an edition asks for, whatever the replicates say. */
function fewerThanAsked(facts: EvaluationFacts): Evaluation | undefined {
  const asked = facts.editions.find(
    (edition) => edition.determinationsAtLeast > facts.valid.length,
  );
  if (!asked) return undefined;
  const further = asked.determinationsAtLeast - facts.valid.length;
  return determinationsMissing(facts, {
    words: `${asked.title}, edition ${asked.edition}, asks for ${asked.determinationsAtLeast}.`,
    furtherResultsNeeded: further,
  });
}

function determinationsMissing(
  facts: EvaluationFacts,
  missing: { readonly words: string; readonly furtherResultsNeeded: number },
): Evaluation {
  return {
    refusals: [
      refuse(laboratoryRefusals, 'DeterminationsMissing', {
        message: `Melt ${facts.melt} has ${facts.valid.length} valid determinations. ${missing.words}`,
        figures: {
          melt: facts.melt,
          determinationsValid: facts.valid.length,
          furtherResultsNeeded: missing.furtherResultsNeeded,
        },
      }),
    ],
  };
}

function blanksMissing(facts: EvaluationFacts): readonly Refusal[] {
  const blanks = new Set(facts.valid.map((row) => row.blank)).size;
  const needed = blanksNeeded(facts.blanksForAssay);
  if (blanks >= needed) return [];
  return [
    refuse(laboratoryRefusals, 'BlanksForAssayMissing', {
      message: `The valid determinations of melt ${facts.melt} come from ${blanks} blank${blanks === 1 ? '' : 's'}; ${needed} are needed.`,
      figures: { melt: facts.melt, blanksAssayed: blanks, blanksNeeded: needed },
    }),
  ];
}

const statistics = {
  'more-needed': 'mean',
  accepted: 'mean',
  'median-of-four': 'median of four',
  'median-of-all': 'median of all',
} as const satisfies Readonly<Record<ReplicateAcceptanceOutput['state'], string>>;

function uncertaintyInput(facts: EvaluationFacts, state: ReplicateAcceptanceOutput['state']) {
  return {
    statistic: statistics[state],
    determinations: facts.valid.map((row) => ({
      run: row.assayRun,
      label: row.label,
      blank: row.blank,
      finenessPerMille: row.finenessPerMille,
      ownStandardUncertaintyPerMille: row.ownStandardUncertaintyPerMille,
      runStandardUncertaintyPerMille: row.runStandardUncertaintyPerMille,
      methodStandardUncertaintyPerMille: row.methodStandardUncertaintyPerMille,
    })),
  };
}

/**
 * Result of a melt from its valid determinations: acceptability of the replicates, uncertainty,
 * and the verdict under the piece standard's rule; or what is missing for one.
 */
export function evaluate(facts: EvaluationFacts): Evaluation {
  const { valid, standard } = facts;
  if (valid.length === 0) {
    const words = 'Two further results are needed.';
    return determinationsMissing(facts, { words, furtherResultsNeeded: 2 });
  }
  const replicates = calculate<ReplicateAcceptanceOutput>('replicate-acceptance', {
    resultsPerMille: valid.map((row) => row.finenessPerMille),
    duplicateLimitPerMille: standard.duplicateLimitPerMille,
  });
  const finenessPerMille = replicates.output.finalResultPerMille;
  if (finenessPerMille === null) return determinationsMissing(facts, replicates.output);
  const fewer = fewerThanAsked(facts);
  if (fewer) return fewer;
  const fewBlanks = blanksMissing(facts);
  if (fewBlanks.length > 0) return { refusals: fewBlanks };
  const input = uncertaintyInput(facts, replicates.output.state);
  const output = meltUncertainty(input);
  const freedom = output.effectiveDegreesOfFreedom;
  const isFew = freedom !== null && freedom <= manyDegreesOfFreedom;
  const decision = calculate<VerdictAtStatedRiskOutput>('verdict-at-stated-risk', {
    finenessPerMille,
    standardUncertaintyPerMille: output.standardUncertaintyPerMille,
    limitPerMille: standard.finenessLimitPerMille,
    degreesOfFreedom: isFew ? freedom : null,
    requiredConformanceProbability: requiredProbabilityOf(standard),
  });
  const impurities = checkImpurities(standard, facts.contents);
  return {
    figures: {
      finenessPerMille,
      standardUncertaintyPerMille: output.standardUncertaintyPerMille,
      degreesOfFreedom: freedom,
      scope: scopeOf(standard.assayMethod, finenessPerMille, facts.editions),
      verdict: decision.output.verdict,
      replicates: replicates.calculated,
      uncertainty: { version: meltUncertaintyVersion, input, output },
      decision: decision.calculated,
      ...(impurities ? { impurities } : {}),
    },
  };
}
