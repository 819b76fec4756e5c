import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { PieceStandard } from '../registers/index.ts';
import { pressRoomRefusals } from './refusals.ts';

const perMilligram = 1000;

/**
 * Whether that many pieces can have that mass at all: half a piece less of the least mass up to
 * half a piece more of the greatest. It proves no count; it stops an exchanged digit, a missing
 * tare or a wrong unit before the account takes it in.
 */
export function piecesByMassRefusals(
  standard: PieceStandard,
  moved: { pieces: number; grossMicrograms: number },
): readonly Refusal[] {
  const least = (moved.pieces - 0.5) * standard.massLeastMilligrams * perMilligram;
  const greatest = (moved.pieces + 0.5) * standard.massGreatestMilligrams * perMilligram;
  if (moved.grossMicrograms >= least && moved.grossMicrograms <= greatest) return [];
  const figures = {
    pieces: moved.pieces,
    massGrams: moved.grossMicrograms / 1e6,
    massLeastGrams: least / 1e6,
    massGreatestGrams: greatest / 1e6,
  };
  return [
    refuse(pressRoomRefusals, 'PiecesDoNotFitMass', {
      message: `${figures.massGrams} g cannot be ${moved.pieces} pieces of ${standard.title}: they weigh from ${figures.massLeastGrams} g to ${figures.massGreatestGrams} g.`,
      field: 'gross',
      figures,
    }),
  ];
}
