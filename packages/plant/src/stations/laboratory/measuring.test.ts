import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import type { Trial } from '../../journal/trial.ts';
import { trialOf } from './index.ts';
import {
  announceMelt,
  cutMelt,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  refusals,
  sampleMelt,
} from './laboratory-trial.ts';

const sound = (blank: string) => ({
  blank,
  mass: reading('8.01', 'g'),
  diameter: reading('22.00', 'mm'),
  thickness: reading('1.50', 'mm'),
});

const lying = (trial: Trial, place: string, melt = 'M-1') =>
  trial.books.get(balances, place, 'gold', 'lark-8', melt);

describe('measuring the blanks of a melt', () => {
  it('records every reading beside its parsed value, the limits and the plan', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const [body] = recorded(await measure(trial, 'M-1', all.slice(0, 1), { thick: 1 }));
    expect(body).toEqual({
      melt: 'M-1',
      pieceStandard: 'lark-8',
      limits: {
        massLeastMilligrams: 8000,
        massGreatestMilligrams: 8050,
        diameterLeastMillimetres: 21.9,
        diameterGreatestMillimetres: 22.1,
        thicknessLeastMillimetres: 1.4,
        thicknessGreatestMillimetres: 1.6,
      },
      balance: 'B-1',
      micrometer: 'M-1',
      measurements: [
        {
          blank: all[0],
          forPhysical: true,
          mass: reading('8.01', 'g'),
          diameter: reading('22.00', 'mm'),
          thickness: reading('3.50', 'mm'),
          massMicrograms: 8_010_000,
          diameterMillimetres: 22,
          thicknessMillimetres: 3.5,
          faults: ['thickness above greatest'],
        },
      ],
      // MIL-STD-105E, Tables I and II-A: 60 pieces, level II, 4.0 %: letter E, 13 blanks, 1 and 2.
      blanksForPhysical: 13,
      acceptanceNumber: 1,
      rejectionNumber: 2,
    });
  });

  it.each([
    ['a mass with the point in the wrong place', { mass: reading('80.1', 'g') }, 'mass'],
    ['a mass in another unit', { mass: reading('8.01', 'mg') }, 'mass'],
    [
      'a diameter with the point in the wrong place',
      { diameter: reading('2.200', 'mm') },
      'diameter',
    ],
    ['a diameter in another unit', { diameter: reading('22.00', 'µm') }, 'diameter'],
    [
      'diameter and thickness exchanged',
      { diameter: reading('1.50', 'mm'), thickness: reading('22.00', 'mm') },
      'diameter',
    ],
  ])(
    'refuses %s, at the first measurement and when it is corrected',
    async (_what, slip, field) => {
      const trial = await laboratoryTrial();
      const { all } = await sampleMelt(trial, 'M-1');
      const [blank = ''] = all;
      const names = { melt: 'M-1', balance: 'B-1', micrometer: 'M-1' };
      const slipped = { ...sound(blank), ...slip };
      const first = { ...names, measurements: [slipped] };
      const outcome = await trial.do('measure-blanks', first, 'inspector');
      expect(outcome).toMatchObject({
        refusals: expect.arrayContaining([
          expect.objectContaining({
            refusal: 'MeasurementImplausible',
            field: `measurements.0.${field}.text`,
          }),
        ]),
      });
      recorded(await measure(trial, 'M-1', [blank]));
      const correction = { ...names, ...slipped, reason: 'The first one was misread.' };
      const corrected = await trial.do('correct-measurement', correction, 'inspector');
      expect(refusals(corrected)[0]).toBe('MeasurementImplausible');
    },
  );

  it('accepts the blanks only when all are measured and at most one is at fault', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    expect(all).toHaveLength(13);
    recorded(await measure(trial, 'M-1', all.slice(0, 12), { thick: 1 }));
    expect((await trialOf(trial.books, 'M-1'))?.trial.physical).toBe('open');
    recorded(await measure(trial, 'M-1', all.slice(12)));
    const done = (await trialOf(trial.books, 'M-1'))?.trial;
    expect(done).toMatchObject({
      physical: 'accepted',
      blanksMeasured: 13,
      blanksNonconforming: 1,
      stage: 'to be cut',
    });
  });

  it('rejects the blanks at the second faulty one', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    recorded(await measure(trial, 'M-1', all.slice(0, 2), { thick: 1, light: 2 }));
    expect((await trialOf(trial.books, 'M-1'))?.trial).toMatchObject({
      physical: 'rejected',
      blanksNonconforming: 2,
      blanksOffMass: 2,
      blanksBelowLeastMass: 2,
    });
  });

  it('refuses what is no sampled melt, a strange blank, a blank named twice or measured before', async () => {
    const trial = await laboratoryTrial();
    expect(refusals(await measure(trial, 'M-9', ['M-9/1']))).toEqual(['MeltUnknown']);
    await announceMelt(trial, 'M-2');
    expect(refusals(await measure(trial, 'M-2', ['M-2/1']))).toEqual(['MeltNotSampled']);
    const { all } = await sampleMelt(trial, 'M-1');
    const [first = ''] = all;
    expect(refusals(await measure(trial, 'M-1', ['M-2/1', first, first]))).toEqual([
      'BlankNotDrawn',
      'BlankNamedTwice',
    ]);
    recorded(await measure(trial, 'M-1', [first]));
    expect(refusals(await measure(trial, 'M-1', [first]))).toEqual(['BlankAlreadyMeasured']);
  });

  it('refuses instruments of another kind and out of calibration, and names both', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const input = {
      melt: 'M-1',
      balance: 'B-OLD',
      micrometer: 'S-1',
      measurements: [sound(all[0] ?? '')],
    };
    const outcome = await trial.do('measure-blanks', input, 'inspector');
    expect(outcome.outcome === 'refused' && outcome.refusals).toEqual([
      {
        refusal: 'CalibrationOverdue',
        message: 'The calibration of Instrument B-OLD was due on 2026-02-28; today is 2026-03-02.',
        nextStep: 'Measure on another instrument, or let this one be calibrated first.',
        field: 'balance',
        figures: { instrument: 'B-OLD', calibrationDue: '2026-02-28', day: '2026-03-02' },
      },
      {
        refusal: 'InstrumentUnknown',
        message: 'S-1 is a spectrometer; these readings come from a micrometer or gauge.',
        nextStep: 'Scan the label of the instrument that gave the readings.',
        field: 'micrometer',
        figures: { instrument: 'S-1', kind: 'spectrometer', accepted: ['micrometer', 'gauge'] },
      },
    ]);
  });

  it('refuses readings that are no positive mass or length, with the field', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const bad = {
      ...sound(all[0] ?? ''),
      mass: reading('8.01', 'mm'),
      diameter: reading('0', 'mm'),
    };
    const input = { melt: 'M-1', balance: 'B-1', micrometer: 'M-1', measurements: [bad] };
    const outcome = await trial.do('measure-blanks', input, 'inspector');
    expect(outcome.outcome === 'refused' && outcome.refusals.map((one) => one.field)).toEqual([
      'measurements.0.mass.unit',
      'measurements.0.mass.text',
      'measurements.0.diameter.text',
    ]);
  });

  it('corrects a measurement by a new entry that names the first, and keeps both', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const blank = all[0] ?? '';
    const correct = (changes: object) =>
      trial.do(
        'correct-measurement',
        {
          melt: 'M-1',
          balance: 'B-1',
          micrometer: 'M-1',
          ...sound(blank),
          reason: 'Digits swapped.',
          ...changes,
        },
        'inspector',
      );
    expect(refusals(await correct({}))).toEqual(['BlankNotMeasured']);
    const first = await measure(trial, 'M-1', [blank], { thick: 1 });
    const number = first.outcome === 'recorded' ? first.entries[0]?.number : undefined;
    const outcome = await correct({});
    expect(outcome.outcome === 'recorded' && outcome.entries[0]).toMatchObject({
      kind: 'BlanksMeasured',
      corrects: number,
      reason: 'Digits swapped.',
    });
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.trial.blanksNonconforming).toBe(0);
    expect(story?.blanks[0]?.corrected).toMatchObject([
      { entry: number, thickness: reading('3.50', 'mm'), reason: 'Digits swapped.' },
    ]);
  });
});

