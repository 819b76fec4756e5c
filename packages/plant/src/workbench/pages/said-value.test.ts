import { describe, expect, it } from 'vitest';
import { saidForm, saidForms, saidText } from './said-value.ts';

// The texts are what an assayer would write beside the same figure: a thin space parts thousands.
describe('said form', () => {
  it.each([
    ['grossMicrograms', [8_021_500_000], 'Gross', 'g', '8021.500'],
    ['grossMicrogramsBook', [103_666_280_000], 'Gross book', 'g', '103\u202f666.280'],
    ['fineMicrograms', [0], 'Fine', 'g', '0.000'],
    ['massMicrograms', [250_430], 'Mass', 'mg', '250.430'],
    ['finenessDeclaredPartsPerMillion', [999_000], 'Fineness declared', '‰', '999'],
    ['contentMilligramsPerKilogram', [348.4], 'Content', 'mg/kg', '348.4'],
    ['sampleMassMilligrams', [250.6], 'Sample mass', 'mg', '250.6'],
    ['guardBandPerMille', [0.01], 'Guard band', '‰', '0.01'],
    ['divisionGrams', [0.1], 'Division', 'g', '0.1'],
    ['pieces', [400], 'Pieces', undefined, '400'],
  ] as const)('reads %s', (name, [value], title, unit, printed) => {
    const form = saidForm(name, [value]);
    expect(form).toMatchObject({ title, ...(unit ? { unit } : {}) });
    expect(form.unit).toBe(unit);
    expect(form.print(value)).toBe(printed);
  });

  it('keeps one unit for a column, that of its heaviest mass', () => {
    const form = saidForm('netMicrograms', [6_016_800_000, 500]);
    expect(form.unit).toBe('g');
    expect(form.print(500)).toBe('0.000');
  });

  it('reads the masses of one record in one unit', () => {
    const forms = saidForms({ grossMicrogramsBook: -16_000, grossMicrogramsTally: 0, pieces: 2 });
    expect(forms('grossMicrogramsTally')).toMatchObject({ title: 'Gross tally', unit: 'mg' });
    expect(forms('grossMicrogramsBook').print(-16_000)).toBe('−16.000');
    expect(forms('pieces')).toMatchObject({ title: 'Pieces' });
  });

  it('leaves micrograms that are no whole numbers as they stand', () => {
    expect(saidForm('meanMicrograms', [0.5])).toMatchObject({ title: 'Mean micrograms' });
  });
});

describe('said text', () => {
  const nameOf = (person: string) => ({ jonas: 'Jonas Elm' })[person] ?? person;
  it.each([
    ['place', 'press-room', 'Press room'],
    ['uncountedPlaces', 'strong-room', 'Strong room'],
    ['from', 'in-transit', 'In transit'],
    ['to', 'with-purchaser', 'Purchaser'],
    ['tallyAuthor', 'jonas', 'Jonas Elm'],
    ['leaving', 'jonas', 'Jonas Elm'],
    ['explanation', 'jonas', 'jonas'],
    ['station', 'press-room', 'press-room'],
  ])('reads %s of %s as %s', (name, text, read) => {
    expect(saidText(name, text, nameOf)).toBe(read);
  });
});
