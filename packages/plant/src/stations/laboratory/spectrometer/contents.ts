import { calculationById, type DetectionLimitOutput, runCalculation } from '@cupel/calculation';
import { calibrationsOf, greatestStandard } from './calibration.ts';
import { type KeptContent, keptContent } from './content-unit.ts';
import { driftsOf } from './drift.ts';
import { aboveStandards, driftFlags } from './finding-flags.ts';
import { type LimitPolicy, shareOfLimit } from './limit-policy.ts';
import type {
  Drift,
  Finding,
  ReadTable,
  ResultFileFigures,
  ResultMethod,
} from './result-bodies.ts';
import { signalFinding } from './signal-findings.ts';
import { evaluateSignals, type SignalsEvaluated } from './signals.ts';

/** A table with what it is evaluated by. */
export interface ResultsAsked {
  readonly table: ReadTable;
  readonly method: ResultMethod;
  readonly metal: string;
  readonly policy: LimitPolicy;
  /** Labels of the solutions of the melt, as the file has them. */
  readonly solutions: readonly string[];
  /** Labels of solutions of reference materials, as the file has them. */
  readonly references?: readonly string[];
}

/** An element that was not found and of which nobody knows how small a content would be found. */
interface LimitMissing {
  readonly solution: string;
  readonly element: string;
  readonly accepted: string;
}

/** An element whose signals give no content. */
interface SignalsUnread {
  readonly element: string;
  readonly accepted: string;
}

export type ResultsEvaluated =
  | { readonly figures: ResultFileFigures }
  | { readonly missing: readonly LimitMissing[] }
  | { readonly unread: readonly SignalsUnread[] };

const baseElements: Readonly<Record<string, string>> = { gold: 'Au', silver: 'Ag' };

/** What the calculation of the detection limit takes beside the blanks: common practice. */
const limitRule = { falseAlarmProbability: 0.05, missProbability: 0.05, quantificationFactor: 3 };

/** The readings of one element in one solution or in all rows of a role. */
function readingsOf(
  asked: ResultsAsked,
  at: number,
  of: { readonly role: 'sample' | 'blank' | 'limit'; readonly label?: string },
): readonly KeptContent[] {
  const unit = asked.table.elements[at]?.unit ?? 'mg/kg';
  return asked.table.rows.flatMap((row) => {
    if (row.role !== of.role || (of.label !== undefined && row.label !== of.label)) return [];
    const kept = keptContent(row.contents[at] ?? '', unit);
    return kept ? [kept] : [];
  });
}

const foundIn = (readings: readonly KeptContent[]): readonly number[] =>
  readings.flatMap(({ found }) => (found === null ? [] : [found]));

const limitsIn = (readings: readonly KeptContent[]): readonly number[] =>
  readings.flatMap(({ found, below }) => (found === null && below !== null ? [below] : []));

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** The limit that blanks of the file give; nothing from fewer than two or from equal ones. */
function limitOfBlanks(asked: ResultsAsked, at: number, replicates: number): number | undefined {
  const blankSignals = foundIn(readingsOf(asked, at, { role: 'blank' }));
  const result = runCalculation(calculationById('detection-limit'), {
    basis: { kind: 'blanks', blankSignals, sensitivity: 1 },
    sampleReadings: replicates,
    ...limitRule,
  });
  return result.outcome === 'computed'
    ? (result.output as unknown as DetectionLimitOutput).detectionLimit
    : undefined;
}

interface Limit {
  readonly value: number;
  readonly from: Finding['limitFrom'];
}

/** The detection limit of an element: as the file states it, as the method does, as its blanks give it. */
function limitOf(asked: ResultsAsked, at: number, own: readonly KeptContent[]): Limit {
  const rows = readingsOf(asked, at, { role: 'limit' });
  const stated = [...rows.map(({ found, below }) => found ?? below ?? 0), ...limitsIn(own)];
  if (stated.length > 0) return { value: Math.max(...stated), from: 'file' };
  const { element } = asked.table.elements[at] ?? { element: '' };
  const known = asked.method.limits.find((one) => one.element === element);
  if (known) return { value: known.detectionLimit, from: 'method' };
  const ofBlanks = limitOfBlanks(asked, at, own.length);
  return ofBlanks === undefined ? { value: 0, from: 'none' } : { value: ofBlanks, from: 'blanks' };
}

