import { readFileSync } from 'node:fs';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import type { ShiftSheetContent } from './shift-sheet-content.ts';

const template = readFileSync(new URL('./shift-sheet.typ', import.meta.url), 'utf8');
const fontFolder = new URL('../../../assets/fonts/', import.meta.url);
const fontFiles = [
  'atkinson-hyperlegible-next-regular.ttf',
  'atkinson-hyperlegible-next-semibold.ttf',
  'atkinson-hyperlegible-mono-regular.ttf',
] as const;

let compiler: NodeCompiler | undefined;

/** The typesetter with the fonts that are shipped; made once, when the first sheet is asked for. */
function typesetter(): NodeCompiler {
  compiler ??= NodeCompiler.create({
    fontArgs: [{ fontBlobs: fontFiles.map((file) => readFileSync(new URL(file, fontFolder))) }],
  });
  return compiler;
}

/** Characters that the fonts do not have, written as their code points: a name never stops a sheet. */
const spelledOut = (text: string): string =>
  text.replace(
    /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{ASCII}\p{P}\p{S}\u2009\u00a0\n]/gu,
    (character) =>
      `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
  );

function setPage(page: string): Uint8Array {
  const typst = typesetter();
  const compiled = typst.compile({ mainFileContent: template, inputs: { page } });
  const document = compiled.result;
  if (!document) {
    const [diagnostic] = compiled.takeDiagnostics()?.shortDiagnostics ?? [];
    throw new Error(`the shift sheet cannot be set: ${JSON.stringify(diagnostic)}`);
  }
  const bytes = typst.pdf(document, { pdfStandard: 'a-2a' });
  typst.evictCache(10);
  return bytes;
}

/** The shift sheet as PDF/A-2a; the same sheet gives the same bytes. */
export function shiftSheetPdf(content: ShiftSheetContent): Uint8Array {
  // The fonts have the Greek letter and not the micro sign.
  const text = JSON.stringify(content).normalize('NFC').replaceAll('µ', 'μ');
  try {
    return setPage(text);
  } catch {
    return setPage(spelledOut(text));
  }
}
