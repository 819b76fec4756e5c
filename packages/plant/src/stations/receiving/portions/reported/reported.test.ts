import { beforeEach, describe, expect, it } from 'vitest';
import { MemoryStore } from '../../../../adapters/memory-store.ts';
import { registerStations } from '../../../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../../../journal/rebuild.ts';
import type { Refusal } from '../../../../journal/refusal.ts';
import type { Trial } from '../../../../journal/trial.ts';
import {
  cupel,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  sampleMelt,
} from '../../../laboratory/laboratory-trial.ts';
import { laboratoryStation } from '../../../laboratory/station.ts';
import { registersStation } from '../../../registers/station.ts';
import { receivingStation } from '../../station.ts';
import { portionDocket } from '../docket.ts';
import { PortionResultReported } from './entries.ts';

let trial: Trial;

const today = '2026-03-02';

/** A melt with portions for supplier and umpire, of which that of the supplier was sent. */
beforeEach(async () => {
  trial = await laboratoryTrial();
  const { all, forAssay } = await sampleMelt(trial, 'N-1');
  recorded(await measure(trial, 'N-1', all));
  recorded(await trial.do('cut-blanks', { melt: 'N-1', blanks: forAssay }, 'assayer'));
  const spare = all.filter((blank) => !forAssay.includes(blank));
  const portions = ['supplier', 'umpire', 'plant'].map((party, index) => ({
    portion: `P-${party}`,
    for: party,
    blanks: spare.slice(2 * index, 2 * index + 2),
    gross: reading('16.02', 'g'),
    seal: `Z-${party}`,
    place: 'Reserve shelf 2',
    keptUntil: null,
  }));
  const sealing = { melt: 'N-1', portions, instrument: 'B-1' };
  recorded(await trial.do('seal-portions', sealing, 'inspector', 'custodian'));
  recorded(await send('supplier'));
});

const send = (to: string) =>
  trial.do(
    'send-portion',
    { portion: `P-${to}`, to, sealFound: `Z-${to}`, document: 'Note 5' },
    'custodian',
    'inspector',
  );

const report = (change: object = {}, author = 'custodian') =>
  trial.do(
    'record-portion-result',
    {
      portion: 'P-supplier',
      fineness: '916.50',
      uncertainty: '0.20',
      coverageFactor: 2,
      splittingLimit: '0.30',
      document: 'Report 311',
      reportedOn: today,
      method: 'Cupellation, two proofs',
      correction: null,
      ...change,
    },
    author,
  );

/** Signs an own result of that fineness, in two determinations. */
async function sign(finenessPerMille: number, assayRun = 'R-1'): Promise<void> {
  const { blanks } = (await trial.ask('melt-trial', { melt: 'N-1' }, 'inspector')) as {
    blanks: readonly { blank: string; forAssay: boolean }[];
  };
  const portions = blanks
    .filter(({ forAssay }) => forAssay)
    .map(({ blank }) => [blank, finenessPerMille] as const);
  recorded(await cupel(trial, { assayRun, melt: 'N-1', portions }));
  recorded(await trial.do('sign-result', { melt: 'N-1' }, 'assayer'));
}

const settle = (change: object = {}) =>
  trial.do(
    'settle-exchange',
    {
      melt: 'N-1',
      agreed: '916.7',
      document: 'Letter 12',
      words: 'Both sides take the middle.',
      ...change,
    },
    'chief',
    'custodian',
  );

async function refusedBy(outcome: ReturnType<Trial['do']>): Promise<readonly Refusal[]> {
  const found = await outcome;
  if (found.outcome === 'recorded') throw new RangeError('it was recorded');
  return found.refusals;
}

const exchange = (person = 'assayer') => trial.ask('melt-exchange', { melt: 'N-1' }, person);
const papers = async () =>
  (await portionDocket(trial.books, `${today}T12:00:00.000Z`)).filter(({ paper }) =>
    paper.startsWith('receiving-exchange'),
  );

