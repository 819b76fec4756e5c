import { fineMicrograms } from '@cupel/calculation';
import type { Posting } from '../../journal/posting.ts';
import type { BoxPacked, DeliveryAccepted, PiecesScrapped, PiecesSetAside } from './bodies.ts';

/** Fine mass at the declared fineness: exact, rounded once. */
export function declaredFineMicrograms(
  grossMicrograms: number,
  finenessDeclaredPartsPerMillion: number,
): number {
  const fineness = BigInt(finenessDeclaredPartsPerMillion);
  return Number(fineMicrograms(BigInt(grossMicrograms), fineness, 'half-even'));
}

/** A sealed box goes to the strong room, melt by melt, with the masses of its tubes. */
export function postingsOfBox(body: BoxPacked): readonly Posting[] {
  return body.melts.map((part) => ({
    metal: body.metal,
    pieceStandard: body.pieceStandard,
    melt: part.melt,
    container: body.box,
    from: 'put-up',
    to: 'strong-room',
    pieces: part.pieces,
    grossMicrograms: part.netMicrograms,
    fineMicrograms: part.fineMicrograms,
    estimated: false,
  }));
}

function loosePieces(body: PiecesSetAside, to: 'archive' | 'scrap'): readonly Posting[] {
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: null,
      from: 'put-up',
      to,
      pieces: body.pieces,
      grossMicrograms: body.grossMicrograms,
      fineMicrograms: declaredFineMicrograms(
        body.grossMicrograms,
        body.finenessDeclaredPartsPerMillion,
      ),
      estimated: false,
    },
  ];
}

/** Pieces kept for the independent trial go to the archive. */
export function postingsOfPiecesSetAside(body: PiecesSetAside): readonly Posting[] {
  return loosePieces(body, 'archive');
}

/** Pieces ruled to be scrap after they had left the press room. */
export function postingsOfPiecesScrapped(body: PiecesScrapped): readonly Posting[] {
  return loosePieces(body, 'scrap');
}

/** Pieces that came from the press room, with the mass at which they were sent. */
export function postingsOfAcceptance(body: DeliveryAccepted): readonly Posting[] {
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: null,
      from: 'in-transit',
      to: 'put-up',
      pieces: body.pieces,
      grossMicrograms: body.grossMicrograms,
      fineMicrograms: declaredFineMicrograms(
        body.grossMicrograms,
        body.finenessDeclaredPartsPerMillion,
      ),
      estimated: false,
    },
  ];
}
