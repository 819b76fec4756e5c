import type { Json } from '../../ports/json.ts';
import type {
  CertificateContent,
  CertifiedBox,
  CertifiedMelt,
  CertifiedReading,
  CertifiedTube,
  MeasuredBlank,
  NamedCalculation,
} from './content.ts';
import { faultsCheck, figureValue, sameNumber, sum } from './figure-agreement.ts';
import type { CertificateCheck } from './verify-certificate.ts';

type CertifiedMass = CertifiedReading['reading'];

/** How many of the unit that ends a field's name one of the reading's unit is. */
const factors: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  kg: { Grams: 1e3, Milligrams: 1e6 },
  g: { Grams: 1, Milligrams: 1e3 },
  mg: { Grams: 1e-3, Milligrams: 1 },
  mm: { Millimetres: 1 },
  µm: { Millimetres: 1e-3 },
};

function microgramsOf(mass: CertifiedMass): number {
  return Math.round(Number(mass.text) * (factors[mass.unit]?.Milligrams ?? Number.NaN) * 1e3);
}

function readingFaults(
  reading: CertifiedReading,
  list: readonly NamedCalculation[],
): readonly string[] {
  const { text, unit } = reading.reading;
  return reading.feeds.flatMap((feed) => {
    const value = figureValue(feed, list);
    const ending = /(Grams|Milligrams|Millimetres)$/.exec(feed.field.split('.').at(-1) ?? '')?.[1];
    const factor = ending ? (factors[unit]?.[ending] ?? Number.NaN) : 1;
    const expected = Number(text) * factor;
    if (typeof value === 'number' && sameNumber(value, expected)) return [];
    return [
      `${reading.label}, ${reading.quantity}, was read as ${text} ${unit}, but ${feed.calculation} was given ${String(value)} as ${feed.field}`,
    ];
  });
}

/** What is wrong with one weighing of a tube; nothing when its masses follow from its readings. */
function weighingFault(
  weighing: CertifiedTube['weighings'][number],
  counted: Json | undefined,
): string | undefined {
  const { gross, tare, tareMicrograms, netMicrograms } = weighing;
  const net = microgramsOf(gross) - tareMicrograms;
  if (tare !== null && microgramsOf(tare) !== tareMicrograms) {
    return `the tare was read as ${tare.text} ${tare.unit}, and is stated as ${tareMicrograms / 1e6} g`;
  }
  if (net === netMicrograms && sameNumber(Number(counted), net / 1e6)) return undefined;
  return `${gross.text} ${gross.unit} less ${tareMicrograms / 1e6} g is ${net / 1e6} g; the certificate says ${netMicrograms / 1e6} g, the count was given ${String(counted)} g`;
}

/** What is wrong with the weighings of a tube beside the count that was made of them. */
function weighingFaults(tube: CertifiedTube): readonly string[] {
  const { input } = tube.count.calculated;
  const given = Array.isArray(input.netReadingsGrams) ? input.netReadingsGrams : [];
  const name = `tube ${tube.tube}`;
  const last = tube.weighings.at(-1)?.netMicrograms ?? 0;
  const each = tube.weighings.flatMap((weighing, index) => {
    // Earlier weighings may stand in the count alone: the newest ones are held against its tail.
    const fault = weighingFault(weighing, given[given.length - tube.weighings.length + index]);
    return fault ? [`${name}, weighing ${index + 1}: ${fault}`] : [];
  });
  const whole = [
    last !== tube.grossMicrograms
      ? `${name}: its last weighing is ${last / 1e6} g, its mass ${tube.grossMicrograms / 1e6} g`
      : undefined,
    input.nominalPieces !== tube.pieces
      ? `${name}: ${tube.pieces} pieces, but ${String(input.nominalPieces)} were proved`
      : undefined,
  ];
  return [...each, ...whole.filter((fault) => fault !== undefined)];
}