describe('record-portion-result', () => {
  it('keeps the fineness with the decimals of its document, and what goes with it', async () => {
    const [body] = recorded(await report());
    expect(body).toMatchObject({
      portion: 'P-supplier',
      melt: 'N-1',
      from: 'supplier',
      fineness: { text: '916.50', perMille: 916.5 },
      // An expanded uncertainty of 0.20 ‰ with the factor 2.
      uncertainty: { text: '0.20', perMille: 0.2, coverageFactor: 2, standardPerMille: 0.1 },
      splittingLimit: { text: '0.30', perMille: 0.3 },
      document: 'Report 311',
      method: 'Cupellation, two proofs',
    });
  });

  it('shows nobody what was found before the own result is signed, and asks for nothing', async () => {
    const outcome = await report();
    expect(JSON.stringify('answer' in outcome ? outcome.answer : {})).not.toContain('916');
    for (const person of ['assayer', 'checker', 'chief', 'inspector', 'custodian']) {
      const shown = await exchange(person);
      expect(shown).toMatchObject({
        state: 'under cover',
        isSigned: false,
        own: null,
        comparison: null,
        reports: [{ portion: 'P-supplier', document: 'Report 311', figures: null }],
      });
      expect(JSON.stringify(shown)).not.toMatch(/916|0\.30/);
    }
    expect(PortionResultReported.readableBy).toEqual(['custodian', 'auditor']);
    expect(await papers()).toEqual([]);
  });

  it('covers what was found again when the own result is sent back', async () => {
    recorded(await report());
    await sign(916.9);
    expect(await exchange()).toMatchObject({ state: 'apart' });
    expect(await papers()).toHaveLength(1);
    const back = { melt: 'N-1', reason: 'A cornet was weighed twice.' };
    recorded(await trial.do('send-back-result', back, 'checker'));
    expect(await exchange()).toMatchObject({
      state: 'under cover',
      reports: [{ figures: null }],
      comparison: null,
    });
    expect(await papers()).toEqual([]);
  });

  it('refuses a portion that is unknown or never went out', async () => {
    expect(await refusedBy(report({ portion: 'P-9' }))).toMatchObject([
      { refusal: 'PortionUnknown', field: 'portion' },
    ]);
    expect(await refusedBy(report({ portion: 'P-umpire' }))).toMatchObject([
      { refusal: 'PortionNotSent', field: 'portion', figures: { state: 'sealed' } },
    ]);
  });

  it('refuses a percentage and a part of one for ‰', async () => {
    expect(await refusedBy(report({ fineness: '91.65' }))).toMatchObject([
      {
        refusal: 'FinenessImplausible',
        field: 'fineness',
        message:
          'Melt N-1: 91.65 ‰, less than half of the declared 916.7 ‰; written in percent it is 916.5 ‰. From 458.35 ‰ to 1000 ‰ is taken.',
      },
    ]);
    expect(await refusedBy(report({ fineness: '0.9165' }))).toMatchObject([
      { refusal: 'FinenessImplausible', message: expect.stringContaining('is 916.5 ‰') },
    ]);
    // Metal that is another alloy altogether is no slip: it is what he found.
    recorded(await report({ fineness: '585.2' }));
  });

  it('refuses figures that are none, each at its field', async () => {
    const unfit = [
      [{ fineness: '9165' }, 'fineness'],
      [{ fineness: '916,5' }, 'fineness'],
      [{ fineness: '0.00' }, 'fineness'],
      [{ uncertainty: '200' }, 'uncertainty'],
      [{ splittingLimit: '300' }, 'splittingLimit'],
      [{ coverageFactor: null }, 'coverageFactor'],
      [{ uncertainty: null }, 'coverageFactor'],
      [{ coverageFactor: 0.5 }, 'coverageFactor'],
    ] as const;
    for (const [change, field] of unfit) {
      expect(await refusedBy(report(change))).toMatchObject([
        { refusal: 'InputNotAccepted', field },
      ]);
    }
  });

  it('refuses a day before the portion was sent, and one that has not come', async () => {
    for (const reportedOn of ['2026-03-01', '2026-03-03']) {
      expect(await refusedBy(report({ reportedOn }))).toMatchObject([
        { refusal: 'ReportDayUnfit', field: 'reportedOn', figures: { sentOn: today, day: today } },
      ]);
    }
  });

  it('is entered once for a sending, and again as a correction with its reason', async () => {
    expect(await refusedBy(report({ correction: 'Read wrongly.' }))).toMatchObject([
      { refusal: 'PortionResultNotReported', field: 'correction' },
    ]);
    recorded(await report({ fineness: '961.50' }));
    expect(await refusedBy(report())).toMatchObject([
      { refusal: 'PortionResultAlreadyReported', field: 'portion' },
    ]);
    recorded(await report({ correction: 'The digits were exchanged.' }));
    await sign(916.9);
    expect(await exchange()).toMatchObject({
      reports: [{ figures: { fineness: { text: '916.50' } } }],
    });
  });
});

