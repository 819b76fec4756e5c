import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import { registersStation } from '../registers/station.ts';
import { receivingStation } from './station.ts';
import { grams, makeOrderedTrial } from './trial-receiving.ts';

describe('the books of registers and receiving', () => {
  it('are the same when they are made anew from the journal', async () => {
    const trial = await makeOrderedTrial();
    const drawing = { melt: 'M-2', gross: grams('200.1'), instrument: 'BALANCE-1' };
    await trial.recorded('record-draw', drawing, 'inspector');
    const registry = registerStations([registersStation, receivingStation]);
    const rebuilt = new MemoryStore('trial');
    expect(await rebuildInto(trial.store, rebuilt, registry)).toBe(10);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    const counted = Object.fromEntries(comparisons.map(({ book, records }) => [book, records]));
    expect(counted).toMatchObject({
      receiving_drum: 3,
      receiving_melt: 2,
      receiving_seal: 3,
      receiving_sampling_order: 2,
      receiving_blank: 100,
      receiving_supplier_fineness: 1,
      registers_instrument: 1,
    });
  });
});
