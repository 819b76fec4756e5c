/** Certified in the gold alloy of the reference material, in ‰. */
export const certifiedGoldPerMille = 750.42;

/** Certified in the fine silver of the reference material: fineness in ‰, copper and lead in mg/kg. */
export const certifiedSilver = { finenessPerMille: 999.71, copper: 150.8, lead: 52.2 } as const;

/** The two reference materials of the laboratory; bottle and maker are invented. */
export const referenceMaterials = [
  {
    referenceMaterial: 'RM-G750-2',
    kind: 'gold alloy 750',
    title: 'Gold alloy 750, rolled',
    metal: 'gold',
    certificate: 'Certificate G 750-2 of Lindwater Reference Metals',
    certified: [
      {
        quantity: 'fineness',
        value: certifiedGoldPerMille,
        unit: '‰',
        standardUncertainty: 0.06,
      },
    ],
  },
  {
    referenceMaterial: 'RM-S999-5',
    kind: 'fine silver',
    title: 'Fine silver with known impurities, chips',
    metal: 'silver',
    certificate: 'Certificate S 999-5 of Lindwater Reference Metals',
    certified: [
      {
        quantity: 'fineness',
        value: certifiedSilver.finenessPerMille,
        unit: '‰',
        standardUncertainty: 0.003,
      },
      { quantity: 'Cu', value: certifiedSilver.copper, unit: 'mg/kg', standardUncertainty: 1.6 },
      { quantity: 'Pb', value: certifiedSilver.lead, unit: 'mg/kg', standardUncertainty: 0.7 },
    ],
  },
] as const;

/** Mass of each reference material as it came. */
export const referenceMassReceived = { text: '50.000', unit: 'g', typed: false } as const;

const lot = (
  id: string,
  reagent: string,
  of: { readonly supplierLot: string; readonly lastsDays: number },
) => ({ lot: id, reagent, supplier: 'Ferrow Laboratory Supply', isTitrant: false, ...of });

/** Lots of reagents that the laboratory bought before the fortnight, and those that it opens then. */
export const reagentLots = [
  lot('PA-07', 'parting acid', { supplierLot: 'FL 33-1182', lastsDays: 160 }),
  lot('IS-03', 'inquartation silver', { supplierLot: 'FL AG-0461', lastsDays: 700 }),
  lot('AR-21', 'argon', { supplierLot: 'bundle 5530', lastsDays: 300 }),
  lot('NA-12', 'nitric acid', { supplierLot: 'FL 65-2207', lastsDays: 90 }),
  lot('NA-13', 'nitric acid', { supplierLot: 'FL 65-2231', lastsDays: 180 }),
  lot('NA-14', 'nitric acid', { supplierLot: 'FL 65-2240', lastsDays: 180 }),
] as const;

/** Days on which the bottles of nitric acid are opened; the second is condemned on the next day. */
export const acidOpened = { 'NA-12': 0, 'NA-13': 9, 'NA-14': 10 } as const;

/** The bottle of nitric acid in use on a day of the demonstration. */
export function acidOnDay(day: number): keyof typeof acidOpened {
  if (day >= acidOpened['NA-14']) return 'NA-14';
  return day >= acidOpened['NA-13'] ? 'NA-13' : 'NA-12';
}

/** The spectrometer that only looks at surfaces. */
export const screeningSpectrometer = {
  instrument: 'XRF-1',
  title: 'Surface spectrometer',
  kind: 'spectrometer',
  place: 'laboratory',
  divisionGrams: null,
  repeatabilityGrams: null,
  gainRelative: null,
} as const;

/** Rows of numbers that the plant bought: seals of boxes, labels of tubes and boxes. */
export const numberSeries = [
  { series: 'SEALS-K', item: 'seal', prefix: 'K-', digits: 6, last: 240 },
  { series: 'LABELS-TS', item: 'tube label', prefix: 'TS', digits: 5, last: 10_000 },
  { series: 'LABELS-TG', item: 'tube label', prefix: 'TG', digits: 5, last: 2000 },
  { series: 'LABELS-BS', item: 'box label', prefix: 'BS', digits: 4, last: 500 },
  { series: 'LABELS-BG', item: 'box label', prefix: 'BG', digits: 4, last: 200 },
] as const;

/** Seals of the box series that were spoiled: two that jammed in the press. */
export const spoiledSeals = { first: 239, last: 240 } as const;

/** Racks of the strong room, by the metal that lies in them. */
export const racks = {
  silver: { rack: 'RACK-N1', title: 'North wall, lower shelf' },
  gold: { rack: 'RACK-N2', title: 'North wall, upper shelf' },
} as const;
