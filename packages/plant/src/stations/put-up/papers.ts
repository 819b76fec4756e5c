import bwipjs from 'bwip-js/node';
import type { Paper } from '../../journal/station.ts';
import { pieceStandardOf, plantOf } from '../registers/index.ts';
import { boxes, tubes, weighings } from './books.ts';
import { drawBoxLabel, drawTubeReceipt } from './paper-drawing.ts';

/** A Data Matrix (ISO/IEC 16022) of a text, as the inside of an SVG, with its side in units. */
export function dataMatrixSvg(text: string): { inside: string; side: number } {
  const svg = bwipjs.toSVG({
    bcid: 'datamatrix',
    text,
    scale: 4,
    paddingwidth: 4,
    paddingheight: 4,
  });
  const side = Number(/viewBox="0 0 (\d+)/.exec(svg)?.[1] ?? 0);
  const inside = svg.replace(/^<svg[^>]*>/, '').replace(/<\/svg>\s*$/, '');
  return { inside, side };
}

const svgFile = (fileName: string, svg: string) => ({
  mediaType: 'image/svg+xml',
  fileName,
  bytes: new TextEncoder().encode(svg),
});

/** The receipt of a tube's last weighing, 80 mm wide. */
export const tubeReceipt: Paper = {
  paper: 'tube-receipt',
  station: 'put-up',
  title: 'receipt',
  render: async ({ books }, id) => {
    const tube = await books.get(tubes, id);
    const [last] = await books.select(weighings, { prefix: [id], descending: true, limit: 1 });
    if (!tube || !last) return undefined;
    const standard = await pieceStandardOf(books, tube.pieceStandard);
    const plant = await plantOf(books);
    const svg = drawTubeReceipt({
      plantTitle: plant?.title ?? '',
      timeZone: plant?.timeZone ?? 'UTC',
      standardTitle: standard?.title ?? tube.pieceStandard,
      tube,
      weighing: last,
      code: dataMatrixSvg(tube.tube),
    });
    return svgFile(`tube-${id}.svg`, svg);
  },
};

/** The label of a sealed box: a Data Matrix of its name, and the same in words. */
export const boxLabel: Paper = {
  paper: 'box-label',
  station: 'put-up',
  title: 'label',
  render: async ({ books }, id) => {
    const box = await books.get(boxes, id);
    if (!box) return undefined;
    const standard = await pieceStandardOf(books, box.pieceStandard);
    const plant = await plantOf(books);
    const svg = drawBoxLabel({
      plantTitle: plant?.title ?? '',
      timeZone: plant?.timeZone ?? 'UTC',
      standardTitle: standard?.title ?? box.pieceStandard,
      box,
      code: dataMatrixSvg(box.box),
    });
    return svgFile(`box-${id}.svg`, svg);
  },
};

export const putUpPapers = [tubeReceipt, boxLabel] as const;
