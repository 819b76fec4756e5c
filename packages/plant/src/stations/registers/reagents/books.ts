import { defineBook } from '../../../journal/books.ts';
import type { ReagentLotReceived, TitrantFactorStated } from './bodies.ts';

type Act = { readonly entry: number; readonly instant: string; readonly author: string };

export type TitrantFactorRow = Readonly<TitrantFactorStated> &
  Act & {
    /** Entry that set its determination aside; null while it counts. */
    readonly withdrawn: number | null;
  };

export type ReagentLotRow = Readonly<ReagentLotReceived> & {
  readonly state: 'closed' | 'open' | 'condemned';
  readonly opened: Act | null;
  readonly condemned: (Act & { readonly reason: string }) | null;
  /** The newest factor of a titrant; null before the first, and for any other reagent. */
  readonly factor: TitrantFactorRow | null;
  readonly entry: number;
  readonly since: string;
};

export const reagentLots = defineBook<ReagentLotRow>({
  name: 'registers_reagent_lot',
  meaning: 'A lot of a reagent: whether it may be used, and until when.',
  key: ['lot'],
  indexes: { byState: ['state', 'lot'] },
});

export const titrantFactors = defineBook<TitrantFactorRow>({
  name: 'registers_titrant_factor',
  meaning: 'Every factor that was determined of a titrant.',
  key: ['lot', 'entry'],
});

export const reagentBooks = [reagentLots, titrantFactors] as const;
