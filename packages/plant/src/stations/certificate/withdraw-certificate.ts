import { z } from 'zod';
import { refuse } from '../../journal/refusal.ts';
import { defineCommand, draft } from '../../journal/station.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import { certificateLines } from './books.ts';
import { CertificateWithdrawn } from './entries.ts';
import { certificateRefusals } from './refusals.ts';

/** Withdraws a certificate; its boxes need another before they leave. */
export const withdrawCertificate = defineCommand({
  command: 'withdraw-certificate',
  station: 'certificate',
  title: 'Withdraw certificate',
  input: z.strictObject({
    certificate: idSchema.meta({ title: 'Certificate', description: 'The one to withdraw.' }),
    reason: reasonSchema,
  }),
  roles: ['chief assayer'],
  signature: 'author',
  facts: (books, { certificate }) => books.get(certificateLines, certificate),
  decide: ({ certificate, reason }, line) => {
    if (!line) {
      const refusal = refuse(certificateRefusals, 'CertificateUnknown', {
        message: `There is no certificate ${certificate}.`,
        field: 'certificate',
        figures: { certificate },
      });
      return { refusals: [refusal] };
    }
    if (line.state === 'withdrawn') {
      const refusal = refuse(certificateRefusals, 'CertificateAlreadyWithdrawn', {
        message: `Certificate ${certificate} of entry ${line.entry} has been withdrawn already.`,
        field: 'certificate',
        figures: { certificate, entry: line.entry },
      });
      return { refusals: [refusal] };
    }
    const body = { certificate, boxes: [...line.boxes], reason };
    return { entries: [draft(CertificateWithdrawn, body, { reason })], answer: { certificate } };
  },
});
