/** What goes wrong with a balance. */
export const balanceFaults = ['none', 'stuck', 'unstable', 'silent'] as const;
export type BalanceFault = (typeof balanceFaults)[number];

/** How a balance is built. */
export interface BalanceBuild {
  readonly unit: 'kg' | 'g' | 'mg';
  /** Smallest step of the display. */
  readonly divisionGrams: number;
  readonly capacityGrams: number;
  /** How long a new load takes until the display is stable. */
  readonly settleMilliseconds: number;
  /** How far the zero runs away. */
  readonly driftGramsPerMinute: number;
  /** What one weighing adds to the true mass, in grams; nothing for a balance without error. */
  readonly error?: () => number;
}

/** What the display shows at an instant. */
export interface Shown {
  readonly status: 'stable' | 'unstable' | 'overload';
  /** Digits in the unit of the balance; empty beyond its range. */
  readonly text: string;
  readonly unit: BalanceBuild['unit'];
  readonly isNet: boolean;
}

const gramsOf = { kg: 1000, g: 1, mg: 0.001 } as const;

/** So many time constants lie between a new load and a stable display. */
const settlingConstants = 12;

/** A balance on a bench: it settles, drifts, is tared, and shows what lies on it. Time is given to it. */
export class BenchBalance {
  readonly build: BalanceBuild;
  fault: BalanceFault = 'none';
  #unit: BalanceBuild['unit'];
  #load = 0;
  #before = 0;
  #changedAt = Number.NEGATIVE_INFINITY;
  #tareGrams = 0;
  #zeroedAt = 0;
  #stuckAt: Shown | undefined;

  constructor(build: BalanceBuild) {
    this.build = build;
    this.#unit = build.unit;
  }

  /** Another unit is chosen on its keys. */
  show(unit: BalanceBuild['unit']): void {
    this.#unit = unit;
  }

  /** Puts a load on the empty pan. */
  put(grams: number, now: number): void {
    this.#before = this.#gramsAt(now);
    this.#load = grams + (this.build.error?.() ?? 0);
    this.#changedAt = now;
  }

  /** Takes what lies on the pan as the tare. */
  tare(now: number): void {
    this.#zeroedAt = now;
    this.#tareGrams = this.#load;
  }

  shown(now: number): Shown {
    if (this.fault !== 'stuck') this.#stuckAt = undefined;
    else this.#stuckAt ??= this.#shown(now);
    return this.#stuckAt ?? this.#shown(now);
  }

  #shown(now: number): Shown {
    const base = { unit: this.#unit, isNet: this.#tareGrams !== 0 };
    if (this.#load > this.build.capacityGrams) return { ...base, status: 'overload', text: '' };
    const status = this.#isStable(now) ? 'stable' : 'unstable';
    return { ...base, status, text: this.#digits(this.#gramsAt(now) - this.#tareGrams) };
  }

  #isStable(now: number): boolean {
    const { settleMilliseconds, divisionGrams, driftGramsPerMinute } = this.build;
    const isFast = Math.abs(driftGramsPerMinute) / 60 > divisionGrams;
    return this.fault !== 'unstable' && !isFast && now - this.#changedAt >= settleMilliseconds;
  }

  #gramsAt(now: number): number {
    const { settleMilliseconds, driftGramsPerMinute, divisionGrams } = this.build;
    const passed = now - this.#changedAt;
    const part = Math.exp((-settlingConstants * passed) / settleMilliseconds);
    const left = passed >= settleMilliseconds ? 0 : (this.#before - this.#load) * part;
    const swing = this.fault === 'unstable' ? 20 * divisionGrams * Math.sin(now / 130) : 0;
    const drift = (driftGramsPerMinute * (now - this.#zeroedAt)) / 60_000;
    return this.#load + left + swing + drift;
  }

  #digits(grams: number): string {
    const { divisionGrams } = this.build;
    const division = divisionGrams / gramsOf[this.#unit];
    const decimals = Math.max(0, Math.ceil(-Math.log10(division) - 1e-9));
    const text = (Math.round(grams / divisionGrams) * division).toFixed(decimals);
    return Number(text) === 0 ? text.replace('-', '') : text;
  }
}
