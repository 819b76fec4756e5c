import type { Json } from '../../ports/json.ts';
import type {
  CalculationFigure,
  CertificateContent,
  CertifiedBox,
  CertifiedMelt,
  CertifiedPart,
  CertifiedReading,
  CertifiedTube,
  NamedCalculation,
} from './content.ts';
import { differenceWords, firstDifference } from './first-difference.ts';
import { recompute } from './recompute.ts';
import type { CertificateCheck } from './verify-certificate.ts';

/**
 * Figures recomputed elsewhere count as the same when they agree to 12 significant digits: the
 * last bits of exponential and error functions may differ from one engine to another.
 */
const relativeAgreement = 1e-12;

const sameNumber = (left: number, right: number): boolean =>
  left === right ||
  Math.abs(left - right) <= relativeAgreement * Math.max(Math.abs(left), Math.abs(right));

/** What is wrong with a calculation of the certificate; nothing when it gives the same once more. */
function recomputationFault(named: NamedCalculation): string | undefined {
  const { calculation, version, input, output } = named.calculated;
  const again = recompute(calculation, input);
  if ('problem' in again) return again.problem;
  if (again.version !== version) {
    return `it was computed by version ${version}; this program computes version ${again.version}`;
  }
  const difference = firstDifference(output as Json, again.output, { sameNumber, field: 'output' });
  if (!difference) return undefined;
  return differenceWords(difference, { left: 'the certificate', right: 'the recomputation' });
}

function calculationCheck(check: string, list: readonly NamedCalculation[]): CertificateCheck {
  const faults = list.flatMap((named) => {
    const fault = recomputationFault(named);
    return fault ? [`${named.name} (entry ${named.entry}): ${fault}`] : [];
  });
  if (faults.length > 0) return { check, holds: false, words: `${faults.join('; ')}.` };
  const names = [...new Set(list.map((named) => named.calculated.calculation))].join(', ');
  const words = `${list.length} ${list.length === 1 ? 'calculation' : 'calculations'} recomputed with the same result: ${names}.`;
  return { check, holds: true, words };
}

/** The value that a figure points to, in the input or the output of a calculation. */
function valueOf(figure: CalculationFigure, list: readonly NamedCalculation[]): Json | undefined {
  const named = list.find((one) => one.name === figure.calculation);
  return figure.field
    .split('.')
    .reduce<Json | undefined>(
      (value, key) =>
        typeof value === 'object' && value !== null
          ? (value as { readonly [field: string]: Json })[key]
          : undefined,
      named?.calculated as Json | undefined,
    );
}

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

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
  return Math.round(Number(mass.text) * (factors[mass.unit]?.['Milligrams'] ?? Number.NaN) * 1e3);
}

