import type { Drum } from '../books.ts';
import type { DifferenceFigures } from './bodies.ts';
import { type MassDifference, massDifference, type WeighedWith } from './mass-difference.ts';
import type { DifferenceCause } from './words.ts';

/** What became of a seal that was not the documented one. */
export interface SealFound {
  readonly sealDocumented: string | null;
  readonly sealFound: string | null;
}

/** The figures of a drum or melt but for what only its entries tell. */
export type Figures = Omit<DifferenceFigures, 'evidence' | 'beganAt'>;

function massOf(drum: Drum): MassDifference | undefined {
  if (drum.netMicrograms === null || !drum.count) return undefined;
  return massDifference(
    { foundMicrograms: drum.netMicrograms, documentedMicrograms: drum.netDocumentedMicrograms },
    drum.count.input as unknown as WeighedWith,
    { gross: drum.grossDocumented, tare: drum.tareDocumented },
  );
}

/** A drum held against its document, with the causes by which it differs; none where it does not. */
export function figuresOfDrum(drum: Drum, seal: SealFound): Figures {
  const mass = massOf(drum);
  const isReturned = drum.state === 'returned';
  const isCounted = drum.pieces !== drum.piecesDocumented;
  const causes: DifferenceCause[] = [
    ...(isCounted ? (['pieces'] as const) : []),
    ...(mass?.isCertain ? (['mass'] as const) : []),
    ...(seal.sealDocumented === null ? [] : (['seal'] as const)),
    ...(isReturned ? (['returned'] as const) : []),
  ];
  const piecesFound = isReturned ? 0 : drum.pieces;
  const netFoundMicrograms = isReturned ? 0 : drum.netMicrograms;
  return {
    thing: 'drum',
    id: drum.drum,
    melt: drum.melt,
    causes,
    piecesAnnounced: drum.piecesDocumented,
    netAnnouncedMicrograms: drum.netDocumentedMicrograms,
    piecesFound,
    netFoundMicrograms,
    differencePieces: piecesFound - drum.piecesDocumented,
    differenceMicrograms:
      netFoundMicrograms === null ? null : netFoundMicrograms - drum.netDocumentedMicrograms,
    standardUncertaintyMicrograms: mass?.standardUncertaintyMicrograms ?? null,
    ...seal,
  };
}

/** What is kept of a melt of which something was, or will be, handed back. */
export function figuresOfMelt(melt: {
  readonly melt: string;
  readonly causes: readonly DifferenceCause[];
  readonly taken: { readonly pieces: number; readonly netMicrograms: number };
  readonly gone: { readonly pieces: number; readonly netMicrograms: number };
}): Figures {
  const { taken, gone } = melt;
  return {
    thing: 'melt',
    id: melt.melt,
    melt: melt.melt,
    causes: [...melt.causes],
    piecesAnnounced: taken.pieces,
    netAnnouncedMicrograms: taken.netMicrograms,
    piecesFound: Math.max(0, taken.pieces - gone.pieces),
    netFoundMicrograms: Math.max(0, taken.netMicrograms - gone.netMicrograms),
    differencePieces: -gone.pieces,
    differenceMicrograms: -gone.netMicrograms,
    standardUncertaintyMicrograms: null,
    sealDocumented: null,
    sealFound: null,
  };
}

const signed = (value: number, decimals: number): string =>
  `${value > 0 ? '+' : value < 0 ? '−' : ''}${Math.abs(value).toFixed(decimals)}`;

/** A difference as text: −2 pieces, −61.3 g. */
export function differenceInWords(pieces: number, micrograms: number): string {
  return `${signed(pieces, 0)} ${Math.abs(pieces) === 1 ? 'piece' : 'pieces'}, ${signed(micrograms / 1e6, 1)} g`;
}
