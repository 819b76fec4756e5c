import type { TrueBalance } from './readings.ts';

/** The balances of the demonstration, as they really are. */
export const balances = {
  drums: { instrument: 'BAL-R1', divisionGrams: 0.1, repeatabilityGrams: 0.05, gain: 4e-6 },
  blanks: { instrument: 'BAL-L2', divisionGrams: 0.001, repeatabilityGrams: 0.0007, gain: 1e-6 },
  press: { instrument: 'BAL-P1', divisionGrams: 0.1, repeatabilityGrams: 0.05, gain: -3e-6 },
  tubes: { instrument: 'BAL-T1', divisionGrams: 0.01, repeatabilityGrams: 0.008, gain: 2e-6 },
  boxes: { instrument: 'BAL-B1', divisionGrams: 0.1, repeatabilityGrams: 0.06, gain: 5e-6 },
} as const satisfies Record<string, TrueBalance>;

const balance = (
  name: keyof typeof balances,
  title: string,
  place: string,
  gainRelative: number,
) => ({
  instrument: balances[name].instrument,
  title,
  kind: 'balance',
  place,
  divisionGrams: balances[name].divisionGrams,
  repeatabilityGrams: balances[name].repeatabilityGrams,
  gainRelative,
  dueInDays: 200,
});

const other = (
  instrument: string,
  title: string,
  kind: string,
  place: string,
  dueInDays = 200,
) => ({
  instrument,
  title,
  kind,
  place,
  divisionGrams: null,
  repeatabilityGrams: null,
  gainRelative: null,
  dueInDays,
});

/** What is registered of each instrument. */
export const instruments = [
  balance('drums', 'Floor balance at receiving', 'receiving', 1e-5),
  {
    instrument: 'BAL-L1',
    title: 'Assay balance',
    kind: 'balance',
    place: 'laboratory',
    divisionGrams: 0.00001,
    repeatabilityGrams: 0.000006,
    gainRelative: 1e-6,
    dueInDays: 90,
  },
  balance('blanks', 'Blank balance', 'laboratory', 3e-6),
  balance('press', 'Bench balance of the press room', 'press-room', 1e-5),
  balance('tubes', 'Tube balance', 'put-up', 1e-5),
  balance('boxes', 'Box balance', 'put-up', 1e-5),
  other('MIC-1', 'Micrometer', 'micrometer', 'laboratory'),
  other('MIC-2', 'Micrometer of the press room', 'micrometer', 'press-room'),
  other('ICP-1', 'Emission spectrometer', 'spectrometer', 'laboratory', 60),
  other('FUR-1', 'Muffle furnace', 'furnace', 'laboratory'),
  other('PRESS-1', 'Press one', 'press', 'press-room'),
  other('PRESS-2', 'Press two', 'press', 'press-room'),
] as const;
