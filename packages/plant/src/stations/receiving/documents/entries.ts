import { defineKind } from '../../../journal/station.ts';
import { type MaterialCertificateAttachedBody, materialCertificateAttached } from './bodies.ts';
import { applyCertificate } from './read-model.ts';

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

export const documentKinds = [MaterialCertificateAttached] as const;
