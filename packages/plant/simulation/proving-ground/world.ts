import type { InsidePlace } from '../../src/journal/place.ts';
import { type Heap, heapGrams } from '../demonstration/metal.ts';
import type { MeltAtWork } from '../demonstration/state.ts';

/** A tube as it really is. */
export interface TrueTube {
  readonly tube: string;
  readonly melt: MeltAtWork;
  readonly heap: Heap;
  /** Pieces that its label says. */
  readonly label: number;
  readonly tareGrams: number;
  /** Net mass that the record holds of it; it is counted and weighed by its label. */
  netMicrograms: number;
}

/** A sealed box as it really is. */
export interface TrueBox {
  readonly box: string;
  readonly pieceStandard: string;
  readonly tubes: readonly TrueTube[];
  readonly seal: string;
  readonly tareGrams: number;
  /** Pieces that its label says, less what a search has shown to be gone. */
  label: number;
  /** Whether an entry says that it was packed. */
  isWritten: boolean;
  /** Whether two people have signed for its lying here without an entry. */
  isSigned: boolean;
}

/** Pieces on their way to put-up. */
export interface TrueDelivery {
  readonly entry: number;
  readonly melt: MeltAtWork;
  readonly heap: Heap;
  /** Pieces that the sender signed for. */
  readonly label: number;
  readonly sender: string;
}

/** Pieces that lie where no entry says. */
interface Unwritten {
  readonly melt: MeltAtWork;
  readonly heap: Heap;
  readonly run: string;
}

/** What an entry that moves pieces says against what was really moved. */
export interface PaperOfEntry {
  readonly entry: number;
  readonly said: number;
  /** 0 where the entry is a second one of the same act. */
  readonly moved: number;
}

const sum = (values: Iterable<number>): number => {
  let total = 0;
  for (const value of values) total += value;
  return total;
};

/** Where every piece really lies. People count what they can see; what is sealed they count by its label. */
export class World {
  readonly melts: MeltAtWork[] = [];
  /** Drums that have not been opened, with the pieces that the record says are in them. */
  readonly sealedDrums = new Map<string, number>();
  /** Drawn blanks that lie whole in the laboratory, by melt. */
  readonly laboratory = new Map<string, Heap>();
  /** Blanks and pieces in the press room, by melt. */
  readonly press = new Map<string, Heap>();
  readonly deliveries = new Map<number, TrueDelivery>();
  /** Deliveries that lie in put-up although nobody has accepted them. */
  readonly arrived = new Map<number, TrueDelivery>();
  readonly tubes = new Map<string, TrueTube>();
  /** Tubes that were opened: what lay in them is known. */
  readonly openedTubes = new Set<string>();
  readonly boxes = new Map<string, TrueBox>();
  readonly scrap = new Map<string, Heap>();
  readonly archive = new Map<string, Heap>();
  /** Pieces under a bench, by place and melt. */
  readonly fallen: { place: InsidePlace; melt: MeltAtWork; grams: number }[] = [];
  readonly rejectsUnwritten: Unwritten[] = [];
  readonly samplesUnwritten: { melt: MeltAtWork; grams: number; isSigned: boolean }[] = [];
  readonly papers = new Map<number, PaperOfEntry>();
  stolen = 0;
  /** Pieces struck so far. */
  struck = 0;

  heapOf(heaps: Map<string, Heap>, key: string): Heap {
    const heap = heaps.get(key) ?? [];
    heaps.set(key, heap);
    return heap;
  }

  /** Pieces at a place as honest people count them. */
  countedAt(place: InsidePlace, pieceStandard: string): number {
    return this.#at(place, pieceStandard, true);
  }

  /** Pieces that really lie at a place, wherever under its roof. */
  trulyAt(place: InsidePlace, pieceStandard: string): number {
    const underBenches = this.fallen.filter(
      (piece) => piece.place === place && standardOf(piece.melt) === pieceStandard,
    );
    return this.#at(place, pieceStandard, false) + underBenches.length;
  }

