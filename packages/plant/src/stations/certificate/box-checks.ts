import type { CertificateContent, CertifiedBox, CertifiedPart } from './content.ts';
import { calculationCheck, type Equality, equalityCheck, sum } from './figure-agreement.ts';
import { weighingsCheck } from './reading-checks.ts';
import type { CertificateCheck } from './verify-certificate.ts';

/** What a box holds of one melt, against its tubes and its fine mass. */
function partEqualities(
  box: CertifiedBox,
  part: CertifiedPart,
  content: CertificateContent,
): readonly Equality[] {
  const { input, output } = part.fine.calculated;
  const tubes = box.tubes.filter((tube) => tube.melt === part.melt);
  const name = `box ${box.box} melt ${part.melt}`;
  const { finenessDeclaredPartsPerMillion } = content.pieceStandard;
  return [
    [`${name} pieces`, part.pieces, sum(tubes.map((tube) => tube.pieces))],
    [
      `${name} grossMicrograms`,
      part.grossMicrograms,
      sum(tubes.map((tube) => tube.grossMicrograms)),
    ],
    [`${name} grossMicrograms`, part.grossMicrograms, Number(input.grossMicrograms)],
    [`${name} fineMicrograms`, part.fineMicrograms, Number(output.fineMicrograms)],
    [`${name} fineness`, finenessDeclaredPartsPerMillion, input.finenessPartsPerMillion],
  ];
}

function boxEqualities(box: CertifiedBox, content: CertificateContent): readonly Equality[] {
  const { parts } = box;
  const name = `box ${box.box}`;
  return [
    ...parts.flatMap((part) => partEqualities(box, part, content)),
    [`${name} pieces`, box.pieces, sum(box.tubes.map((tube) => tube.pieces))],
    [`${name} pieces`, box.pieces, sum(parts.map((part) => part.pieces))],
    [
      `${name} grossMicrograms`,
      box.grossMicrograms,
      sum(parts.map((part) => part.grossMicrograms)),
    ],
    [`${name} fineMicrograms`, box.fineMicrograms, sum(parts.map((part) => part.fineMicrograms))],
  ];
}

function sumEqualities(content: CertificateContent): readonly Equality[] {
  const { totals, boxes, melts } = content;
  const tubes = boxes.flatMap((box) => box.tubes);
  const used = [...new Set(tubes.map((tube) => tube.melt))].sort();
  return [
    ...boxes.flatMap((box) => boxEqualities(box, content)),
    ['totals.boxes', totals.boxes, boxes.length],
    ['totals.tubes', totals.tubes, tubes.length],
    ['totals.pieces', totals.pieces, sum(boxes.map((box) => box.pieces))],
    [
      'totals.grossMicrograms',
      totals.grossMicrograms,
      sum(boxes.map((box) => box.grossMicrograms)),
    ],
    ['totals.fineMicrograms', totals.fineMicrograms, sum(boxes.map((box) => box.fineMicrograms))],
    ['melts', melts.map((melt) => melt.melt).sort(), used],
  ];
}

/** Checks every count and mass of a box. */
export function checkBox(box: CertifiedBox): readonly CertificateCheck[] {
  return [
    calculationCheck(`box ${box.box}: counts and fine mass`, [
      ...box.tubes.map((tube) => tube.count),
      ...box.parts.map((part) => part.fine),
    ]),
    weighingsCheck(box),
  ];
}

/** Checks that tubes add up to boxes and boxes to the certificate. */
export function checkSums(content: CertificateContent): CertificateCheck {
  return equalityCheck(
    'sums',
    sumEqualities(content),
    'Tubes add up to boxes and boxes to the totals, in pieces, gross and fine.',
  );
}