function readingFaults(
  reading: CertifiedReading,
  list: readonly NamedCalculation[],
): readonly string[] {
  const { text, unit } = reading.reading;
  return reading.feeds.flatMap((feed) => {
    const value = valueOf(feed, list);
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
  const given = Array.isArray(input['netReadingsGrams']) ? input['netReadingsGrams'] : [];
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
    input['nominalPieces'] !== tube.pieces
      ? `${name}: ${tube.pieces} pieces, but ${String(input['nominalPieces'])} were proved`
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

function faultsCheck(check: string, faults: readonly string[], good: string): CertificateCheck {
  if (faults.length > 0) return { check, holds: false, words: `${faults.join('; ')}.` };
  return { check, holds: true, words: good };
}

function meltReadingsCheck(melt: CertifiedMelt): CertificateCheck {
  const fed = melt.readings.filter(({ feeds }) => feeds.length > 0).length;
  return faultsCheck(
    `melt ${melt.melt}: readings`,
    melt.readings.flatMap((one) => readingFaults(one, melt.calculations)),
    `${fed} raw readings stand in the calculations as they were read.`,
  );
}

function weighingsCheck(box: CertifiedBox): CertificateCheck {
  return faultsCheck(
    `box ${box.box}: weighings`,
    [...box.tubes.flatMap(weighingFaults), ...boxFaults(box)],
    `The weighings of ${box.tubes.length} tubes stand in the counts as they were read, and the box was weighed against them.`,
  );
}

/** Figures that one calculation takes from another, and determinations from their runs. */
function linkEqualities(melt: CertifiedMelt): readonly Equality[] {
  const value = (figure: CalculationFigure) => valueOf(figure, melt.calculations);
  const links = melt.links.map(
    ({ from, to }): Equality => [`${to.calculation} ${to.field}`, value(to), value(from)],
  );
  const determinations = melt.determinations.map(
    (one): Equality => [`determination ${one.label}`, one.finenessPerMille, value(one.from)],
  );
  return [...links, ...determinations];
}

/** Pairs of figures that must be equal, each with what they are. */
type Equality = readonly [what: string, stated: Json | undefined, found: Json | undefined];

function equalityCheck(check: string, equalities: readonly Equality[], good: string): CertificateCheck {
  const faults = equalities.flatMap(([field, stated, found]) => {
    const difference = firstDifference(stated, found, { sameNumber, field });
    const names = { left: 'the certificate', right: 'what it comes from' };
    return difference ? [differenceWords(difference, names)] : [];
  });
  return faultsCheck(check, faults, good);
}

function resultEqualities(melt: CertifiedMelt, content: CertificateContent): readonly Equality[] {
  const { result, decision, calculations } = melt;
  const verdict = (field: string) =>
    valueOf({ calculation: decision.calculation, field }, calculations);
  return [
    ['finenessPerMille', result.finenessPerMille, valueOf(result.finenessFrom, calculations)],
    [
      'standardUncertaintyPerMille',
      result.standardUncertaintyPerMille,
      valueOf(result.standardUncertaintyFrom, calculations),
    ],
    ['finenessPerMille judged', result.finenessPerMille, verdict('input.finenessPerMille')],
    [
      'standardUncertaintyPerMille judged',
      result.standardUncertaintyPerMille,
      verdict('input.standardUncertaintyPerMille'),
    ],
    ['limitPerMille', decision.limitPerMille, verdict('input.limitPerMille')],
    ['limitPerMille of the piece standard', decision.limitPerMille, content.pieceStandard.finenessLimitPerMille],
    ['guardBandPerMille', decision.guardBandPerMille, verdict('output.guardBandPerMille')],
    ['guardFactor', decision.guardFactor, verdict('input.guardFactor')],
    ['verdict', decision.verdict, verdict('output.verdict')],
    [
      'conformanceProbability',
      decision.conformanceProbability,
      verdict('output.conformanceProbability'),
    ],
    ['consumerRisk', decision.consumerRisk, verdict('output.consumerRisk')],
    [
      'acceptanceLimitPerMille',
      decision.acceptanceLimitPerMille,
      verdict('output.acceptanceLimitPerMille'),
    ],
    [
      'rejectionLimitPerMille',
      decision.rejectionLimitPerMille,
      verdict('output.rejectionLimitPerMille'),
    ],
    ['verdict of a melt that was released', decision.verdict, 'passes'],
  ];
}

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
    [`${name} grossMicrograms`, part.grossMicrograms, sum(tubes.map((tube) => tube.grossMicrograms))],
    [`${name} grossMicrograms`, part.grossMicrograms, Number(input['grossMicrograms'])],
    [`${name} fineMicrograms`, part.fineMicrograms, Number(output['fineMicrograms'])],
    [`${name} fineness`, finenessDeclaredPartsPerMillion, input['finenessPartsPerMillion']],
  ];
}

function boxEqualities(box: CertifiedBox, content: CertificateContent): readonly Equality[] {
  const { parts } = box;
  const name = `box ${box.box}`;
  return [
    ...parts.flatMap((part) => partEqualities(box, part, content)),
    [`${name} pieces`, box.pieces, sum(box.tubes.map((tube) => tube.pieces))],
    [`${name} pieces`, box.pieces, sum(parts.map((part) => part.pieces))],
    [`${name} grossMicrograms`, box.grossMicrograms, sum(parts.map((part) => part.grossMicrograms))],
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
    ['totals.grossMicrograms', totals.grossMicrograms, sum(boxes.map((box) => box.grossMicrograms))],
    ['totals.fineMicrograms', totals.fineMicrograms, sum(boxes.map((box) => box.fineMicrograms))],
    ['melts', melts.map((melt) => melt.melt).sort(), used],
  ];
}

/** Checks every figure of a certificate against the readings it says it comes from. */
export function checkFigures(content: CertificateContent): readonly CertificateCheck[] {
  const { boxes, melts } = content;
  return [
    ...melts.flatMap((melt) => [
      calculationCheck(`melt ${melt.melt}: calculations`, [
        ...melt.sampling.calculations,
        ...melt.calculations,
      ]),
      meltReadingsCheck(melt),
      equalityCheck(
        `melt ${melt.melt}: links`,
        linkEqualities(melt),
        'Each calculation takes from the one before it what that one gave.',
      ),
      equalityCheck(
        `melt ${melt.melt}: result`,
        resultEqualities(melt, content),
        `${melt.result.finenessPerMille} ‰ and the verdict “${melt.decision.verdict}” are what the calculations give.`,
      ),
    ]),
    ...boxes.map((box) =>
      calculationCheck(`box ${box.box}: counts and fine mass`, [
        ...box.tubes.map((tube) => tube.count),
        ...box.parts.map((part) => part.fine),
      ]),
    ),
    ...boxes.map((box) => weighingsCheck(box)),
    equalityCheck(
      'sums',
      sumEqualities(content),
      'Tubes add up to boxes and boxes to the totals, in pieces, gross and fine.',
    ),
  ];
}
