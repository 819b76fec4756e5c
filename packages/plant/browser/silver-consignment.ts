import { heron } from '../simulation/demonstration/cast.ts';
import type { ListedDrum } from './untidy-workbook.ts';

// An invented piece and an invented consignment of its blanks: three melts in five drums.

/** A silver piece of which two blanks of each melt are assayed. */
export const wagtail = {
  ...heron,
  pieceStandard: 'wagtail-15',
  title: 'Wagtail, fifteen grams silver',
  blanksForAssayPerMelt: 2,
  // The elements that the spectrometer of this trial seeks, with invented limits.
  impurityTable: {
    edition: 'Wagtail, first edition',
    limits: [
      { element: 'Cu', limitMilligramsPerKilogram: 900 },
      { element: 'Pb', limitMilligramsPerKilogram: 400 },
      { element: 'Bi', limitMilligramsPerKilogram: 150 },
      { element: 'Fe', limitMilligramsPerKilogram: 100 },
    ],
  },
  massDeclaredMilligrams: 15_050,
  massLeastMilligrams: 15_000,
  massGreatestMilligrams: 15_110,
  diameterLeastMillimetres: 29.95,
  diameterGreatestMillimetres: 30.05,
  thicknessLeastMillimetres: 1.9,
  thicknessGreatestMillimetres: 2.2,
} as const;

/** Every piece weighs this, to the balance's last digit. */
export const pieceGrams = 15.05;

export const consignment = 'C-2207';

/** The melts by what becomes of them. */
export const melts = { good: 'WS-21', poor: 'WS-22', near: 'WS-23' } as const;

function listed(
  drum: string,
  melt: string,
  of: { pieces: number; tareGrams: number; seal: number; finenessPerMille: string },
): ListedDrum {
  const grossGrams = of.tareGrams + of.pieces * pieceGrams;
  return { drum, melt, ...of, grossGrams };
}

/** The drums as they really are and as the supplier lists them. */
export const drums: readonly ListedDrum[] = [
  listed('F-3101', melts.good, {
    pieces: 250,
    tareGrams: 1450,
    seal: 90_417,
    finenessPerMille: '999,7',
  }),
  listed('F-3102', melts.good, {
    pieces: 250,
    tareGrams: 1451.5,
    seal: 90_418,
    finenessPerMille: '999,7',
  }),
  listed('F-3103', melts.poor, {
    pieces: 300,
    tareGrams: 1449,
    seal: 90_419,
    finenessPerMille: '999,2',
  }),
  listed('F-3104', melts.near, {
    pieces: 250,
    tareGrams: 1450.5,
    seal: 90_420,
    finenessPerMille: '999,1',
  }),
  listed('F-3105', melts.near, {
    pieces: 200,
    tareGrams: 1450,
    seal: 90_421,
    finenessPerMille: '999,1',
  }),
];
