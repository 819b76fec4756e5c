import { describe, expect, it } from 'vitest';
import { trialOfRegisters } from './registers-trial.ts';
import { drumBalance } from './trial-registers.ts';

const slips = [
  [
    'a repeatability in milligrams',
    { divisionGrams: 0.0001, repeatabilityGrams: 0.1 },
    'repeatabilityGrams',
    'A repeatability of 0.1 g is 1000 divisions of 0.0001 g. Up to 100 divisions are taken, which is 0.01 g; half a division to five are usual.',
  ],
  [
    'a division of two kilograms',
    { divisionGrams: 2000 },
    'divisionGrams',
    'No balance shows steps of 2000 g. Divisions of 0.0000001 g to 1000 g are taken; 0.00001 g to 0.1 g are usual.',
  ],
  [
    'a gain uncertainty of a tenth',
    { gainRelative: 0.1 },
    'gainRelative',
    'A gain uncertainty of 0.1 is 100 g in a kilogram. Up to 0.002 is taken; 0.000001 to 0.0001 are usual.',
  ],
] as const;

describe('figures that no balance has', () => {
  it.each(slips)('are refused at registering: %s', async (_what, change, field, message) => {
    const trial = await trialOfRegisters();
    const refusals = await trial.refused('register-instrument', { ...drumBalance, ...change });
    expect(refusals).toMatchObject([{ refusal: 'WeighingFiguresImplausible', field, message }]);
  });

  it.each(slips)('are refused at a calibration: %s', async (_what, change, field) => {
    const trial = await trialOfRegisters();
    await trial.recorded('register-instrument', drumBalance);
    const { instrument, divisionGrams, repeatabilityGrams, gainRelative } = drumBalance;
    const calibration = {
      instrument,
      document: 'Certificate 8',
      divisionGrams,
      repeatabilityGrams,
      gainRelative,
      calibrationDue: '2026-12-31',
      ...change,
    };
    expect(await trial.refused('record-calibration', calibration)).toMatchObject([
      { refusal: 'WeighingFiguresImplausible', field },
    ]);
  });

  it.each([
    ['a comparator', { divisionGrams: 1e-7, repeatabilityGrams: 4e-7, gainRelative: 1e-6 }],
    ['a weighbridge', { divisionGrams: 1000, repeatabilityGrams: 600, gainRelative: 0.0009 }],
    ['a coarse one that never moves', { divisionGrams: 1, repeatabilityGrams: 0, gainRelative: 0 }],
  ])('are not those of %s', async (_what, figures) => {
    const trial = await trialOfRegisters();
    const input = { ...drumBalance, ...figures };
    expect(await trial.recorded('register-instrument', input)).toHaveLength(1);
  });
});
