import { defineBook } from '../../../journal/books.ts';
import type { CertifiedMelt, MaterialCertificateAttachedBody } from './bodies.ts';

/** A material certificate of a supplier; the values of its melts stand in a book of their own. */
export type MaterialCertificate = Omit<MaterialCertificateAttachedBody, 'melts' | 'missing'> & {
  readonly melts: readonly string[];
  readonly sha256: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  /** Entry of the attachment that corrects this one. */
  readonly correctedBy: number | null;
};

export const materialCertificates = defineBook<MaterialCertificate>({
  name: 'receiving_material_certificate',
  meaning: 'A material certificate of a supplier, and which melts it names.',
  key: ['entry'],
  indexes: { byConsignment: ['consignment', 'entry'], byFile: ['sha256', 'entry'] },
});

export type CertifiedMeltRow = CertifiedMelt & { readonly entry: number };

export const certifiedMelts = defineBook<CertifiedMeltRow>({
  name: 'receiving_certified_melt',
  meaning:
    "What a supplier's certificate says of a melt; shown to nobody before the plant's own result is signed.",
  key: ['melt', 'entry'],
});

/** Whether a signed result of the plant stands for a melt. */
export const signedMelts = defineBook<{ melt: string; isSigned: boolean; entry: number }>({
  name: 'receiving_signed_melt',
  meaning:
    "Whether the plant's own result of a melt is signed, so that the supplier's may be shown.",
  key: ['melt'],
});

export type AwaitedCertificate = {
  readonly consignment: string;
  readonly melt: string;
  /** Entry and time of the certificate that first left the melt out. */
  readonly entry: number;
  readonly since: string;
};

/** Melts that wait for a certificate; nothing else stands here, so that the docket reads no more. */
export const awaitedCertificates = defineBook<AwaitedCertificate>({
  name: 'receiving_awaited_certificate',
  meaning: 'A melt that no certificate of its consignment names, while others of it are named.',
  key: ['consignment', 'melt'],
});

type ForgoneCertificate = {
  readonly consignment: string;
  readonly melt: string;
  readonly reason: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
};

export const forgoneCertificates = defineBook<ForgoneCertificate>({
  name: 'receiving_forgone_certificate',
  meaning: 'A melt that the chief assayer lets go without a certificate, and why.',
  key: ['consignment', 'melt'],
});

export const documentBooks = [
  awaitedCertificates,
  certifiedMelts,
  forgoneCertificates,
  materialCertificates,
  signedMelts,
] as const;