describe('cutting blanks', () => {
  it('lets the pieces cease and leaves their grams in the laboratory', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await sampleMelt(trial, 'M-1');
    recorded(await measure(trial, 'M-1', all));
    const before = await lying(trial, 'laboratory');
    const outcome = await trial.do('cut-blanks', { melt: 'M-1', blanks: forAssay }, 'assayer');
    expect(outcome.outcome === 'recorded' && outcome.entries[0]?.postings).toEqual([
      {
        metal: 'gold',
        pieceStandard: 'lark-8',
        melt: 'M-1',
        container: null,
        from: 'laboratory',
        to: 'ceased',
        pieces: 2,
        grossMicrograms: 0,
        fineMicrograms: 0,
        estimated: false,
      },
    ]);
    const after = await lying(trial, 'laboratory');
    expect(after).toEqual({ ...before, pieces: 11 });
    expect((await trialOf(trial.books, 'M-1'))?.trial.stage).toBe('to be assayed');
  });

  it('refuses a blank that is not measured, was cut, or was not drawn for assay', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await sampleMelt(trial, 'M-1');
    const cut = (blanks: readonly string[]) =>
      trial.do('cut-blanks', { melt: 'M-1', blanks }, 'assayer');
    expect(refusals(await cut(forAssay))).toEqual(['BlankNotMeasured', 'BlankNotMeasured']);
    recorded(await measure(trial, 'M-1', all));
    const other = all.find((blank) => !forAssay.includes(blank)) ?? '';
    expect(refusals(await cut([other]))).toEqual(['BlankNotForAssay']);
    recorded(await cut(forAssay));
    expect(refusals(await cut(forAssay.slice(1)))).toEqual(['BlankAlreadyCut']);
    // Nor once those drawn for assay are cut: further ones are drawn, not chosen.
    expect(refusals(await cut([other]))).toEqual(['BlankNotForAssay']);
  });
});