/**
 * Standard deviation of one reading, from the replicates of several solutions together: those of one
 * melt are alike, and two replicates alone know their spread badly. Nothing where none was read twice.
 */
function pooledDeviation(
  asked: ResultsAsked,
  at: number,
  solutions: readonly string[],
): number | undefined {
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const label of solutions) {
    const found = foundIn(readingsOf(asked, at, { role: 'sample', label }));
    if (found.length < 2) continue;
    const mean = meanOf(found);
    for (const value of found) squares += (value - mean) ** 2;
    degreesOfFreedom += found.length - 1;
  }
  return degreesOfFreedom === 0 ? undefined : Math.sqrt(squares / degreesOfFreedom);
}

/** What one element of one solution needs beside its own readings. */
interface ElementFacts {
  readonly at: number;
  readonly element: string;
  /** Of one reading in the solutions of the melt. */
  readonly deviation: number | undefined;
  readonly greatest: number | undefined;
  readonly drift: Drift | undefined;
}

function flagsOf(
  facts: ElementFacts,
  of: { readonly own: readonly KeptContent[]; readonly mean: number; readonly limit: Limit },
): string[] {
  const { own, mean, limit } = of;
  const flags: string[] = [];
  const isMixed =
    own.some(({ found }) => found === null) && own.some(({ found }) => found !== null);
  if (isMixed) flags.push('some replicates below the limit');
  if (facts.deviation === undefined) flags.push('read once: no spread');
  if (limit.from === 'none') flags.push('no detection limit known');
  if (facts.greatest !== undefined && mean > facts.greatest) flags.push(aboveStandards);
  return [...flags, ...driftFlags(facts.drift)];
}

type Unshared = Omit<Finding, 'sharePercent'>;

function findingOf(asked: ResultsAsked, solution: string, facts: ElementFacts): Unshared {
  const { at, element } = facts;
  const isOfMelt = asked.solutions.includes(solution);
  const deviation = isOfMelt ? facts.deviation : pooledDeviation(asked, at, [solution]);
  const own = readingsOf(asked, at, { role: 'sample', label: solution });
  const limit = limitOf(asked, at, own);
  const found = foundIn(own);
  // A replicate below its limit counts as the limit, which makes the fineness no greater than it is.
  const counted = own.map((one) => one.found ?? one.below ?? limit.value);
  const mean = meanOf(counted);
  const isFound = found.length > 0 && mean >= limit.value && mean > 0;
  const spread = (deviation ?? 0) / Math.sqrt(own.length);
  const calibration = (mean * asked.method.calibrationRelativeUncertaintyPercent) / 100;
  return {
    solution,
    element,
    replicates: own.length,
    meanMilligramsPerKilogram: found.length === 0 ? null : mean,
    contentMilligramsPerKilogram: isFound ? mean : null,
    standardUncertaintyMilligramsPerKilogram: isFound ? Math.hypot(spread, calibration) : 0,
    detectionLimitMilligramsPerKilogram: limit.value,
    limitFrom: limit.from,
    countedMilligramsPerKilogram: isFound ? mean : limit.value * shareOfLimit[asked.policy],
    flags: flagsOf({ ...facts, deviation }, { own, mean, limit }),
  };
}

function withShares(findings: readonly Unshared[]): readonly Finding[] {
  const sum = findings.reduce((total, one) => total + one.countedMilligramsPerKilogram, 0);
  return findings.map((one) => ({
    ...one,
    sharePercent: sum === 0 ? 0 : (100 * one.countedMilligramsPerKilogram) / sum,
  }));
}

