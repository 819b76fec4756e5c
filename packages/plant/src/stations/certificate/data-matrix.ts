import bwipjs from 'bwip-js/node';

/** What the Data Matrix of a certificate says: its number, a blank, and the hash of its entry. */
export function certificateCode(certificate: string, entryHash: string): string {
  return `${certificate} ${entryHash}`;
}

/** A Data Matrix as an SVG drawing: black squares of one unit, without a quiet zone. */
export function dataMatrixSvg(text: string): string {
  return bwipjs.toSVG({ bcid: 'datamatrix', text, scale: 1, padding: 0 });
}
