import type { Outcome } from '../../src/journal/recorder.ts';
import type { PersonId } from '../demonstration/cast.ts';
import type { Recorded } from '../demonstration/hand.ts';
import type { MeltAtWork, Scene } from '../demonstration/state.ts';
import type { Crew } from './crew.ts';
import type { Ledger } from './ledger.ts';
import type { ProvingBalances } from './proving-balances.ts';
import { type ProvingHand, refusalNames } from './proving-hand.ts';
import type { ProvingPlant } from './proving-plant.ts';
import type { Standards } from './standards.ts';
import type { World } from './world.ts';

/** How much the plant works. */
export interface PlantSize {
  /** Presses; every second one strikes silver, the others gold; one strikes silver. */
  readonly presses: number;
  readonly runsPerShift: number;
  readonly piecesPerRun: number;
  /** True where melts are larger, and are shared out evenly to runs. */
  readonly isLarge: boolean;
  readonly benches: number;
  readonly drumsPerMelt: number;
  readonly piecesPerDrum: { readonly gold: number; readonly silver: number };
  /** Pieces in a tube and tubes in a box; as in the demonstration where they are left out. */
  readonly piecesPerTube?: number;
  readonly tubesPerBox?: number;
}

/** A search that was made, and what it cost. */
export interface SearchMade {
  readonly shift: string;
  readonly pieceStandard: string;
  readonly looks: number;
  readonly minutes: number;
  /** Longest wait for a ranking. */
  readonly slowestRankingSeconds: number;
  /** The look at which the cause was seen; null where none was. */
  readonly foundAt: string | null;
  /** Expected minutes to the same cause in the habitual order; null where nothing was found. */
  readonly habitualMinutes: number | null;
}

/** Something that had to be done and that the record left no way to do. */
export interface Obstacle {
  readonly shift: string;
  readonly words: string;
}

/** Everything that the proving ground knows beside the record. */
export interface Ground extends Scene {
  readonly hand: ProvingHand;
  readonly melts: MeltAtWork[];
  readonly plant: ProvingPlant;
  readonly crew: Crew;
  readonly ledger: Ledger;
  readonly balances: ProvingBalances;
  readonly world: World;
  readonly size: PlantSize;
  readonly standards: Standards;
  readonly searches: SearchMade[];
  readonly obstacles: Obstacle[];
  /** How what a fault has exchanged is put right when it is found, by the number of the fault. */
  readonly mends: Map<number, () => void>;
  /** The entry with which the present shift began. */
  readonly shiftBegan: { entry: number };
  /** Pieces that each press is behind its plan; below 0 where it is ahead. */
  readonly behind: Map<string, number>;
  /** Presses that still strike in this shift. */
  pressesAtWork: number;
  /** For how many shifts nothing of a melt has lain anywhere, and where the last shifts began. */
  readonly idle: { readonly melts: Map<MeltAtWork, number>; readonly shiftsBegan: number[] };
  /** Acts of rejects that people will write only after the tallies. */
  readonly lateActs: (() => Promise<void>)[];
}

/** A person of the proving ground who is not in the cast of the demonstration. */
export const someone = (id: string): PersonId => id as PersonId;

/** What a person asks the plant to record. */
export type Act = Parameters<ProvingHand['ask']>[0];

/** How an act went: recorded, or refused with those names. */
export interface Tried {
  readonly recorded: Recorded | undefined;
  readonly refusals: readonly string[];
  readonly outcome: Outcome;
}

/** Tries an act; a refusal is an answer. */
export async function attempt(ground: Ground, act: Act): Promise<Tried> {
  const outcome = await ground.hand.ask(act);
  const recorded = outcome.outcome === 'recorded' ? outcome : undefined;
  return { recorded, refusals: refusalNames(outcome), outcome };
}

/** The words of the refusals of an act that had to be recorded. */
export function unexpected(act: Act, { refusals }: Tried): Error {
  return new Error(`${act.command} by ${act.by} was refused: ${refusals.join(', ')}`);
}