/** Elements of a solution that were not found and have no limit that could be counted. */
function limitMissing(found: readonly Finding[]): readonly LimitMissing[] {
  return found
    .filter((one) => one.contentMilligramsPerKilogram === null && one.limitFrom === 'none')
    .map(({ solution, element }) => ({
      solution,
      element,
      accepted: `a detection limit of ${element}, in the file, in the method or from two blanks that differ`,
    }));
}

function doubtsOf(findings: readonly Finding[], drifts: readonly Drift[]): readonly string[] {
  const beyond = drifts.filter(({ isWithinLimit }) => isWithinLimit === false);
  const above = [
    ...new Set(
      findings.filter(({ flags }) => flags.includes(aboveStandards)).map(({ element }) => element),
    ),
  ];
  return [
    ...beyond.map(
      ({ element, greatestChangePercent }) =>
        `The drift standard moved by ${(greatestChangePercent ?? 0).toFixed(1).replace('-', '−')} % in ${element}.`,
    ),
    ...(above.length === 0
      ? []
      : [`Contents lie above the calibration standards: ${above.join(', ')}.`]),
  ];
}

type Computed = Exclude<SignalsEvaluated, SignalsUnread>;

/** What every element of a table says of a solution, those of contents and those of signals. */
function findingsOf(
  asked: ResultsAsked,
  of: { readonly facts: readonly ElementFacts[]; readonly signals: readonly Computed[] },
  solution: string,
): readonly Finding[] {
  const contents = of.facts
    .filter(({ at }) => readingsOf(asked, at, { role: 'sample', label: solution }).length > 0)
    .map((one) => findingOf(asked, solution, one));
  const fromSignals = of.signals.flatMap((one) => signalFinding(one, solution, asked) ?? []);
  return withShares([...contents, ...fromSignals]);
}

/**
 * Contents, uncertainties, limits and flags of every element in every solution of a table, with the
 * calibration and the drift that the file shows; or which detection limits are missing, or which
 * signals give no content.
 *
 * Where the file has contents the standard uncertainty joins the spread of the replicates, s/√n, and
 * the stated relative uncertainty of the calibration (JCGM 100:2008, 5.1.2); where it has signals it
 * is that of the calculation. A mean below its detection limit counts as not found. The metal itself
 * is no impurity and is left out.
 */
export function evaluateResults(asked: ResultsAsked): ResultsEvaluated {
  const { table, method, solutions, references = [] } = asked;
  const own = baseElements[asked.metal];
  const evaluated = evaluateSignals({ table, method, solutions, references }, own);
  const unread = evaluated.flatMap((one) => ('accepted' in one ? [one] : []));
  if (unread.length > 0) return { unread };
  const signals = evaluated.flatMap((one) => ('output' in one ? [one] : []));
  const ofContents = driftsOf(table, method).filter(({ element }) => element !== own);
  const drifts = [...ofContents, ...signals.flatMap(({ drift }) => drift ?? [])];
  const facts = table.elements.flatMap(({ element }, at): readonly ElementFacts[] => {
    if (element === own) return [];
    const drift = ofContents.find((one) => one.element === element);
    const greatest = greatestStandard(table, method, at);
    return [{ at, element, deviation: pooledDeviation(asked, at, solutions), greatest, drift }];
  });
  const findings = [...solutions, ...references].flatMap((solution) =>
    findingsOf(asked, { facts, signals }, solution),
  );
  const missing = limitMissing(findings);
  if (missing.length > 0) return { missing };
  const calibrations = calibrationsOf(table, method).filter(({ element }) => element !== own);
  return {
    figures: {
      findings: findings.map((one) => ({ ...one, flags: [...one.flags] })),
      drifts: drifts.map((one) => ({ ...one })),
      calibrations: [...calibrations, ...signals.map(({ shown }) => shown)],
      leftOut: table.elements.map(({ element }) => element).filter((element) => element === own),
      doubts: [...doubtsOf(findings, drifts)],
    },
  };
}

/** The labels of the samples of a table, in the order in which they were measured. */
export function sampleLabels(table: ReadTable): readonly string[] {
  const samples = table.rows.filter(({ role }) => role === 'sample');
  return [...new Set(samples.map(({ label }) => label))];
}
