import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import type { DrumWeighedBody } from './bodies.ts';
import { drums } from './books.ts';
import { grams, makeAnnouncedTrial, type ReceivingTrial, weighings } from './trial-receiving.ts';

const first = { ...weighings['D-1'], instrument: 'BALANCE-1' };

/** What the account should hold in receiving. */
async function lying(trial: ReceivingTrial) {
  const rows = await trial.books.select(balances, { prefix: ['receiving'] });
  return rows.map(({ melt, pieces, grossMicrograms, fineMicrograms }) => ({
    melt,
    pieces,
    grossMicrograms,
    fineMicrograms,
  }));
}

async function bodyOf(trial: ReceivingTrial, input: unknown): Promise<DrumWeighedBody> {
  const [entry] = await trial.recorded('weigh-drum', input, 'custodian');
  return entry?.body as DrumWeighedBody;
}

describe('weigh-drum', () => {
  it('takes a drum in with its documented pieces and the mass that was weighed', async () => {
    const trial = await makeAnnouncedTrial();
    const [entry] = await trial.recorded('weigh-drum', first, 'custodian');
    expect(entry).toMatchObject({
      kind: 'DrumWeighed',
      body: { drum: 'D-1', pieces: 300, netMicrograms: 3_001_000_000, state: 'counted' },
    });
    expect(entry?.postings).toEqual([
      {
        metal: 'gold',
        pieceStandard: 'GOLD-10',
        melt: 'M-1',
        container: 'D-1',
        from: 'with-supplier',
        to: 'receiving',
        pieces: 300,
        grossMicrograms: 3_001_000_000,
        // 3001.0 g × 999.9 ‰ = 3000.6999 g, by hand.
        fineMicrograms: 3_000_699_900,
        estimated: false,
      },
    ]);
    expect(await lying(trial)).toEqual([
      {
        melt: 'M-1',
        pieces: 300,
        grossMicrograms: 3_001_000_000,
        fineMicrograms: 3_000_699_900,
      },
    ]);
  });

  it('records the count by weight so that anybody can recompute it', async () => {
    const trial = await makeAnnouncedTrial();
    const { count } = await bodyOf(trial, first);
    expect(count).toMatchObject({
      calculation: 'count-by-weight',
      version: 1,
      input: { nominalPieces: 300, netReadingsGrams: [3001], tareStandardDeviationGrams: 0 },
      output: { verdict: 'proved', residualGrams: 1 },
    });
    // By hand: 300 · 0.01² + 300² · 0.003² + 300² · 0.01²/100 + (3000 · 0.00002)² + 0.1² + 2 · 0.1²/12.
    const variance = 0.03 + 0.81 + 0.09 + 0.0036 + 0.01 + 0.02 / 12;
    expect(count.output.standardUncertaintyGrams).toBeCloseTo(Math.sqrt(variance), 12);
  });

  it('names the balance in the entry', async () => {
    const trial = await makeAnnouncedTrial();
    const outcome = await trial.do('weigh-drum', first, 'custodian');
    expect(outcome).toMatchObject({ entries: [{ instrument: 'BALANCE-1' }] });
  });

  it('asks for a second weighing when the first is one piece light, and takes nothing in yet', async () => {
    const trial = await makeAnnouncedTrial();
    const light = { ...first, gross: grams('4990.0') };
    const once = await bodyOf(trial, light);
    expect(once).toMatchObject({ state: 'weigh again', pieces: 300 });
    expect(once.words).toContain('weigh again before opening');
    expect(await lying(trial)).toEqual([]);
    const twice = await bodyOf(trial, light);
    expect(twice).toMatchObject({
      state: 'needs tally',
      count: { input: { netReadingsGrams: [2990, 2990] }, output: { verdict: 'differs' } },
    });
    expect(twice.words).toContain('299 pieces, not 300');
    expect(await lying(trial)).toMatchObject([{ pieces: 300, grossMicrograms: 2_990_000_000 }]);
  });

  it('counts the drum when the second weighing is good', async () => {
    const trial = await makeAnnouncedTrial();
    await bodyOf(trial, { ...first, gross: grams('4990.0') });
    expect(await bodyOf(trial, first)).toMatchObject({ state: 'counted' });
    expect(await trial.books.get(drums, 'D-1')).toMatchObject({
      netMicrograms: 3_001_000_000,
      netReadingsMicrograms: [2_990_000_000, 3_001_000_000],
    });
  });

  it('asks for a tally after three weighings that fit no count', async () => {
    const trial = await makeAnnouncedTrial();
    const states: string[] = [];
    for (const gross of ['4994.9', '5005.1', '4994.9']) {
      states.push((await bodyOf(trial, { ...first, gross: grams(gross) })).state);
    }
    expect(states).toEqual(['weigh again', 'weigh again', 'needs tally']);
  });

  it('refuses another seal than the documented one, and says to stop the drum', async () => {
    const trial = await makeAnnouncedTrial();
    const input = { ...first, sealFound: 'S-7' };
    expect(await trial.refused('weigh-drum', input, 'custodian')).toEqual([
      {
        refusal: 'SealDiffers',
        message: 'Drum D-1 bears seal S-7; the document says S-1.',
        nextStep: 'Leave the drum closed and stop it, with a second person.',
        field: 'sealFound',
        figures: { drum: 'D-1', sealFound: 'S-7', seal: 'S-1' },
      },
    ]);
  });

  it('refuses an unknown drum, and one that has been weighed in', async () => {
    const trial = await makeAnnouncedTrial();
    const unknown = { ...first, drum: 'D-7' };
    expect(await trial.refused('weigh-drum', unknown, 'custodian')).toMatchObject([
      { refusal: 'DrumUnknown', field: 'drum', figures: { drum: 'D-7' } },
    ]);
    await trial.weigh('D-1');
    expect(await trial.refused('weigh-drum', first, 'custodian')).toMatchObject([
      {
        refusal: 'DrumStateUnfit',
        message:
          'Drum D-1 is in the state counted; a drum is weighed when it is in the state announced or weigh again.',
        nextStep: 'Its count is proved; go on with the next drum.',
      },
    ]);
  });

  it('refuses an unknown balance, another instrument, and one whose calibration has run out', async () => {
    const trial = await makeAnnouncedTrial();
    const gauge = {
      instrument: 'GAUGE-1',
      title: 'Gauge',
      kind: 'gauge',
      place: 'receiving',
      divisionGrams: null,
      repeatabilityGrams: null,
      gainRelative: null,
      calibrationDue: '2026-12-31',
    };
    await trial.recorded('register-instrument', gauge, 'chief');
    for (const [instrument, message] of [
      ['BALANCE-9', 'BALANCE-9 is not in the register.'],
      ['GAUGE-1', 'GAUGE-1 is a gauge, not a balance.'],
    ]) {
      const input = { ...first, instrument };
      expect(await trial.refused('weigh-drum', input, 'custodian')).toMatchObject([
        { refusal: 'InstrumentUnknown', message, field: 'instrument' },
      ]);
    }
    trial.now = Date.parse('2027-01-01T08:00:00.000Z');
    expect(await trial.refused('weigh-drum', first, 'custodian')).toMatchObject([
      {
        refusal: 'CalibrationOverdue',
        message: 'The calibration of Drum balance was due on 2026-12-31; today is 2027-01-01.',
      },
    ]);
  });

  it('refuses a tare that is not less than the gross, and a mass that cannot be', async () => {
    const trial = await makeAnnouncedTrial();
    const swapped = { ...first, gross: first.tare, tare: first.gross };
    expect(await trial.refused('weigh-drum', swapped, 'custodian')).toMatchObject([
      {
        refusal: 'TareAboveGross',
        message: 'Tare 5001.0 g is not less than gross 2000.0 g.',
        field: 'tare',
      },
    ]);
    const slip = { ...first, gross: { text: '5001.0', unit: 'kg', typed: true } };
    expect(await trial.refused('weigh-drum', slip, 'custodian')).toMatchObject([
      {
        refusal: 'MassImplausible',
        message: '4999000 g net for 300 pieces that weigh about 3000 g.',
        field: 'gross',
      },
    ]);
  });
});
