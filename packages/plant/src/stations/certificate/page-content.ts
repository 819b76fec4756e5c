import type { CertificateContent, CertifiedBox, CertifiedMelt } from './content.ts';
import { commonRange, limitRuleLayout } from './limit-rule-layout.ts';
import {
  decimalsOfUncertainty,
  printedDay,
  printedFixed,
  printedGrams,
  printedInstant,
  printedProbability,
  printedWhole,
} from './printed-figures.ts';

/** Coverage factor of the expanded uncertainties that are printed. */
const coverageFactor = 2;

/** 31.1034768 g exactly. */
const microgramsPerTroyOunce = 31_103_476.8;

const ruleOf = (melt: CertifiedMelt) => ({
  value: melt.result.finenessPerMille,
  expandedUncertainty: coverageFactor * melt.result.standardUncertaintyPerMille,
  limit: melt.decision.limitPerMille,
  guardBand: melt.decision.guardBandPerMille,
});

const counted = (count: number, one: string, several: string): string =>
  `${printedWhole(count)} ${count === 1 ? one : several}`;

/** How many decimals of a gram the balances of the tubes showed. */
function gramDecimals(content: CertificateContent): number {
  const shifts: Readonly<Record<string, number>> = { kg: -3, g: 0, mg: 3 };
  const decimals = content.boxes.flatMap((box) =>
    box.tubes.flatMap((tube) =>
      tube.weighings.map(
        ({ gross }) => (gross.text.split('.')[1] ?? '').length + (shifts[gross.unit] ?? 0),
      ),
    ),
  );
  return Math.min(4, Math.max(0, ...decimals));
}

const verdictWords = { passes: 'Passes', undecided: 'Undecided', fails: 'Fails' } as const;

function printedPeriod(period: { began: string; ended: string }, timeZone: string): string {
  const days = [period.began, period.ended].map((instant) => printedDay(instant, timeZone));
  return days[0] === days[1] ? `${days[0]}` : `${days[0]} to ${days[1]}`;
}

function meltPage(melt: CertifiedMelt, content: CertificateContent) {
  const { timeZone } = content.plant;
  const rule = ruleOf(melt);
  const decimals = decimalsOfUncertainty(rule.expandedUncertainty);
  const range = commonRange(content.melts.map(ruleOf));
  const pieces = content.boxes
    .flatMap((box) => box.parts)
    .filter((part) => part.melt === melt.melt)
    .reduce((total, part) => total + part.pieces, 0);
  return {
    melt: melt.melt,
    pieces: printedWhole(pieces),
    fineness: printedFixed(rule.value, decimals),
    uncertainty: printedFixed(rule.expandedUncertainty, decimals),
    limit: printedFixed(rule.limit, Math.min(decimals, 3)),
    verdict: verdictWords[melt.decision.verdict],
    conformance: printedProbability(melt.decision.conformanceProbability),
    risk: printedProbability(melt.decision.consumerRisk),
    rule: limitRuleLayout({ ...rule, range }),
    short: `Consignment ${melt.consignment}, ${printedWhole(melt.sampling.samplePieces)} of ${printedWhole(melt.pieces)} blanks sampled. ${melt.method.description}. Ruling: ${melt.ruling.ruling}.`,
    story: [
      `Consignment ${melt.consignment} of ${melt.supplier}, received ${printedDay(melt.received, timeZone)}, ${printedWhole(melt.pieces)} blanks.`,
      `Sample: ${melt.sampling.words}; drawn ${printedDay(melt.sampling.drawn.instant, timeZone)} from ${counted(melt.sampling.drawnFrom.length, 'drum', 'drums')}, seed from entry ${printedWhole(melt.sampling.seedEntry)}.`,
      ...furtherWords(melt, timeZone),
      decisionWords(melt),
      ...impurityStory(melt, content),
      `${melt.method.description}, ${printedPeriod(melt.method, timeZone)}; signed by ${melt.signed.by.name}, checked by ${melt.checked.by.name}.`,
      physicalWords(melt),
      `Ruling: ${melt.ruling.ruling}, ${melt.ruling.act.by.name}, entry ${printedWhole(melt.ruling.act.entry)}.${melt.ruling.ruling === 'concession' ? ` Concession: ${melt.ruling.reason}` : ''}`,
    ],
    rows: readingRows(melt, decimals),
  };
}

/** Further blanks that were drawn for the melt, round by round. */
function furtherWords({ sampling }: CertifiedMelt, timeZone: string): readonly string[] {
  return (sampling.further ?? []).map(
    ({ round, blanks, asked, drawn, drawnFrom }) =>
      `Further blanks, round ${printedWhole(round)}: ${blanks.join(', ')} for assay, drawn ${printedDay(drawn.instant, timeZone)} from ${counted(drawnFrom.length, 'drum', 'drums')}, seed from entry ${printedWhole(asked.entry)}.`,
  );
}

/** By what the melt passes, with the figures that make its guard band. */
function decisionWords({ decision }: CertifiedMelt): string {
  const { guardFactor, requiredConformanceProbability: required, degreesOfFreedom } = decision;
  const limit = `acceptance limit ${printedFixed(decision.acceptanceLimitPerMille, 3)} ‰`;
  const band = `guard band ${printedFixed(guardFactor, 2)} standard uncertainties`;
  if (required === undefined) return `Decision: ${band}, ${limit}.`;
  const freedom =
    degreesOfFreedom === null || degreesOfFreedom === undefined
      ? 'infinite degrees of freedom'
      : `${printedFixed(degreesOfFreedom, 1)} degrees of freedom`;
  return `Decision: required probability of conformity ${printedProbability(required)}, found ${printedProbability(decision.conformanceProbability)}; ${freedom}, ${band}, ${limit}.`;
}

