import type { CertificateContent, CertifiedBox } from './content.ts';

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

/** What boxes add up to. */
export function totalsOf(boxes: readonly CertifiedBox[]): CertificateContent['totals'] {
  return {
    boxes: boxes.length,
    tubes: sum(boxes.map((box) => box.tubes.length)),
    pieces: sum(boxes.map((box) => box.pieces)),
    grossMicrograms: sum(boxes.map((box) => box.grossMicrograms)),
    fineMicrograms: sum(boxes.map((box) => box.fineMicrograms)),
  };
}
