import { type CsvValue, roomForReading } from '../../../tables/csv.ts';
import type { SampledMelt } from '../melt-facts.ts';
import { greatestDeterminations } from '../run-facts.ts';

export const blankSheetHeads = [
  'Melt',
  'Blank',
  'For assay',
  'Drum',
  'Position',
  'Mass, g',
  'Diameter, mm',
  'Thickness, mm',
  'Remark',
] as const;

/** The drawn blanks that are still to be measured, each a row with room for its readings. */
export function blankSheetRows({ melt, drawn, measured }: SampledMelt): readonly CsvValue[][] {
  return [...drawn.values()]
    .filter(({ blank }) => !measured.has(blank))
    .map((one) => [
      melt.melt,
      one.blank,
      one.forAssay ? 'yes' : '',
      one.drum,
      one.position,
      roomForReading,
      roomForReading,
      roomForReading,
      null,
    ]);
}

export const cupellationSheetHeads = [
  'Melt',
  'Kind',
  'Label',
  'Blank',
  'Taken, mg',
  'Cornet, mg',
  'Remark',
] as const;

/** Two proofs are the fewest that show whether the run holds. */
const proofs = ['P1', 'P2'];

/** Proofs and one portion of each cut blank, as many as a melt may have, with room for the weighings. */
export function cupellationSheetRows({ melt, measured }: SampledMelt): readonly CsvValue[][] {
  const cut = [...measured.values()].filter((row) => row.cut).map(({ blank }) => blank);
  return [
    ...proofs.map((label) => [
      melt.melt,
      'proof',
      label,
      null,
      roomForReading,
      roomForReading,
      null,
    ]),
    ...cut
      .slice(0, greatestDeterminations)
      .map((blank, index) => [
        melt.melt,
        'portion',
        `A${index + 1}`,
        blank,
        roomForReading,
        roomForReading,
        null,
      ]),
  ];
}