describe('the exchange of assays', () => {
  it('is settled by the mean where the results lie within the splitting limit', async () => {
    await sign(916.8);
    recorded(await report());
    // |916.50 − 916.800| = 0.300 is on the limit, which counts as within; the mean is 916.65.
    expect(await exchange()).toMatchObject({
      state: 'within',
      own: { text: '916.800' },
      comparison: {
        limit: { perMille: 0.3, from: 'stated' },
        output: { isWithinLimit: true, settledFinenessPerMille: 916.65 },
      },
    });
    expect(await papers()).toEqual([]);
  });

  it('asks for the umpire beyond the limit, then for his result, then for a settlement', async () => {
    recorded(await report());
    await sign(916.9);
    expect(await papers()).toMatchObject([
      {
        what: 'Melt N-1: the supplier found 916.50 ‰, the plant 916.900 ‰. The parties lie 0.4 ‰ apart; the splitting limit is 0.3 ‰.',
        act: "Send the umpire's portion, or settle",
        path: '/receiving/portions/P-umpire',
      },
    ]);
    recorded(await send('umpire'));
    expect(await papers()).toMatchObject([{ act: "Record the umpire's result" }]);
    const umpire = { portion: 'P-umpire', fineness: '916.85', document: 'Umpire 7' };
    recorded(await report(umpire));
    expect(await papers()).toMatchObject([
      { act: 'Settle the exchange', path: '/receiving/melts/N-1/exchange' },
    ]);
    // Between the parties, the umpire's own result is usual; the supplier lies farther and pays.
    expect(await exchange()).toMatchObject({
      state: 'umpire has spoken',
      comparison: {
        output: {
          outcome: 'settled by the umpire',
          settledFinenessPerMille: 916.85,
          umpireFeeBorneBy: 'supplier',
        },
      },
    });
    recorded(await settle({ agreed: '916.85' }));
    expect(await papers()).toEqual([]);
    expect(await exchange()).toMatchObject({
      state: 'settled',
      settlement: { agreed: { text: '916.85' }, witness: 'custodian' },
    });
  });

  it('goes by the uncertainties where no splitting limit is stated', async () => {
    await sign(916.9);
    recorded(await report({ splittingLimit: null }));
    const { standardUncertaintyPerMille: own } = (
      (await exchange()) as { own: { standardUncertaintyPerMille: number } }
    ).own;
    expect(await exchange()).toMatchObject({
      comparison: {
        limit: { perMille: 2 * Math.sqrt(own ** 2 + 0.1 ** 2), from: 'uncertainties' },
      },
    });
  });

  it('judges nothing where neither limit nor uncertainty is stated', async () => {
    await sign(916.9);
    recorded(await report({ splittingLimit: null, uncertainty: null, coverageFactor: null }));
    expect(await exchange()).toMatchObject({ state: 'no limit', comparison: null });
    expect(await papers()).toEqual([]);
    recorded(await settle());
    expect(await exchange()).toMatchObject({ state: 'settled' });
  });

  it('says what is at stake to those who may see the book, and not to those who count', async () => {
    recorded(await report());
    await sign(916.9);
    // 480.6 g came in the drum, and the results lie 0.4 ‰ apart.
    expect(await exchange('chief')).toMatchObject({
      comparison: { output: { fineMassAtStakeGrams: expect.closeTo(0.19224, 9) } },
    });
    expect(await exchange('custodian')).toMatchObject({
      comparison: { output: { fineMassAtStakeGrams: null } },
    });
  });

  it('knows no melt of which nothing was reported', async () => {
    expect(await exchange()).toBeNull();
  });
});

describe('settle-exchange', () => {
  it('refuses a melt that is unknown, not signed, or of which the supplier said nothing', async () => {
    expect(await refusedBy(settle({ melt: 'X' }))).toMatchObject([{ refusal: 'MeltUnknown' }]);
    recorded(await report());
    expect(await refusedBy(settle())).toMatchObject([
      { refusal: 'ExchangeNotOpen', figures: { isSigned: false } },
    ]);
  });

  it('refuses an exchange in which only the umpire has spoken', async () => {
    recorded(await send('umpire'));
    recorded(await report({ portion: 'P-umpire' }));
    await sign(916.9);
    expect(await exchange()).toMatchObject({ state: 'umpire only' });
    expect(await refusedBy(settle())).toMatchObject([
      { refusal: 'ExchangeNotOpen', figures: { isSigned: true } },
    ]);
  });

  it('refuses a percentage, and what lies outside everything that was found', async () => {
    recorded(await report());
    await sign(916.9);
    expect(await refusedBy(settle({ agreed: '91.67' }))).toMatchObject([
      { refusal: 'FinenessImplausible', field: 'agreed' },
    ]);
    for (const agreed of ['916.49', '916.91']) {
      expect(await refusedBy(settle({ agreed }))).toMatchObject([
        {
          refusal: 'AgreedFinenessOutside',
          field: 'agreed',
          figures: { least: '916.50', greatest: '916.900' },
        },
      ]);
    }
  });

  it('is done once, until one of its results changes', async () => {
    recorded(await report());
    await sign(916.9);
    recorded(await settle());
    expect(await refusedBy(settle())).toMatchObject([{ refusal: 'ExchangeAlreadySettled' }]);
    recorded(await report({ fineness: '916.40', correction: 'Read wrongly.' }));
    expect(await exchange()).toMatchObject({ state: 'apart' });
    expect(await papers()).toHaveLength(1);
    recorded(await settle());
  });

  it('has books that are the same when they are made anew from the journal', async () => {
    recorded(await report({ fineness: '916.40' }));
    await sign(916.9);
    recorded(await report({ correction: 'Read wrongly.' }));
    recorded(await settle());
    const registry = registerStations([registersStation, receivingStation, laboratoryStation]);
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    const counted = Object.fromEntries(comparisons.map(({ book, records }) => [book, records]));
    expect(counted).toMatchObject({
      receiving_reported_result: 2,
      receiving_own_result: 1,
      receiving_exchange: 1,
    });
  });
});