describe('returning blanks to receiving', () => {
  it('moves whole blanks with their weighed mass, by two people', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await cutMelt(trial, 'M-1');
    const whole = all.filter((blank) => !forAssay.includes(blank));
    const input = { melt: 'M-1', blanks: whole, gross: reading('88.11', 'g'), instrument: 'B-1' };
    const outcome = await trial.do('return-blanks', input, 'inspector', 'custodian');
    expect(outcome.outcome === 'recorded' && outcome.entries[0]?.postings).toMatchObject([
      // 88.11 g at 916 700 ppm: 80.770437 g.
      {
        from: 'laboratory',
        to: 'receiving',
        pieces: 11,
        grossMicrograms: 88_110_000,
        fineMicrograms: 80_770_437,
      },
    ]);
    // What is left: the two cut blanks of 8.01 g each, of the 104.13 g drawn.
    expect(await lying(trial, 'laboratory')).toMatchObject({
      pieces: 0,
      grossMicrograms: 16_020_000,
    });
    expect(
      refusals(await trial.do('cut-blanks', { melt: 'M-1', blanks: [whole[0]] }, 'assayer')),
    ).toEqual(['BlankNotForAssay', 'BlankAlreadyReturned']);
  });

  it('refuses a mass that is not that of the blanks, and blanks that were cut', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await cutMelt(trial, 'M-1');
    const whole = all.filter((blank) => !forAssay.includes(blank));
    const back = (blanks: readonly string[], grams: string) =>
      trial.do(
        'return-blanks',
        { melt: 'M-1', blanks, gross: reading(grams, 'g'), instrument: 'B-1' },
        'inspector',
        'custodian',
      );
    expect(refusals(await back(whole, '80.10'))).toEqual(['MassNotOfBlanks']);
    expect(refusals(await back(forAssay, '16.02'))).toEqual(['BlankAlreadyCut', 'BlankAlreadyCut']);
  });
});
