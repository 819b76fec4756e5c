import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { connectBalance } from '../simulation/balance/connect-balance.ts';
import {
  openSimulatedBalance,
  type SimulatedBalance,
} from '../simulation/balance/open-simulated-balance.ts';
import {
  openPseudoTerminals,
  type PseudoTerminals,
} from '../simulation/balance/pseudo-terminals.ts';
import { Hands, openBrowser } from './bench-hand.ts';
import { type BrowserPlant, servePlant } from './browser-plant.ts';
import { sampledGoldMelt } from './sampled-melt.ts';

// An assayer weighs proofs, portions and cornets on a balance at a serial line: every digit of the
// run comes from the instrument, and the record says in which line it came.

const melt = 'OM-81';

let served: BrowserPlant;
let browser: Browser;
let pair: PseudoTerminals;
let balance: SimulatedBalance;

beforeAll(async () => {
  served = await servePlant();
  await sampledGoldMelt(served.plant.recorder, { melt, pieces: 60, pieceGrams: 12.02 });
  pair = await openPseudoTerminals();
  balance = await openSimulatedBalance({ path: pair.instrumentEnd });
  const connected = await connectBalance(served.plant.recorder, {
    author: 'orla',
    instrument: 'BAL-L1',
    end: { path: pair.plantPath() },
  });
  expect(connected.outcome).toBe('recorded');
  browser = await openBrowser();
});

afterAll(async () => {
  await browser.close();
  await served.close();
  await balance.close();
  await pair.close();
});

interface Recorded {
  readonly state: string;
  readonly muffle?: { readonly cupels: readonly { readonly label: string }[] };
  readonly proofs: readonly { goldTaken: Weighed; cornet: Weighed }[];
  readonly samples: readonly { sample: Weighed; cornet: Weighed }[];
}

interface Weighed {
  readonly text: string;
  readonly typed: boolean;
  readonly received?: string;
}

async function recordedRun(): Promise<Recorded> {
  const last = await served.plant.store.reader.lastLine();
  const lines = await served.plant.store.reader.lines(1, (last?.number ?? 0) + 1);
  const entries = lines.map(({ text }) => JSON.parse(text) as { kind: string; body: Recorded });
  const run = entries.find(({ kind }) => kind === 'CupellationRecorded');
  if (!run) throw new Error('no run is recorded');
  return run.body;
}

describe('a cupellation weighed on a serial line', () => {
  let tamsin: Hands;

  it('takes the balance of the bench into this browser', async () => {
    tamsin = await Hands.signIn(browser, served.address, 'tamsin');
    await tamsin.go('/me');
    await tamsin.page.getByLabel(/BAL-L1/).check();
    await tamsin.sees(/connected/);
  });

  it('fills each field when the print key is pressed, and goes on to the next', async () => {
    await tamsin.go(`/laboratory/melts/${melt}`);
    await tamsin.press('Cut blanks');
    await tamsin.sees('Before you begin');
    await tamsin.fill('Run', 'CU-81');
    const weighings = [
      ['Gold taken, P1', 187.5],
      ['Gold taken, P2', 187.46],
      ['Portion, A1', 250.04],
      ['Portion, A2', 250.11],
      ['Cornet, P1', 187.58],
      ['Cornet, P2', 187.55],
      ['Cornet, A1', 188.06],
      ['Cornet, A2', 188.12],
    ] as const;
    for (const [label, milligrams] of weighings) {
      await tamsin.field(label).focus();
      balance.put(milligrams / 1000);
      await balance.print();
      await expect
        .poll(() => tamsin.field(label).inputValue(), { timeout: 10_000 })
        .toBe(milligrams.toFixed(2));
    }
    await tamsin.sees('as the instrument sent it: BAL-L1');
  });

  it('records the run with the line behind every reading, and signs it', async () => {
    await tamsin.page.getByLabel(/extraction/).check();
    await tamsin.page.getByLabel('Note where the cupels stand').check();
    await tamsin.sees('The muffle from above, the door in front');
    await tamsin.press('Record run');
    await tamsin.sees('if it were signed now');
    const run = await recordedRun();
    expect(run.state).toBe('valid');
    // Proofs at the ends, portions between them.
    expect(run.muffle?.cupels.map(({ label }) => label)).toEqual(['P1', 'A1', 'A2', 'P2']);
    const readings = [
      ...run.proofs.flatMap(({ goldTaken, cornet }) => [goldTaken, cornet]),
      ...run.samples.flatMap(({ sample, cornet }) => [sample, cornet]),
    ];
    expect(readings).toHaveLength(8);
    for (const { typed, received } of readings) {
      expect(typed).toBe(false);
      expect(received).toMatch(/^[0-9a-f]{64}$/);
    }
    await tamsin.sign('Sign result');
    await tamsin.sees('to be checked');
  });

  it('is checked by another assayer and released', async () => {
    const idris = await Hands.signIn(browser, served.address, 'idris');
    await idris.go(`/laboratory/melts/${melt}`);
    await idris.sign('Check result');
    await idris.sees('to be ruled');
    const orla = await Hands.signIn(browser, served.address, 'orla');
    await orla.go(`/laboratory/melts/${melt}`);
    await orla.choose('release');
    await orla.fill('Reason', 'The result lies above its acceptance limit.');
    await orla.sign('Rule on melt');
    await orla.sees('released');
    expect([...tamsin.errors, ...idris.errors, ...orla.errors]).toEqual([]);
  });
});
