import type { Chance } from '../chance.ts';
import { type Family, type FaultKind, faultKinds } from './fault-kinds.ts';

/** What showed a fault. */
export const controls = [
  'count by weight',
  'box against tubes',
  'tally',
  'search',
  'gram balance',
  'count of a delivery',
  'laboratory',
  'rule that refuses',
  'verification',
] as const;

type Control = (typeof controls)[number];

/** A fault that was planted and what became of it. */
export interface Planted {
  readonly number: number;
  readonly kind: FaultKind;
  readonly shift: string;
  readonly words: string;
  /** Looks and things at which it can be seen. */
  readonly seenAt: ReadonlySet<string>;
  /** Places at which pieces and record can differ by it. */
  readonly places: readonly string[];
  readonly pieceStandard: string | null;
  /** Merged: no difference is left, since an opposite one or a signature for another took it up. */
  state: 'planted' | 'found' | 'signed' | 'merged';
  control: Control | null;
  foundIn: string | null;
  /** Why it is left open and signed. */
  reason: string | null;
}

/** Something that a control took for a fault where none was planted. */
export interface FalseAlarm {
  readonly shift: string;
  readonly control: Control;
  readonly words: string;
}

/** Whether a count of what lies open can show it: what is sealed is counted by its label until it is opened. */
function isSeenByTally({ kind, control }: Planted): boolean {
  return control !== null || !sealedKinds.has(kind);
}

const sealedKinds: ReadonlySet<FaultKind> = new Set([
  'piece stolen from a sealed box',
  'piece stolen from a tube',
  'piece put into the wrong tube',
  'drum short',
]);

/** Every fault of a run: planted by chance, found by controls. */
export class Ledger {
  readonly planted: Planted[] = [];
  readonly falseAlarms: FalseAlarm[] = [];
  readonly #chance: Chance;
  readonly #mix: (kind: FaultKind) => number;
  /** Faults by each look and thing at which they can be seen. */
  readonly #byLook = new Map<string, Planted[]>();
  shift = '';

  constructor(chance: Chance, mix: (kind: FaultKind) => number) {
    this.#chance = chance;
    this.#mix = mix;
  }

  /** Whether a fault of that kind happens at this opportunity. */
  happens(kind: FaultKind): boolean {
    const rate = faultKinds[kind].rate * this.#mix(kind);
    return rate > 0 && this.#chance.uniform() < rate;
  }

  plant(
    kind: FaultKind,
    fault: {
      readonly words: string;
      readonly seenAt: readonly string[];
      readonly places?: readonly string[];
      readonly pieceStandard?: string;
    },
  ): Planted {
    const planted: Planted = {
      number: this.planted.length + 1,
      kind,
      shift: this.shift,
      words: fault.words,
      seenAt: new Set(fault.seenAt),
      places: fault.places ?? [],
      pieceStandard: fault.pieceStandard ?? null,
      state: 'planted',
      control: null,
      foundIn: null,
      reason: null,
    };
    this.planted.push(planted);
    for (const look of planted.seenAt) {
      const known = this.#byLook.get(look);
      if (known) known.push(planted);
      else this.#byLook.set(look, [planted]);
    }
    return planted;
  }

  /** The faults that are still there and can be seen at that look or thing. */
  at(look: string): readonly Planted[] {
    return (this.#byLook.get(look) ?? []).filter(({ state }) => state === 'planted');
  }

  /** A control has shown whatever is wrong there, or only what is of one family or piece standard; answers what it was. */
  found(
    look: string,
    control: Control,
    only: { readonly family?: Family; readonly pieceStandard?: string } = {},
  ): readonly Planted[] {
    const { family, pieceStandard } = only;
    const shown = this.at(look).filter(
      (fault) =>
        (family === undefined || faultKinds[fault.kind].family === family) &&
        (pieceStandard === undefined || fault.pieceStandard === pieceStandard),
    );
    for (const fault of shown) this.settle(fault, control);
    return shown;
  }

  settle(fault: Planted, control: Control): void {
    fault.state = 'found';
    fault.control = control;
    fault.foundIn = this.shift;
  }

  /** What was found is only half of it: the pieces are still not where they should be, and a count shows it now. */
  keepOpen(fault: Planted): void {
    fault.state = 'planted';
  }

  /** A control has shown that something is wrong there, but the pieces are still not where they should be. */
  notice(look: string, control: Control): readonly Planted[] {
    const shown = this.at(look);
    for (const fault of shown) {
      fault.control ??= control;
      fault.foundIn ??= this.shift;
    }
    return shown;
  }

  /** A control has spoken of a thing: of the fault there, or without one. */
  alarm(look: string, control: Control, words: string): readonly Planted[] {
    const isKnown = this.#byLook.has(look);
    const shown = this.found(look, control);
    if (!isKnown) this.falseAlarms.push({ shift: this.shift, control, words });
    return shown;
  }

  /** Two people sign for the difference that these faults leave at a place. */
  sign(place: string, pieceStandard: string, reason: string): readonly Planted[] {
    const signed = this.openAt(place, pieceStandard).filter(
      (fault) => fault.state !== 'signed' && isSeenByTally(fault),
    );
    for (const fault of signed) {
      fault.state = 'signed';
      fault.foundIn ??= this.shift;
      fault.reason = reason;
    }
    return signed;
  }

  /**
   * Faults whose pieces a count shows and which leave no difference any more: where an honest count
   * of each place gives what its book says, another signature or an opposite fault has taken them up.
   */
  merge(isLevel: (place: string, pieceStandard: string) => boolean): void {
    for (const fault of this.planted) {
      const { pieceStandard, places } = fault;
      if (fault.state !== 'planted' || pieceStandard === null || !isSeenByTally(fault)) continue;
      if (places.every((place) => isLevel(place, pieceStandard))) fault.state = 'merged';
    }
  }

  /** Whether a fault of pieces was ever signed for there: its opposite may come back. */
  wasSigned(place: string, pieceStandard: string): boolean {
    return this.planted.some(
      (fault) =>
        fault.reason !== null &&
        fault.places.includes(place) &&
        fault.pieceStandard === pieceStandard,
    );
  }

  /** Faults of pieces, not found, that can make record and pieces differ at a place. */
  openAt(place: string, pieceStandard: string): readonly Planted[] {
    return this.planted.filter(
      (fault) =>
        fault.state !== 'found' &&
        fault.places.includes(place) &&
        fault.pieceStandard === pieceStandard,
    );
  }
}
