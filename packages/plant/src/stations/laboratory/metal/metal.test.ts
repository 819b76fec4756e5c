import { describe, expect, it } from 'vitest';
import { balanceOfPlace } from '../../../journal/core-books.ts';
import { cutMelt, laboratoryTrial, reading, recorded, refusals } from '../laboratory-trial.ts';

// Thirteen blanks of 8.01 g are drawn: 104.13 g. Sums below can be done by hand.

const out = {
  melt: 'L-1',
  form: 'cuttings',
  to: 'scrap',
  gross: reading('10', 'g'),
  finenessPerMille: null,
  estimated: false,
  basis: null,
  instrument: 'B-1',
};

async function withCutMelt() {
  const trial = await laboratoryTrial();
  await cutMelt(trial, 'L-1');
  return trial;
}

type Trial = Awaited<ReturnType<typeof withCutMelt>>;

const take = (trial: Trial, changes: object = {}) =>
  trial.do('take-out-metal', { ...out, ...changes }, 'assayer', 'custodian');

const laying = async (trial: Trial, place: 'laboratory' | 'scrap' | 'ceased') => {
  const [row] = await balanceOfPlace(trial.books, place);
  return { gross: row?.grossMicrograms ?? 0, fine: row?.fineMicrograms ?? 0 };
};

describe('metal that leaves the laboratory', () => {
  it('goes in grams to the scrap, fine by its declared fineness', async () => {
    const trial = await withCutMelt();
    const before = await laying(trial, 'laboratory');
    const [body] = recorded(await take(trial));
    // 10 g of 916.7 ‰ hold 9.167 g of gold.
    expect(body).toMatchObject({ grossMicrograms: 10_000_000, fineMicrograms: 9_167_000 });
    expect(await laying(trial, 'scrap')).toEqual({ gross: 10_000_000, fine: 9_167_000 });
    expect((await laying(trial, 'laboratory')).gross).toBe(before.gross - 10_000_000);
  });

  it('takes cornets at their own fineness, and base metal at none', async () => {
    const trial = await withCutMelt();
    const cornets = { form: 'cornets', gross: reading('917', 'mg'), finenessPerMille: 999.5 };
    const [body] = recorded(await take(trial, cornets));
    // 917 mg × 0.9995 = 916.5415 mg.
    expect(body).toMatchObject({ fineMicrograms: 916_542 });
    const lost = {
      form: 'base metal lost in the furnace',
      to: 'ceased',
      gross: reading('83', 'mg'),
      finenessPerMille: 0,
      estimated: true,
      basis: 'Portions less cornets of run R-1.',
      instrument: null,
    };
    const outcome = await take(trial, lost);
    expect(recorded(outcome)[0]).toMatchObject({ fineMicrograms: 0, estimated: true });
    expect(outcome).toMatchObject({ entries: [{ postings: [{ estimated: true, to: 'ceased' }] }] });
  });

  it('is shown by melt, and without figures to those who count', async () => {
    const trial = await withCutMelt();
    await take(trial);
    const seen = await trial.ask('laboratory-metal', {}, 'chief');
    expect(seen).toMatchObject({
      seesBook: true,
      melts: [{ melt: 'L-1', takenOut: [{ form: 'cuttings', grossMicrograms: 10_000_000 }] }],
    });
    expect(await trial.ask('laboratory-metal', {}, 'assayer')).toMatchObject({
      melts: [{ grossMicrograms: null, pieces: null }],
    });
  });

  it.each([
    ['NoMetalOfMelt', { melt: 'L-9' }],
    ['MoreThanLies', { gross: reading('105', 'g') }],
    ['FormGoesElsewhere', { to: 'ceased' }],
    ['BasisMissing', { estimated: true, instrument: null }],
    ['BasisMissing', { instrument: null }],
    ['CalibrationOverdue', { instrument: 'B-OLD' }],
  ])('is refused with %s', async (refusal, changes) => {
    const trial = await withCutMelt();
    expect(refusals(await take(trial, changes))).toEqual([refusal]);
  });
});
