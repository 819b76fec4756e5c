import { checkBox, checkSums } from './box-checks.ts';
import type { CertificateContent } from './content.ts';
import { checkMelt } from './melt-checks.ts';
import type { CertificateCheck } from './verify-certificate.ts';

/** Checks every figure of a certificate against the readings it says it comes from. */
export function checkFigures(content: CertificateContent): readonly CertificateCheck[] {
  return [
    ...content.melts.flatMap((melt) => checkMelt(melt, content)),
    ...content.boxes.flatMap(checkBox),
    checkSums(content),
  ];
}
