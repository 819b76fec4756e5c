import { defineKind } from '../../../journal/station.ts';
import {
  type CertificateForgoneBody,
  certificateForgone,
  type MaterialCertificateAttachedBody,
  materialCertificateAttached,
} from './bodies.ts';
import { applyCertificate, applyForgone } from './read-model.ts';

export const MaterialCertificateAttached = defineKind<MaterialCertificateAttachedBody>({
  kind: 'MaterialCertificateAttached',
  version: 1,
  station: 'receiving',
  meaning:
    "A supplier's material certificate for melts of a consignment: its file and what it says of each. Nobody who assays sees any of it before the plant's own result of that melt is signed. It proves nothing of the metal.",
  body: materialCertificateAttached,
  readableBy: ['custodian', 'auditor'],
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'consignment', id: body.consignment },
    { thing: 'supplier', id: body.supplier },
    ...body.melts.map(({ melt }) => ({ thing: 'melt', id: melt })),
  ],
  apply: applyCertificate,
});

export const CertificateForgone = defineKind<CertificateForgoneBody>({
  kind: 'CertificateForgone',
  version: 1,
  station: 'receiving',
  meaning:
    "The chief assayer lets melts go without a supplier's certificate, and says why. It says nothing of the metal; a certificate that comes later is still attached.",
  body: certificateForgone,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'consignment', id: body.consignment },
    ...body.melts.map((id) => ({ thing: 'melt', id })),
  ],
  apply: applyForgone,
});

export const documentKinds = [MaterialCertificateAttached, CertificateForgone] as const;
