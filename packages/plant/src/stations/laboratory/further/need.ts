import type { BookReader } from '../../../journal/books.ts';
import { type FurtherRound, furtherRoundsOf } from '../../receiving/index.ts';
import type { DeterminationRow } from '../books.ts';
import { evaluate } from '../evaluation.ts';
import { evaluationFacts } from '../evaluation-facts.ts';
import { type MeltFacts, meltFacts, type SampledMelt } from '../melt-facts.ts';
import { determinationsOf } from '../read-model-queries.ts';
import { areImpuritiesOpen, isOpenForAssay } from '../stage.ts';
import type { FurtherCause } from './bodies.ts';

/** What the asking for further blanks needs to know. */
export interface AskFacts {
  readonly melt: MeltFacts;
  readonly determinations: readonly DeterminationRow[];
  /** True where the determinations that count give no result. */
  readonly isIncomplete: boolean;
  readonly rounds: readonly FurtherRound[];
}

export async function askFacts(
  books: BookReader,
  input: { readonly melt: string },
): Promise<AskFacts> {
  const melt = await meltFacts(books, input.melt);
  const evaluated = melt.known === 'sampled' ? await evaluationFacts(books, melt) : undefined;
  return {
    melt,
    determinations: await determinationsOf(books, input.melt),
    isIncomplete: evaluated !== undefined && 'refusals' in evaluate(evaluated),
    rounds: await furtherRoundsOf(books, input.melt),
  };
}

/** Why further blanks are needed; nothing where they are not. */
export function causeOf(sampled: SampledMelt, facts: AskFacts): FurtherCause | undefined {
  const { trial } = sampled;
  if (trial?.ruling === 'hold') return 'the melt is held';
  if (trial && trial.resultState !== 'none') {
    if (trial.verdict === 'undecided') return 'the verdict is undecided';
    return areImpuritiesOpen(trial.impurities) ? 'the impurities are undecided' : undefined;
  }
  if (facts.determinations.some(({ state }) => state !== 'valid')) {
    return 'a determination does not count';
  }
  if (facts.determinations.length < 2 || !facts.isIncomplete) return undefined;
  return 'the determinations do not agree';
}

/** The round that is asked for and has not come to the laboratory. */
export function roundOnTheWay({ rounds }: Pick<AskFacts, 'rounds'>): FurtherRound | undefined {
  return rounds.find(({ state }) => state === 'asked' || state === 'drawn');
}

/** Blanks that were drawn for assay, are whole, and lie in the laboratory. */
export function leftForAssay(sampled: SampledMelt): readonly string[] {
  return [...sampled.drawn.values()]
    .filter(({ forAssay }) => forAssay)
    .map(({ blank }) => blank)
    .filter((blank) => {
      const row = sampled.measured.get(blank);
      return !row?.cut && !row?.returned && !sampled.held.has(blank);
    });
}

/** Blanks that were cut and of which no determination was made, not even one that was set aside. */
export function cutNotAssayed(
  sampled: SampledMelt,
  { determinations }: Pick<AskFacts, 'determinations'>,
): readonly string[] {
  const assayed = new Set(determinations.map(({ blank }) => blank));
  return [...sampled.measured.values()]
    .filter(({ blank, cut }) => cut !== null && !assayed.has(blank))
    .map(({ blank }) => blank);
}

/** What a page says of further blanks: what was asked for, and why more may be asked for now. */
export async function furtherAnswer(books: BookReader, sampled: SampledMelt) {
  const facts = await askFacts(books, { melt: sampled.melt.melt });
  const open = roundOnTheWay(facts);
  const { trial } = sampled;
  const isOpen = trial !== undefined && isOpenForAssay(trial);
  const waiting = [...leftForAssay(sampled), ...cutNotAssayed(sampled, facts)];
  const isAskable = isOpen && !open && waiting.length === 0;
  return {
    mayAskSince: isAskable ? (causeOf(sampled, facts) ?? null) : null,
    rounds: facts.rounds.map(({ round, pieces, state, reason, askedEntry, askedAt, drawn }) => ({
      round,
      pieces,
      state,
      reason,
      askedEntry,
      askedAt,
      blanks: (drawn?.blanks ?? []).map(({ blank }) => blank),
    })),
  };
}
