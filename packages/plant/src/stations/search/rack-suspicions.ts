import { type PresentRack, placeName } from '../account/index.ts';
import { type Lattice, ways } from './lattice.ts';
import type { Cell } from './search-facts.ts';
import { lookFor, piecesText, type Suspicion } from './suspicion.ts';

/**
 * Of racks without any fault so many differ from the labels of their containers all the same, because one was put
 * away without a scan: an assumption. It bounds what such a difference can say.
 */
const partNotScanned = 0.02;

const differenceOf = ({ piecesCounted, piecesLabelled }: PresentRack): number =>
  piecesCounted - piecesLabelled;

/** How well a fault of so many pieces in a rack, or beside all of them, explains what was counted against the labels. */
function fits({ racks }: Cell, at: PresentRack | null, pieces: number): number {
  const isAsCounted = racks.every((rack) => differenceOf(rack) === (rack === at ? pieces : 0));
  return isAsCounted ? 1 - partNotScanned : partNotScanned;
}

/**
 * Which part of the faults of that size at a place is in a rack, or beside all of them: before the counts as much in
 * one as in another. The whole where the place was counted as one.
 */
export function partIn(cell: Cell, at: PresentRack | null, pieces: number): number {
  const all = [null, ...cell.racks].reduce((sum, one) => sum + fits(cell, one, pieces), 0);
  return fits(cell, at, pieces) / all;
}

function evidenceOf(rack: PresentRack): string | null {
  const { missing, strange, piecesCounted, piecesLabelled } = rack;
  const scans = [
    ...(missing.length > 0 ? [`the last scan missed ${missing.slice(0, 3).join(', ')}`] : []),
    ...(strange.length > 0 ? [`it found ${strange.slice(0, 3).join(', ')} by mistake`] : []),
  ];
  if (differenceOf(rack) === 0 && scans.length === 0) return null;
  const counted = `rack ${rack.rack}: ${piecesText(piecesCounted)} counted, ${piecesLabelled} by the labels of its containers`;
  return [counted, ...scans].join('; ');
}

/** What can be wrong in one rack: its count, a piece gone from it, or a whole container elsewhere. */
function ofRack(lattice: Lattice, cell: Cell, rack: PresentRack): readonly Suspicion[] {
  const { place } = cell;
  const name = `rack ${rack.rack} in ${placeName(place)}`;
  const look = `rack/${rack.rack}`;
  const title = `Let another person count ${name}, container by container`;
  const evidence = evidenceOf(rack);
  const difference = differenceOf(rack);
  const way = (value: number) => ({
    value,
    adds: { [place]: -value },
    share: partIn(cell, rack, value),
  });
  const whole = Math.abs(difference) > 1 ? [way(difference)] : [];
  return [
    {
      name: `tally of rack ${rack.rack}`,
      kind: 'tally miscounted',
      options: ways(lattice, 'tally miscounted', [way(-1), way(1)]),
      words: (value) =>
        `the count of ${name} found ${piecesText(Math.abs(value))} too ${value < 0 ? 'few' : 'many'}`,
      evidence,
      look: lookFor('tally miscounted', look, title),
    },
    {
      name: `gone from rack ${rack.rack}`,
      kind: 'piece gone',
      options: ways(lattice, 'piece gone', [way(-1)]),
      words: (value) => `${piecesText(Math.abs(value))} lost from ${name} or taken from it`,
      evidence,
      look: lookFor('piece gone', look, title),
    },
    {
      name: `containers of rack ${rack.rack}`,
      kind: 'tube or box not booked',
      options: ways(lattice, 'tube or box not booked', whole),
      words: (value) =>
        value < 0
          ? `a container with ${piecesText(-value)} is not in ${name}, where it was put away`
          : `a container with ${piecesText(value)} is in ${name}, and no entry put it there`,
      evidence,
      look: lookFor('tube or box not booked', look, title),
    },
  ];
}

/** What can be wrong in the racks of places that were tallied rack by rack. */
export const ofRacks = (lattice: Lattice): readonly Suspicion[] =>
  lattice.cells.flatMap((cell) => cell.racks.flatMap((rack) => ofRack(lattice, cell, rack)));
