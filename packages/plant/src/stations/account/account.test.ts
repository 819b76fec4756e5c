import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import { trialStation } from '../../journal/trial-station.ts';
import { registersStation } from '../registers/station.ts';
import { close, found, shift, sign, tally, withPieces } from './account-trial.ts';
import { accountDocket } from './docket.ts';
import { accountStation } from './station.ts';

// Figures are sums that a reader can do by hand: 100 pieces of 31.103 g are 3 110.3 g.

describe('the books of the account', () => {
  it('come out the same when they are made anew from the journal', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, '3079.2')]);
    await sign(trial);
    await close(trial);
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 9, grossMicrograms: 279_927_000 });
    const rebuilt = new MemoryStore('trial');
    const registry = registerStations([registersStation, trialStation, accountStation]);
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter((one) => !one.equal)).toEqual([]);
    expect(comparisons.find((one) => one.book === 'account_tally')?.records).toBe(1);
  });
});

describe('the desk', () => {
  it('hides the book from those who count and shows it to the metal accountant', async () => {
    const trial = await withPieces();
    const custodian = (await trial.ask('balance-desk', {}, 'custodian')) as { places: object[] };
    expect(custodian).toMatchObject({ shift, seesBook: false, openDifferences: null });
    expect(custodian.places[0]).toMatchObject({
      place: 'receiving',
      needsTally: true,
      standards: [{ pieceStandard: 'trial-piece', title: 'Trial piece', metal: 'gold' }],
      standing: null,
      comparison: null,
    });
    expect(JSON.stringify(custodian)).not.toContain('3110300000');
    await tally(trial, 'receiving', [found(99, null)]);
    const accountant = (await trial.ask('balance-desk', {}, 'accountant')) as { places: object[] };
    expect(accountant.places[0]).toMatchObject({
      standing: [{ pieces: 100 }],
      comparison: [{ piecesBook: 100, piecesTally: 99, piecesDifference: -1 }],
      tally: { person: 'custodian', movedSince: false },
    });
  });

  it('does not take a signed difference for metal that moved after the tally', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, null)]);
    await sign(trial);
    const receiving = async () => {
      const desk = await trial.ask('balance-desk', {}, 'accountant');
      return (desk as { places: { tally: object }[] }).places[0]?.tally;
    };
    expect(await receiving()).toMatchObject({ movedSince: false });
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 9, grossMicrograms: 279_927_000 });
    expect(await receiving()).toMatchObject({ movedSince: true });
  });

  it('answers a shift with its movements before the close and its figures after', async () => {
    const trial = await withPieces();
    expect(await trial.ask('shift', { shift }, 'accountant')).toMatchObject({
      state: 'open',
      closing: null,
      flows: [{ from: 'with-supplier', to: 'receiving', movements: 1, pieces: 100 }],
    });
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial);
    expect(await trial.ask('shift', { shift }, 'custodian')).toMatchObject({
      state: 'closed',
      closing: { author: 'accountant', witness: 'custodian', places: null },
      flows: null,
    });
  });

  it('calls whoever tallied by the full name', async () => {
    const trial = await withPieces();
    const person = { person: 'custodian', name: 'Cara Stone', roles: ['custodian'], methods: [] };
    await trial.do('enrol-person', person, 'chief');
    await tally(trial, 'receiving', [found(99, null)]);
    const [paper] = await accountDocket(trial.books, new Date(trial.now).toISOString());
    expect(paper?.why).toMatch(/^Tally of entry \d+ by Cara Stone\.$/);
  });

  it('puts on the docket pieces that differ, a shift left open and a difference unexplained', async () => {
    const trial = await withPieces();
    const docket = async () => {
      const papers = await accountDocket(trial.books, new Date(trial.now).toISOString());
      return papers.map((paper) => [paper.paper, paper.weight]);
    };
    expect(await docket()).toEqual([]);
    await tally(trial, 'receiving', [found(99, null)]);
    expect(await docket()).toEqual([['account/differs/receiving/trial-piece', 'stopped']]);
    await sign(trial);
    trial.now = Date.parse('2026-03-02T14:10:00Z');
    expect(await docket()).toEqual([
      ['account/open-shift/2026-03-02-early', 'look'],
      ['account/difference/D-10', 'look'],
    ]);
    await close(trial);
    expect(await docket()).toEqual([['account/difference/D-10', 'look']]);
  });
});
