import { type Chance, chanceFrom } from '../chance.ts';
import { otter } from './cast.ts';
import type { Recorded } from './hand.ts';
import type { Scene } from './state.ts';

/** A run that the record holds, by its entry. */
interface Made {
  readonly melt: string;
  readonly entry: number;
  readonly reagentLots: readonly string[];
}

/** A sealed portion of a sample: the blanks in it, or only grams of cuttings. */
export interface KeptPortion {
  readonly portion: string;
  readonly melt: string;
  readonly seal: string;
  readonly for: 'plant' | 'supplier' | 'umpire' | 'reserve';
  readonly blanks: readonly string[];
}

/**
 * What the demonstration knows of methods, stores and controls beside the record. A plant without
 * it works as one that has stated no methods.
 */
export interface Equipment {
  /** Chance of its own, so that controls change nothing else of the story. */
  readonly chance: Chance;
  /** Chance of pieces that came later, by piece standard, so that they change nothing else either. */
  readonly ownChance: ReadonlyMap<string, Chance>;
  /** The day at work: its local date, and its number from 0. */
  today: { readonly date: string; readonly day: number };
  readonly runs: Made[];
  /** Sealed portions that lie in the laboratory, and opened ones. */
  readonly portions: KeptPortion[];
  /** Signed differences about pieces that are not found yet. */
  readonly missing: string[];
  /** True grams that left the laboratory in another form than blanks, by melt. */
  readonly takenOutGrams: Map<string, number>;
  /** True grams of pieces that are held in the press room, by piece standard. */
  readonly heldGrams: Map<string, number>;
  /** True grams of the pieces in each box. */
  readonly boxGrams: Map<string, number>;
  /** Boxes that were put into a rack, with the rack. */
  readonly putAway: Map<string, string>;
  /** Difference documents by what they are about. */
  readonly differences: Map<string, RaisedDifference>;
}

/** A document to a supplier, as far as its settlement needs it. */
export interface RaisedDifference {
  readonly difference: string;
  readonly lines: readonly {
    readonly thing: string;
    readonly id: string;
    readonly differencePieces: number;
    readonly differenceMicrograms: number;
  }[];
}

/** The equipment of a new plant. */
export function newEquipment(seed: number, firstDay: string): Equipment {
  return {
    chance: chanceFrom(seed + 104_729),
    ownChance: new Map([[otter.pieceStandard, chanceFrom(seed + 15_485_863)]]),
    today: { date: firstDay, day: 0 },
    runs: [],
    portions: [],
    missing: [],
    takenOutGrams: new Map(),
    heldGrams: new Map(),
    boxGrams: new Map(),
    putAway: new Map(),
    differences: new Map(),
  };
}

/** The number of the first entry that was recorded. */
export function firstEntryOf(recorded: Recorded): number {
  const [entry] = recorded.entries;
  if (!entry) throw new Error('nothing was recorded');
  return entry.number;
}

/** The scene with the chance of its own that a piece has, if it has one. */
export function withOwnChance(scene: Scene, pieceStandard: string): Scene {
  const chance = scene.equipment?.ownChance.get(pieceStandard);
  return chance ? { ...scene, chance } : scene;
}
