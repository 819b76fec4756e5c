import type { Paper, PaperSources } from '../../journal/station.ts';
import { certificates } from './books.ts';
import { certificatePdf } from './certificate-pdf.ts';
import { certificateRecord } from './record.ts';

const safeName = (id: string): string => id.replaceAll('/', '-');

/** The certificate to print: PDF/A-2a. */
const certificatePaper: Paper = {
  paper: 'certificate',
  station: 'certificate',
  title: 'Certificate',
  render: async ({ books, signer }: PaperSources, id: string) => {
    const row = await books.get(certificates, id);
    if (!row) return undefined;
    const { entry, entryHash, content } = row;
    return {
      mediaType: 'application/pdf',
      fileName: `${safeName(id)}.pdf`,
      bytes: certificatePdf(content, { entry, entryHash, publicKey: signer.publicKey }),
    };
  },
};

/** The signed record of a certificate; nothing while no signed head covers its entry. */
const certificateRecordPaper: Paper = {
  paper: 'certificate-record',
  station: 'certificate',
  title: 'Signed certificate record',
  render: async ({ books, signer, proofOf }: PaperSources, id: string) => {
    const row = await books.get(certificates, id);
    const proof = row && (await proofOf(row.entry));
    if (!row || !proof) return undefined;
    const record = certificateRecord(row.content, proof, signer);
    return {
      mediaType: 'application/jose+json',
      fileName: `${safeName(id)}.cupel.json`,
      bytes: new TextEncoder().encode(`${JSON.stringify(record, null, 1)}\n`),
    };
  },
};

export const certificatePapers = [certificatePaper, certificateRecordPaper] as const;
