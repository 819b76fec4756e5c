import { defineBook } from '../../journal/books.ts';
import type { CertificateContent } from './content.ts';

export type CertificateRow = {
  readonly certificate: string;
  readonly entry: number;
  readonly entryHash: string;
  readonly instant: string;
  readonly author: string;
  readonly state: 'valid' | 'withdrawn';
  /** Entry that withdrew it, with the reason; null while it is valid. */
  readonly withdrawnEntry: number | null;
  readonly withdrawnReason: string | null;
  readonly content: CertificateContent;
};

/** Certificates with all they say. */
export const certificates = defineBook<CertificateRow>({
  name: 'certificate_certificate',
  meaning: 'A certificate, the entry that issued it and everything that it says.',
  key: ['certificate'],
  indexes: { byEntry: ['entry'] },
});

/** A certificate in a line, for lists. */
export type CertificateLine = {
  readonly certificate: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly state: 'valid' | 'withdrawn';
  readonly pieceStandard: string;
  readonly metal: string;
  readonly boxes: readonly string[];
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
};

/** Certificates without their evidence, so that a list need not read it. */
export const certificateLines = defineBook<CertificateLine>({
  name: 'certificate_line',
  meaning: 'A certificate in a line: which boxes, how many pieces, whether it still holds.',
  key: ['certificate'],
  indexes: { byEntry: ['entry'] },
});

export type CertifiedBoxRow = {
  readonly box: string;
  /** The certificate that holds for the box; null after its withdrawal. */
  readonly certificate: string | null;
  readonly dispatch: string | null;
};

/** Which certificate a box has, and whether it has left. */
export const certifiedBoxes = defineBook<CertifiedBoxRow>({
  name: 'certificate_box',
  meaning: 'The certificate of a box and the dispatch that took it away.',
  key: ['box'],
});

export type DispatchRow = {
  readonly dispatch: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  readonly purchaser: string;
  readonly document: string;
  readonly boxes: readonly string[];
  readonly pieces: number;
};

/** Boxes that left, to whom. */
export const dispatches = defineBook<DispatchRow>({
  name: 'certificate_dispatch',
  meaning: 'Boxes that went to a purchaser, with the document that went with them.',
  key: ['dispatch'],
  indexes: { byEntry: ['entry'] },
});

export const certificateBooks = [
  certificates,
  certificateLines,
  certifiedBoxes,
  dispatches,
] as const;
