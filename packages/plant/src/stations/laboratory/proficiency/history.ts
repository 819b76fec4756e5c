import {
  type Chart,
  calculationById,
  type LimitRule,
  type ScoreHistoryOutput,
} from '@cupel/calculation';
import type { BookReader } from '../../../journal/books.ts';
import { type Calculated, calculate } from '../../../journal/calculated.ts';
import { proficiencyRounds, type RoundRow } from './books.ts';

/** The rounds of one characteristic in the order of their days, with what their scores say together. */
export interface RoundHistory {
  readonly characteristic: string;
  readonly rounds: readonly RoundRow[];
  readonly history: Calculated;
  readonly output: ScoreHistoryOutput;
  readonly drawings: readonly (Chart | LimitRule)[];
}

const id = 'score-history';
/** As many as the calculation takes; older rounds stay in the list. */
const mostRounds = 500;
/** The greatest score that the calculation takes: beyond it nothing more is learnt. */
const greatestScore = 1000;

const within = (score: number): number => Math.max(-greatestScore, Math.min(greatestScore, score));

export async function historyOf(
  books: BookReader,
  characteristic: string,
): Promise<RoundHistory | undefined> {
  const rounds = await books.select(proficiencyRounds, {
    by: 'byCharacteristic',
    prefix: [characteristic],
  });
  if (rounds.length === 0) return undefined;
  const input = {
    participant: 'Own laboratory',
    characteristic,
    rounds: rounds
      .slice(-mostRounds)
      .map(({ round, score }) => ({ name: round, z: within(score) })),
  };
  const { calculated, output } = calculate<ScoreHistoryOutput>(id, input);
  const drawings = calculationById(id).draw?.(input, output) ?? [];
  return { characteristic, rounds, history: calculated, output, drawings };
}

/** Every characteristic that rounds have been recorded of, in order. */
export async function histories(books: BookReader): Promise<readonly RoundHistory[]> {
  const rows = await books.select(proficiencyRounds);
  const names = [...new Set(rows.map(({ characteristic }) => characteristic))].sort();
  const found = await Promise.all(names.map((name) => historyOf(books, name)));
  return found.flatMap((one) => (one ? [one] : []));
}

const patternWords = {
  'beyond-action': 'its score lies at 3 or beyond',
  'two-of-three-beyond-warning': 'two of three scores lie beyond 2',
  'six-on-one-side': 'six scores in a row lie on one side',
} as const;

/** What signals at a round: its own verdict, its uncertainty, and what the history says there. */
function signalsOf(row: RoundRow, output: ScoreHistoryOutput): readonly string[] {
  const signals: string[] = [];
  if (row.verdict !== 'satisfactory') signals.push(`the result is ${row.verdict}`);
  if (row.isEnSatisfactory === false) {
    signals.push('the stated uncertainties do not cover the deviation');
  }
  const own = output.signals.filter(({ round }) => round === row.round);
  return [...signals, ...own.map(({ signal }) => patternWords[signal])];
}

/** The signals of a round that nobody has answered yet. */
export function openSignals(row: RoundRow, output: ScoreHistoryOutput): readonly string[] {
  return row.answered ? [] : signalsOf(row, output);
}