/** The impurities of the melt beside the limits of their table. */
function impurityStory(melt: CertifiedMelt, content: CertificateContent): readonly string[] {
  const table = content.pieceStandard.impurityTable;
  if (!table || !melt.impurities) return [];
  const limits = table.limits.map(
    ({ element, limitMilligramsPerKilogram: limit }) => `${element} ${limit}`,
  );
  return [
    `Impurities: ${melt.impurities.state} the table, edition ${table.edition}: at most ${limits.join(', ')} mg/kg.`,
  ];
}

function physicalWords({ physical }: CertifiedMelt): string {
  const { blanksForPhysical, blanksNonconforming, acceptanceNumber, state } = physical;
  return `Mass, diameter and thickness: ${printedWhole(blanksNonconforming)} of ${printedWhole(blanksForPhysical)} blanks outside the limits, where up to ${printedWhole(acceptanceNumber)} may be: ${state}.`;
}

/** Impurities that a determination by difference was computed from. */
function impurityWords(melt: CertifiedMelt, calculation: string): string {
  const input = melt.calculations.find((one) => one.name === calculation)?.calculated.input;
  const impurities = input?.impurities;
  if (!Array.isArray(impurities)) return '';
  const words = impurities.map((one) => {
    const {
      element,
      contentMilligramsPerKilogram: content,
      detectionLimitMilligramsPerKilogram: limit,
    } = one as Record<string, unknown>;
    return content == null ? `${element} < ${limit}` : `${element} ${content}`;
  });
  return `${words.join(', ')} mg/kg`;
}

/** Raw readings as rows: what was weighed, as the balance sent it, and the fineness it gave. */
function readingRows(melt: CertifiedMelt, decimals: number) {
  const labels = new Set([
    ...melt.readings.map((reading) => reading.label),
    ...melt.determinations.map((one) => one.label),
  ]);
  return [...labels].map((label) => {
    const found = melt.determinations.find((one) => one.label === label);
    return {
      label,
      figures:
        melt.readings
          .filter((reading) => reading.label === label)
          .map(({ quantity, reading }) => readingWords(quantity, reading))
          .join(' · ') || (found ? impurityWords(melt, found.from.calculation) : ''),
      blank: found?.blank ?? '',
      fineness: found ? printedFixed(found.finenessPerMille, decimals) : '',
      state: found === undefined || found.state === 'valid' ? '' : found.state,
    };
  });
}

function readingWords(quantity: string, reading: CertifiedMelt['readings'][number]['reading']) {
  const unit = reading.unit === 'mg' ? '' : ` ${reading.unit}`;
  return `${quantity} ${reading.text}${unit}${reading.typed ? ' (typed)' : ''}`;
}

function boxPage(box: CertifiedBox, decimals: number) {
  return {
    box: box.box,
    seal: box.seal,
    tubes: printedWhole(box.tubes.length),
    pieces: printedWhole(box.pieces),
    gross: printedGrams(box.grossMicrograms, decimals),
    fine: printedGrams(box.fineMicrograms, 3),
    melts: box.parts.map((part) => `${part.melt}: ${printedWhole(part.pieces)}`),
  };
}

/** An instant in the parts that the typesetter takes, in UTC. */
function dateOf(instant: string) {
  const date = new Date(instant);
  return {
    year: date.getUTCFullYear(),
    month: date.getUTCMonth() + 1,
    day: date.getUTCDate(),
    hour: date.getUTCHours(),
    minute: date.getUTCMinutes(),
    second: date.getUTCSeconds(),
  };
}

/** What the signed record says of the certificate, for its foot. */
export interface RecordReference {
  readonly entry: number;
  readonly entryHash: string;
  readonly publicKey: string;
}

/** Everything that the printed certificate shows, as text; the template only sets it. */
export function certificatePage(content: CertificateContent, record: RecordReference) {
  const { totals, pieceStandard, plant } = content;
  const decimals = gramDecimals(content);
  const fineOunces = totals.fineMicrograms / microgramsPerTroyOunce;
  return {
    title: content.title,
    certificate: content.certificate,
    replaces: content.replaces,
    plant: plant.title,
    issued: printedInstant(content.issued, plant.timeZone),
    date: dateOf(content.issued),
    timeZone: plant.timeZone,
    issuer: content.issuer.name,
    metal: pieceStandard.metal,
    piece: pieceStandard.title,
    pieceStandard: pieceStandard.pieceStandard,
    declaredFineness: printedFixed(pieceStandard.finenessDeclaredPartsPerMillion / 1000, 1),
    leastFineness: printedFixed(pieceStandard.finenessLimitPerMille, 1),
    leastMass: printedFixed(pieceStandard.massLeastMilligrams / 1000, 3),
    pieces: printedWhole(totals.pieces),
    tubes: printedWhole(totals.tubes),
    extent: `${counted(totals.boxes, 'sealed box', 'sealed boxes')}, ${counted(totals.tubes, 'tube', 'tubes')}`,
    gross: printedGrams(totals.grossMicrograms, decimals),
    fine: printedGrams(totals.fineMicrograms, 3),
    fineOunces: printedFixed(fineOunces, 3),
    boxes: content.boxes.map((box) => boxPage(box, decimals)),
    melts: content.melts.map((melt) => meltPage(melt, content)),
    statements: content.statements,
    record: {
      entry: printedWhole(record.entry),
      entryHash: record.entryHash,
      publicKey: record.publicKey,
    },
  };
}

export type CertificatePage = ReturnType<typeof certificatePage>;
