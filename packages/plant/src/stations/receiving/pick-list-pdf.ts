import { readFileSync } from 'node:fs';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import bwipjs from 'bwip-js/node';
import type { PickListPage } from './pick-list-content.ts';

const template = readFileSync(new URL('./pick-list.typ', import.meta.url), 'utf8');
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

/** A Data Matrix (ISO/IEC 16022) of an id as an SVG drawing, without a quiet zone. */
export function codeOf(id: string): string {
  return bwipjs.toSVG({ bcid: 'datamatrix', text: id, scale: 1, padding: 0 });
}

/** Characters that the fonts do not have, as their code points: a name never stops a paper. */
function spelledOut(text: string): string {
  return text.replace(
    /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{ASCII}\p{P}\p{S}\u2009\u00a0\n]/gu,
    (character) =>
      `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
  );
}

/** The pick list as PDF/A-2a, A4; the same list gives the same bytes. */
export function pickListPdf(page: PickListPage): Uint8Array {
  const coded = {
    ...page,
    drums: page.drums.map((drum) => ({
      ...drum,
      code: codeOf(drum.drum),
      picks: drum.picks.map((pick) => ({ ...pick, code: codeOf(pick.blank) })),
    })),
  };
  const typst = typesetter();
  const text = spelledOut(JSON.stringify(coded).normalize('NFC'));
  const compiled = typst.compile({ mainFileContent: template, inputs: { page: text } });
  const document = compiled.result;
  if (!document) {
    const [diagnostic] = compiled.takeDiagnostics()?.shortDiagnostics ?? [];
    throw new Error(`the pick list cannot be set: ${JSON.stringify(diagnostic)}`);
  }
  const bytes = typst.pdf(document, { pdfStandard: 'a-2a' });
  typst.evictCache(10);
  return bytes;
}
