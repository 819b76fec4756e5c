import type { Chance } from '../chance.ts';
import type { Equipment } from './equipment.ts';
import type { FolderLike } from './folder-like.ts';
import type { Hand } from './hand.ts';
import type { Heap, TrueMelt } from './metal.ts';

/** A melt at work in the plant: what it really is and where its pieces lie. */
export interface MeltAtWork {
  readonly truth: TrueMelt;
  readonly consignment: string;
  /** True blanks at receiving, by drum, in the order of their positions. */
  readonly drums: Map<string, Heap>;
  /** Drawn blanks in the laboratory, by blank id. */
  readonly drawn: Map<string, number>;
  /** Pieces that have come to put-up and are still loose. */
  readonly loose: Heap;
  /** Drawn blanks that the order chose for assay. */
  assayBlanks: readonly string[];
  examined: boolean;
  ruling: 'none' | 'release' | 'refuse';
}

/** A closed tube whose count is proved, with its true gross mass. */
export interface FilledTube {
  readonly tube: string;
  readonly grossGrams: number;
  /** True mass of its pieces. */
  readonly netGrams?: number;
}

/** Everything that the demonstration knows beside the record. */
export interface Scene {
  readonly hand: Hand;
  readonly chance: Chance;
  readonly attachments: FolderLike;
  readonly melts: MeltAtWork[];
  /** Proved tubes that wait for a box, by piece standard. */
  readonly openTubes: Map<string, FilledTube[]>;
  /** Boxes packed and not yet certified, and certified and not yet sent, by piece standard. */
  readonly boxesPacked: { box: string; pieceStandard: string }[];
  readonly boxesCertified: { box: string; pieceStandard: string }[];
  /** Strokes of each press so far. */
  readonly counters: Map<string, number>;
  readonly numbers: Map<string, number>;
  /** Methods, stores and controls; a plant without them states no methods. */
  readonly equipment?: Equipment;
}

/** The next number of a series, as text with leading zeros: `nextNumber(scene, 'T', 5)` is `T00001`. */
export function nextNumber(scene: Scene, prefix: string, digits: number): string {
  const number = (scene.numbers.get(prefix) ?? 0) + 1;
  scene.numbers.set(prefix, number);
  return `${prefix}${String(number).padStart(digits, '0')}`;
}
