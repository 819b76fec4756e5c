/** What one solution is found to hold: element with its content and standard uncertainty, in mg/kg. */
export type Found = Readonly<Record<string, readonly [content: number, uncertainty: number]>>;

const detectionLimits: Readonly<Record<string, number>> = { Cu: 0.5, Pb: 0.4, Bi: 0.5, Fe: 0.2 };

/** The list of a solution as the program of a spectrometer copies it. */
export function listOf(found: Found): string {
  return Object.entries(found)
    .map(([element, [content, uncertainty]]) =>
      [element, content, uncertainty, detectionLimits[element]].join('\t'),
    )
    .join('\n');
}

/** Of the invented reference material: copper, lead, bismuth and iron make up what is not silver. */
export const certified = [
  ['fineness', '999.55', '‰', '0.01'],
  ['Cu', '300', 'mg/kg', '4'],
  ['Pb', '100', 'mg/kg', '2'],
] as const;

/** What the reference material is found to hold when all is well. */
export const found: Found = { Cu: [301, 4], Pb: [99, 2], Bi: [40, 1], Fe: [10, 0.5] };

/** Solutions of the good melt: 999.660 and 999.646 ‰. */
export const good = {
  first: { Cu: [240, 4], Pb: [60, 1.5], Bi: [30, 1], Fe: [10, 0.5] },
  second: { Cu: [250, 4], Pb: [62, 1.5], Bi: [31, 1], Fe: [11, 0.5] },
} satisfies Record<string, Found>;

/** Solutions of the near melt: 999.020, 999.060, 999.045 and 999.055 ‰. */
export const near = {
  first: { Cu: [700, 5], Pb: [180, 2], Bi: [80, 1], Fe: [20, 0.5] },
  second: { Cu: [662, 5], Pb: [179, 2], Bi: [79, 1], Fe: [20, 0.5] },
  third: { Cu: [676, 5], Pb: [180, 2], Bi: [79, 1], Fe: [20, 0.5] },
  fourth: { Cu: [667, 5], Pb: [179, 2], Bi: [79, 1], Fe: [20, 0.5] },
} satisfies Record<string, Found>;

const rows = (label: string, values: readonly (readonly number[])[]): readonly string[] =>
  values.map((row, index) => {
    const figures = row.map((one) => one.toFixed(2).replace('.', ','));
    return [`${label} (${index + 1})`, ...figures].join(';');
  });

/**
 * The result file of a spectrometer over one sequence: blanks of reagents, standards, drift before
 * and after, two solutions of the melt and one of the reference material, each read twice.
 */
export function resultFile(blanks: readonly [string, string]): string {
  return [
    'Messung 2207-B;;;;',
    'Feinsilber, in Salpetersäure gelöst;;;;',
    ';;;;',
    'Probe;Cu 324,754;Pb 220,353;Bi 223,061;Fe 259,940',
    ';mg/kg;mg/kg;mg/kg;mg/kg',
    ...rows('Blindwert', [
      [0.11, 0.05, 0.08, 0.04],
      [0.15, 0.07, 0.05, 0.02],
    ]),
    'Std 0;0,02;0,01;0,02;0,00',
    'Std 1;499,10;249,70;100,20;50,10',
    'Std 2;1001,20;500,60;199,80;99,90',
    'Drift (1);500,40;250,10;100,10;50,00',
    ...rows(blanks[0], [
      [842, 291, 88, 21],
      [839, 292.5, 87.4, 21.3],
    ]),
    ...rows(blanks[1], [
      [848, 295, 88.6, 21.1],
      [845, 293.8, 89, 20.8],
    ]),
    ...rows('RM-AG-7', [
      [301.5, 99.2, 40.3, 10.1],
      [299.8, 100.4, 39.9, 9.9],
    ]),
    'Drift (2);503,10;251,30;100,60;50,20',
    'NWG;0,50;0,40;0,50;0,20',
    '',
  ].join('\n');
}
