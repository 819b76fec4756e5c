import type { Reading } from '../../src/journal/reading.ts';
import type { Chance } from '../chance.ts';
import { balances } from '../demonstration/instruments.ts';
import { type TrueBalance, weigh } from '../demonstration/readings.ts';
import type { Ledger } from './ledger.ts';

type BalanceName = keyof typeof balances;

/** Standard deviation of a weighing that is worth nothing, in grams. */
const badSpreadGrams = 20;

/** So much a balance drifts in a shift at the most, relative to the mass. */
const greatestDrift = 3e-4;

/** The balances of the plant with what is wrong with them. */
export class ProvingBalances {
  readonly #ledger: Ledger;
  readonly #chance: Chance;
  /** Error of span beyond the declared one, and what it grows by in a shift. */
  readonly #drifts = new Map<BalanceName, { now: number; perShift: number }>();
  readonly #shown = new Map<BalanceName, Reading>();

  constructor(ledger: Ledger, chance: Chance) {
    this.#ledger = ledger;
    this.#chance = chance;
  }

  /** Begins a shift: drifts go on, and a new one may begin. */
  beginShift(): void {
    for (const drift of this.#drifts.values()) drift.now += drift.perShift;
    if (!this.#ledger.happens('balance drifts')) return;
    const name = this.#chance.one(['press', 'tubes', 'boxes'] as const);
    if (this.#drifts.has(name)) return;
    const sign = this.#chance.one([-1, 1]);
    const perShift = sign * greatestDrift * (0.1 + 0.9 * this.#chance.uniform());
    this.#drifts.set(name, { now: perShift, perShift });
    this.#ledger.plant('balance drifts', {
      words: `${balances[name].instrument} drifts by ${(perShift * 1e6).toFixed(0)} ppm in each shift`,
      seenAt: [`balance/${name}`],
    });
  }

  isDrifting(name: BalanceName): boolean {
    return this.#drifts.has(name);
  }

  /** The balance is adjusted: its drift is gone. */
  adjust(name: BalanceName): void {
    this.#drifts.delete(name);
  }

  /** A net mass, container tared off, as the balance shows it. */
  net(name: BalanceName, grams: number): Reading {
    return weigh(this.#balance(name), grams, this.#chance);
  }

  /** Gross and tare of a thing; what goes wrong with them is planted at that thing. */
  grossAndTare(
    name: BalanceName,
    load: { readonly grams: number; readonly tareGrams: number; readonly thing: string },
  ): { gross: Reading; tare: Reading } {
    const { grams, tareGrams, thing } = load;
    const [stuck, wrong, bad] = (['display stuck', 'wrong tare', 'bad weighing'] as const).map(
      (kind) => this.#ledger.happens(kind),
    );
    const words = `${balances[name].instrument}, ${thing}`;
    const before = this.#shown.get(name);
    if (stuck && before) {
      this.#ledger.plant('display stuck', { words, seenAt: [thing] });
      return { gross: before, tare: this.net(name, tareGrams) };
    }
    if (wrong) this.#ledger.plant('wrong tare', { words, seenAt: [thing] });
    else if (bad) this.#ledger.plant('bad weighing', { words, seenAt: [thing] });
    const off = bad && !wrong ? this.#chance.normal(0, badSpreadGrams) : 0;
    const tared = tareGrams * (wrong ? 0.2 + 0.6 * this.#chance.uniform() : 1);
    const gross = this.net(name, Math.max(1, grams + tareGrams + off));
    this.#shown.set(name, gross);
    return { gross, tare: this.net(name, tared) };
  }

  #balance(name: BalanceName): TrueBalance {
    const { gain, ...rest } = balances[name];
    return { ...rest, gain: gain + (this.#drifts.get(name)?.now ?? 0) };
  }
}
