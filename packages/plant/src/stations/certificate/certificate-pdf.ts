import { readFileSync } from 'node:fs';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import type { CertificateContent } from './content.ts';
import { certificateCode, dataMatrixSvg } from './data-matrix.ts';
import { type CertificatePage, certificatePage, type RecordReference } from './page-content.ts';

const template = readFileSync(new URL('./certificate.typ', import.meta.url), 'utf8');
const fontFolder = new URL('../../../assets/fonts/', import.meta.url);
const fontFiles = [
  'atkinson-hyperlegible-next-regular.ttf',
  'atkinson-hyperlegible-next-semibold.ttf',
  'atkinson-hyperlegible-mono-regular.ttf',
] as const;

let compiler: NodeCompiler | undefined;

/** The typesetter with the fonts that are shipped; made once, when the first paper is asked for. */
function typesetter(): NodeCompiler {
  compiler ??= NodeCompiler.create({
    fontArgs: [{ fontBlobs: fontFiles.map((file) => readFileSync(new URL(file, fontFolder))) }],
  });
  return compiler;
}

/** The micro sign as the Greek letter, which the font has; other text stays as it is. */
const printable = (text: string): string => text.normalize('NFC').replaceAll('µ', 'μ');

/**
 * Characters that the fonts do not have, written as their code points, so that a name in another
 * script never stops a certificate.
 */
function spelledOut(text: string): string {
  return text.replace(
    /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{ASCII}\p{P}\p{S}\u2009\u00a0\n]/gu,
    (character) =>
      `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
  );
}

function setPage(page: string, code: string): Uint8Array {
  const typst = typesetter();
  const compiled = typst.compile({ mainFileContent: template, inputs: { page, code } });
  const document = compiled.result;
  if (!document) {
    const [diagnostic] = compiled.takeDiagnostics()?.shortDiagnostics ?? [];
    throw new Error(`the certificate cannot be set: ${JSON.stringify(diagnostic)}`);
  }
  const bytes = typst.pdf(document, { pdfStandard: 'a-2a' });
  typst.evictCache(10);
  return bytes;
}

/** The certificate as PDF/A-2a; the same certificate gives the same bytes. */
export function certificatePdf(content: CertificateContent, record: RecordReference): Uint8Array {
  const page: CertificatePage = certificatePage(content, record);
  const code = dataMatrixSvg(certificateCode(content.certificate, record.entryHash));
  const text = printable(JSON.stringify(page));
  try {
    return setPage(text, code);
  } catch {
    return setPage(spelledOut(text), code);
  }
}
