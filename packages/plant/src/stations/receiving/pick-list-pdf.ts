import { readFileSync } from 'node:fs';
import bwipjs from 'bwip-js/node';
import type { PickListPage } from './pick-list-content.ts';
import { pdfOf } from './typesetting.ts';

const template = readFileSync(new URL('./pick-list.typ', import.meta.url), 'utf8');

/** A Data Matrix (ISO/IEC 16022) of an id as an SVG drawing, without a quiet zone. */
export function codeOf(id: string): string {
  return bwipjs.toSVG({ bcid: 'datamatrix', text: id, scale: 1, padding: 0 });
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
  return pdfOf(template, coded, 'pick list');
}