/** What is wrong with the weighing of the closed box. */
function boxFaults(box: CertifiedBox): readonly string[] {
  const tubes = box.tubes.map((tube) => tube.weighings.at(-1)?.gross);
  const tubesGross = sum(tubes.map((gross) => (gross ? microgramsOf(gross) : Number.NaN)));
  const rest = microgramsOf(box.boxGross) - box.boxTareMicrograms - tubesGross;
  const name = `box ${box.box}`;
  const tare = box.boxTare;
  return [
    rest !== box.boxLessTubesMicrograms
      ? `${name}: ${box.boxGross.text} ${box.boxGross.unit} less tare and tubes is ${rest / 1e6} g, the certificate says ${box.boxLessTubesMicrograms / 1e6} g`
      : undefined,
    tare !== null && microgramsOf(tare) !== box.boxTareMicrograms
      ? `${name}: the tare was read as ${tare.text} ${tare.unit}, and is stated as ${box.boxTareMicrograms / 1e6} g`
      : undefined,
  ].filter((fault) => fault !== undefined);
}

/** Whether a blank is within the limits of the piece standard, by its readings. */
function conforms(blank: MeasuredBlank, limits: CertificateContent['pieceStandard']): boolean {
  const mass = microgramsOf(blank.mass) / 1e3;
  const [diameter, thickness] = [blank.diameter, blank.thickness].map(
    ({ text, unit }) => Number(text) * (factors[unit]?.Millimetres ?? Number.NaN),
  ) as [number, number];
  return (
    mass >= limits.massLeastMilligrams &&
    mass <= limits.massGreatestMilligrams &&
    diameter >= limits.diameterLeastMillimetres &&
    diameter <= limits.diameterGreatestMillimetres &&
    thickness >= limits.thicknessLeastMillimetres &&
    thickness <= limits.thicknessGreatestMillimetres
  );
}

/** Whether the measured blanks were judged by the limits, and counted right. */
export function physicalCheck(melt: CertifiedMelt, content: CertificateContent): CertificateCheck {
  const { blanks, blanksForPhysical, blanksNonconforming } = melt.physical;
  const judged = blanks.filter((blank) => blank.forPhysical);
  const misjudged = blanks
    .filter((blank) => conforms(blank, content.pieceStandard) !== blank.conforms)
    .map(
      ({ blank, mass, diameter, thickness }) =>
        `blank ${blank} of ${mass.text} ${mass.unit}, ${diameter.text} ${diameter.unit}, ${thickness.text} ${thickness.unit} is judged wrong`,
    );
  const nonconforming = judged.filter((blank) => !blank.conforms).length;
  const counts = [
    judged.length === blanksForPhysical
      ? undefined
      : `${judged.length} blanks were measured for the lot, the certificate says ${blanksForPhysical}`,
    nonconforming === blanksNonconforming
      ? undefined
      : `${nonconforming} blanks are outside the limits, the certificate says ${blanksNonconforming}`,
  ].filter((fault) => fault !== undefined);
  return faultsCheck(
    `melt ${melt.melt}: physical checks`,
    [...misjudged, ...counts],
    `${blanks.length} blanks judged once more by mass, diameter and thickness with the same result.`,
  );
}

/** Whether the raw readings of a melt stand in its calculations. */
export function meltReadingsCheck(melt: CertifiedMelt): CertificateCheck {
  const fed = melt.readings.filter(({ feeds }) => feeds.length > 0).length;
  return faultsCheck(
    `melt ${melt.melt}: readings`,
    melt.readings.flatMap((one) => readingFaults(one, melt.calculations)),
    `${fed} raw readings stand in the calculations as they were read.`,
  );
}

/** Whether the raw weighings of a box stand in its counts and masses. */
export function weighingsCheck(box: CertifiedBox): CertificateCheck {
  return faultsCheck(
    `box ${box.box}: weighings`,
    [...box.tubes.flatMap(weighingFaults), ...boxFaults(box)],
    `The weighings of ${box.tubes.length} tubes stand in the counts as they were read, and the box was weighed against them.`,
  );
}
