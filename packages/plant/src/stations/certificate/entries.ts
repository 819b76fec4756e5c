import { defineKind } from '../../journal/station.ts';
import {
  type BoxesDispatched as BoxesDispatchedBody,
  boxesDispatched,
  type CertificateIssued as CertificateIssuedBody,
  type CertificateWithdrawn as CertificateWithdrawnBody,
  certificateIssued,
  certificateWithdrawn,
} from './bodies.ts';
import { postingsOfDispatch } from './postings.ts';
import { applyDispatched, applyIssued, applyWithdrawn } from './read-model.ts';
import { weighingsOfDispatch } from './weighings.ts';

export const CertificateIssued = defineKind<CertificateIssuedBody>({
  kind: 'CertificateIssued',
  version: 1,
  station: 'certificate',
  meaning:
    'The chief assayer certifies sealed boxes. The entry holds everything that the certificate says, down to the readings; it is never changed afterwards.',
  body: certificateIssued,
  postings: 'moves nothing',
  things: ({ certificate, boxes, content }) => [
    { thing: 'certificate', id: certificate },
    ...boxes.map((id) => ({ thing: 'box', id })),
    ...content.melts.map(({ melt }) => ({ thing: 'melt', id: melt })),
  ],
  descents: ({ certificate, boxes }) =>
    boxes.map((id) => ({
      parent: { thing: 'box', id },
      child: { thing: 'certificate', id: certificate },
    })),
  apply: applyIssued,
  signsHead: true,
});

export const CertificateWithdrawn = defineKind<CertificateWithdrawnBody>({
  kind: 'CertificateWithdrawn',
  version: 1,
  station: 'certificate',
  meaning:
    'The chief assayer withdraws a certificate, with the reason. The certificate stays in the journal; its boxes need another before they leave.',
  body: certificateWithdrawn,
  postings: 'moves nothing',
  things: ({ certificate, boxes }) => [
    { thing: 'certificate', id: certificate },
    ...boxes.map((id) => ({ thing: 'box', id })),
  ],
  apply: applyWithdrawn,
  signsHead: true,
});

export const BoxesDispatched = defineKind<BoxesDispatchedBody>({
  kind: 'BoxesDispatched',
  version: 1,
  station: 'certificate',
  meaning:
    'Two people hand certified boxes over to an approved purchaser. The metal leaves the strong room with the masses that brought it there.',
  body: boxesDispatched,
  postings: postingsOfDispatch,
  weighings: weighingsOfDispatch,
  things: ({ dispatch, purchaser, boxes }) => [
    { thing: 'dispatch', id: dispatch },
    { thing: 'purchaser', id: purchaser },
    ...boxes.map(({ box }) => ({ thing: 'box', id: box })),
  ],
  descents: ({ dispatch, boxes }) =>
    boxes.map(({ box }) => ({
      parent: { thing: 'box', id: box },
      child: { thing: 'dispatch', id: dispatch },
    })),
  apply: applyDispatched,
});

export const certificateKinds = [CertificateIssued, CertificateWithdrawn, BoxesDispatched] as const;
