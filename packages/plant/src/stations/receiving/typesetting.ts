import { readFileSync } from 'node:fs';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';

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

/** Characters that the fonts do not have, as their code points: a name never stops a paper. */
function spelledOut(text: string): string {
  return text.replace(
    /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{ASCII}\p{P}\p{S}\u2009\u00a0\n]/gu,
    (character) =>
      `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
  );
}

/** A paper as PDF/A-2a: its content, set by a template; the same content gives the same bytes. */
export function pdfOf(template: string, content: object, paper: string): Uint8Array {
  const typst = typesetter();
  // The fonts have the Greek letter and not the micro sign.
  const page = spelledOut(JSON.stringify(content).normalize('NFC').replaceAll('µ', 'μ'));
  const compiled = typst.compile({ mainFileContent: template, inputs: { page } });
  const document = compiled.result;
  if (!document) {
    const [diagnostic] = compiled.takeDiagnostics()?.shortDiagnostics ?? [];
    throw new Error(`the ${paper} cannot be set: ${JSON.stringify(diagnostic)}`);
  }
  const bytes = typst.pdf(document, { pdfStandard: 'a-2a' });
  typst.evictCache(10);
  return bytes;
}
