import { type ReweighingCheck, reweighingValue } from '@cupel/calculation';
import { probabilityWords } from './probability-words.ts';

/** Weighing or counting a suspected thing once more, as far as its facts are known beforehand. */
export interface LookAgain {
  readonly recordedPieces: number;
  /** Pieces that it holds more or fewer than recorded, for each value of the suspicion. */
  readonly changes: readonly { readonly value: number; readonly pieces: number }[];
  readonly act: ReweighingCheck['act'];
}

/** What it would tell. */
export interface ToldAgain {
  readonly openBits: number;
  readonly informationBits: number;
  readonly bitsPerMinute: number;
  /** What it can show, pieces more or fewer than recorded; nothing where it fits no number. */
  readonly outcomes: readonly { readonly shows: number | null; readonly probability: number }[];
  /** A count made blind must not be told what to find: only for those who see the book. */
  readonly isForBook: boolean;
  readonly words: string;
}

/** Outcomes less probable than this are not told. */
const leastTold = 5e-4;

const piecesAway = (count: number): string => `${count} ${count === 1 ? 'piece' : 'pieces'}`;

function shownWords(again: LookAgain, shows: number | null): string {
  if (shows === null) return 'no whole number';
  if (again.act.kind === 'weighing') return String(again.recordedPieces + shows);
  if (shows === 0) return 'the same number';
  return shows > 0 ? `${piecesAway(shows)} more` : `${piecesAway(-shows)} fewer`;
}

function toldWords(again: LookAgain, told: Omit<ToldAgain, 'words' | 'isForBook'>): string {
  const outcomes = told.outcomes
    .filter(({ probability }) => probability >= leastTold)
    .map(
      ({ shows, probability }) => `${shownWords(again, shows)} (${probabilityWords(probability)})`,
    );
  const act = again.act.kind === 'weighing' ? 'Weighed once more' : 'Counted once more';
  const settled = told.openBits > 0 ? told.informationBits / told.openBits : 0;
  return `${act} it shows ${outcomes.join(', ')}; that settles ${Math.round(100 * settled)} % of what is open here.`;
}

/** What weighing or counting once more would tell, given how probable each change is now. */
export function toldAgain(
  again: LookAgain,
  options: {
    readonly name: string;
    readonly minutes: number;
    /** Of the suspicion, by its value. */
    readonly probabilityOf: (value: number) => number;
  },
): ToldAgain | null {
  const wrong = again.changes.map(({ value, pieces }) => ({
    pieces,
    probability: options.probabilityOf(value),
  }));
  const sum = wrong.reduce((total, { probability }) => total + probability, 0);
  if (sum <= 0) return null;
  // Rounding can carry the sum beyond 1 by its last digits.
  const scale = Math.max(1, sum);
  const { checks } = reweighingValue({
    places: [],
    checks: [
      {
        name: options.name,
        recordedPieces: again.recordedPieces,
        minutes: options.minutes,
        act: again.act,
        options: [
          ...wrong.map(({ pieces, probability }) => ({ pieces, probability: probability / scale })),
          { pieces: 0, probability: Math.max(0, 1 - sum) },
        ],
      },
    ],
  });
  const [check] = checks;
  if (!check) return null;
  const told = {
    openBits: check.openBits,
    informationBits: check.informationBits,
    bitsPerMinute: check.bitsPerMinute,
    outcomes: check.outcomes
      .map(({ shows, probability }) => ({ shows, probability }))
      .sort((a, b) => b.probability - a.probability),
  };
  return { ...told, isForBook: again.act.kind === 'count', words: toldWords(again, told) };
}
