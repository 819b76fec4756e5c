import { describe, expect, it } from 'vitest';
import type { Reading } from '../../journal/reading.ts';
import { countBlanks, measureBlank, physicalState } from './physical.ts';

const limits = {
  massLeastMilligrams: 8.05,
  massGreatestMilligrams: 8.2,
  diameterLeastMillimetres: 22,
  diameterGreatestMillimetres: 22.1,
  thicknessLeastMillimetres: 1.5,
  thicknessGreatestMillimetres: 1.6,
};

const reading = (text: string, unit: Reading['unit']): Reading => ({ text, unit, typed: false });

const faultsOf = (
  mass: Reading,
  diameter = reading('22.05', 'mm'),
  thickness = reading('1.55', 'mm'),
) => measureBlank({ blank: 'M-1/1', forPhysical: true, mass, diameter, thickness }, limits).faults;

describe('a measured blank', () => {
  it('is inside when a reading lies exactly on a limit, whatever its unit', () => {
    // 8.05 mg × 1000 is 8050.000000000001 in doubles; the reading must not fail by it.
    expect(faultsOf(reading('8.05', 'mg'))).toEqual([]);
    expect(faultsOf(reading('0.00805', 'g'))).toEqual([]);
    expect(faultsOf(reading('8.200', 'mg'), reading('22', 'mm'), reading('1600', 'µm'))).toEqual(
      [],
    );
  });

  it('names each value outside its limits', () => {
    expect(faultsOf(reading('8.049', 'mg'))).toEqual(['mass below least']);
    expect(faultsOf(reading('8.201', 'mg'))).toEqual(['mass above greatest']);
    expect(faultsOf(reading('8.1', 'mg'), reading('21.999', 'mm'), reading('1601', 'µm'))).toEqual([
      'diameter below least',
      'thickness above greatest',
    ]);
    expect(faultsOf(reading('8.1', 'mg'), reading('22.11', 'mm'), reading('1.4', 'mm'))).toEqual([
      'diameter above greatest',
      'thickness below least',
    ]);
  });

  it('keeps its readings as they were sent beside the parsed values', () => {
    const mass = reading('8.10', 'mg');
    const diameter = reading('22050', 'µm');
    const thickness = reading('1.550', 'mm');
    const found = measureBlank(
      { blank: 'M-1/1', forPhysical: true, mass, diameter, thickness },
      limits,
    );
    expect(found).toEqual({
      blank: 'M-1/1',
      forPhysical: true,
      mass,
      diameter,
      thickness,
      massMicrograms: 8100,
      diameterMillimetres: 22.05,
      thicknessMillimetres: 1.55,
      faults: [],
    });
  });
});

describe('the blanks of a melt', () => {
  it('are counted by fault, and only those of the sample judge the lot', () => {
    expect(
      countBlanks([
        { forPhysical: true, faults: [] },
        { forPhysical: true, faults: ['mass below least', 'diameter below least'] },
        { forPhysical: true, faults: ['thickness above greatest'] },
        { forPhysical: false, faults: ['mass above greatest'] },
      ]),
    ).toEqual({
      blanksMeasured: 3,
      blanksNonconforming: 2,
      blanksOffMass: 2,
      blanksBelowLeastMass: 1,
    });
  });

  it('are accepted only when all are measured, and rejected as soon as too many are at fault', () => {
    const plan = { blanksForPhysical: 8, rejectionNumber: 2 };
    const state = (blanksMeasured: number, blanksNonconforming: number) =>
      physicalState({ blanksMeasured, blanksNonconforming }, plan);
    expect(state(7, 1)).toBe('open');
    expect(state(8, 1)).toBe('accepted');
    expect(state(3, 2)).toBe('rejected');
    expect(state(8, 2)).toBe('rejected');
  });
});