  /** Net mass as it is found at a place: what lies open as it is, what is sealed by its label; in grams. */
  gramsFoundAt(place: InsidePlace, pieceStandard: string): { open: number; labelled: number } {
    const melts = this.#of(pieceStandard);
    if (place === 'press-room') {
      return {
        open: sum(melts.map((melt) => heapGrams(this.press.get(idOf(melt)) ?? []))),
        labelled: 0,
      };
    }
    if (place !== 'put-up') return { open: 0, labelled: 0 };
    const tubes = [...this.tubes.values()].filter(({ melt }) => standardOf(melt) === pieceStandard);
    return {
      open: sum(melts.map(({ loose }) => heapGrams(loose))),
      labelled: sum(tubes.map(({ netMicrograms }) => netMicrograms)) / 1e6,
    };
  }

  /** Pieces of a melt that really lie at a place, by their labels where they are sealed. */
  ofMelt(place: InsidePlace, melt: MeltAtWork): number {
    const inTubes = (tubes: Iterable<TrueTube>) =>
      sum([...tubes].map((tube) => (tube.melt === melt ? tube.label : 0)));
    switch (place) {
      case 'press-room':
        return this.press.get(idOf(melt))?.length ?? 0;
      case 'put-up':
        return melt.loose.length + inTubes(this.tubes.values());
      case 'strong-room':
        return sum([...this.boxes.values()].map(({ tubes }) => inTubes(tubes)));
      case 'receiving':
        return sum([...melt.drums.values()].map((heap) => heap.length));
      default:
        return 0;
    }
  }

  /**
   * Two people have signed for what was moved without an entry at a place: book and pieces agree
   * now, and nobody must write the move any more.
   */
  settleUnwritten(place: InsidePlace, pieceStandard: string): void {
    const isOf = ({ melt }: { melt: MeltAtWork }) => standardOf(melt) === pieceStandard;
    if (place === 'scrap') {
      const others = this.rejectsUnwritten.filter((rejects) => !isOf(rejects));
      this.rejectsUnwritten.splice(0, this.rejectsUnwritten.length, ...others);
    }
    if (place === 'laboratory') {
      for (const sample of this.samplesUnwritten) sample.isSigned ||= isOf(sample);
    }
    if (place === 'strong-room') {
      for (const box of this.boxes.values()) box.isSigned ||= box.pieceStandard === pieceStandard;
    }
    if (place !== 'in-transit') return;
    for (const [entry, delivery] of this.arrived) if (isOf(delivery)) this.arrived.delete(entry);
  }

  #of(pieceStandard: string): readonly MeltAtWork[] {
    return this.melts.filter((melt) => standardOf(melt) === pieceStandard);
  }

  #at(place: InsidePlace, pieceStandard: string, byLabel: boolean): number {
    const isOf = ({ melt }: { melt: MeltAtWork }) => standardOf(melt) === pieceStandard;
    const sealed = (heap: Heap, label: number) => (byLabel ? label : heap.length);
    if (place === 'receiving') {
      const drums = this.#of(pieceStandard).flatMap((melt) => [...melt.drums]);
      return sum(
        drums.map(([drum, heap]) => sealed(heap, this.sealedDrums.get(drum) ?? heap.length)),
      );
    }
    if (place === 'laboratory') {
      const whole = this.#of(pieceStandard).map(
        (melt) => this.laboratory.get(idOf(melt))?.length ?? 0,
      );
      return sum(whole) + this.samplesUnwritten.filter(isOf).length;
    }
    if (place === 'press-room') {
      return sum(this.#of(pieceStandard).map((melt) => this.press.get(idOf(melt))?.length ?? 0));
    }
    if (place === 'in-transit') {
      return sum([...this.deliveries.values()].filter(isOf).map(({ heap }) => heap.length));
    }
    if (place === 'put-up') {
      const tubes = [...this.tubes.values()].filter(isOf);
      const loose = this.#of(pieceStandard).map((melt) => melt.loose.length);
      return sum(loose) + sum(tubes.map(({ heap, label }) => sealed(heap, label)));
    }
    if (place === 'strong-room') {
      const boxes = [...this.boxes.values()].filter((box) => box.pieceStandard === pieceStandard);
      return sum(boxes.map((box) => (byLabel ? box.label : piecesIn(box))));
    }
    const heaps = place === 'scrap' ? this.scrap : this.archive;
    return heaps.get(pieceStandard)?.length ?? 0;
  }
}

/** Pieces that really lie in a box. */
export function piecesIn({ tubes }: TrueBox): number {
  return sum(tubes.map(({ heap }) => heap.length));
}

export const idOf = (melt: MeltAtWork): string => melt.truth.melt;

export const standardOf = (melt: MeltAtWork): string => melt.truth.standard.pieceStandard;
