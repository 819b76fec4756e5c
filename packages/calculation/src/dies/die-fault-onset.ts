import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { firstWhole } from '../quantity/halving.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import {
  type DieFaultOnsetInput,
  type DieFaultOnsetOutput,
  dieFaultOnsetInput,
  dieFaultOnsetOutput,
  type OnsetSummary,
} from './die-fault-onset-schema.ts';
import { figure } from './die-life.ts';
import { type OnsetLook, type OnsetPosterior, onsetPosterior } from './onset-posterior.ts';

export {
  type DieFaultOnsetInput,
  type DieFaultOnsetOutput,
  dieFaultOnsetInput,
  dieFaultOnsetOutput,
} from './die-fault-onset-schema.ts';

type Evidence = DieFaultOnsetInput['evidence'][number];

function lookOf(input: DieFaultOnsetInput, evidence: Evidence): OnsetLook {
  const [looks, badLooks] =
    evidence.kind === 'check'
      ? [evidence.sampleSizePieces, evidence.badPieces]
      : [evidence.readings, evidence.badReadings];
  return {
    strike: evidence.strike,
    looks,
    badLooks,
    missProbability: evidence.missProbability ?? input.missProbability,
    falseAlarmProbability: evidence.falseAlarmProbability ?? input.falseAlarmProbability ?? 0,
  };
}

function requireConsistent(input: DieFaultOnsetInput): void {
  const { firstStrike, lastStrike } = input;
  requireDomain(lastStrike >= firstStrike, {
    field: 'lastStrike',
    value: lastStrike,
    accepted: `a strike from ${firstStrike}, the first in question, on`,
  });
  for (const [index, evidence] of input.evidence.entries()) {
    requireDomain(evidence.strike >= firstStrike && evidence.strike <= lastStrike, {
      field: `evidence.${index}.strike`,
      value: evidence.strike,
      accepted: `a strike from ${firstStrike} to ${lastStrike}, those in question`,
    });
    const { looks, badLooks } = lookOf(input, evidence);
    requireDomain(badLooks <= looks, {
      field: `evidence.${index}.${evidence.kind === 'check' ? 'badPieces' : 'badReadings'}`,
      value: badLooks,
      accepted: `a whole number from 0 to ${looks}, the number looked at`,
    });
  }
}

/** Probabilities that differ by rounding alone count as equal. */
const rounding = 1e-12;

/** Greatest strike up to which the probability of an onset is at most the given one. */
function lastWithin(posterior: OnsetPosterior, first: number, last: number, most: number): number {
  return firstWhole((strike) => posterior.beganBy(strike) > most, first - 1, last + 1) - 1;
}

function summarise(posterior: OnsetPosterior, input: DieFaultOnsetInput): OnsetSummary {
  const { firstStrike: first, lastStrike: last } = input;
  const began = posterior.beganBy(last);
  const quantile = (share: number) =>
    began === 0
      ? null
      : Math.min(last, lastWithin(posterior, first, last, share * began * (1 - rounding)) + 1);
  const released = lastWithin(posterior, first, last, input.risk * (1 + rounding));
  return {
    faultProbability: began,
    lowerOnsetStrike: quantile(0.05),
    medianOnsetStrike: quantile(0.5),
    upperOnsetStrike: quantile(0.95),
    expectedFaultyPieces: posterior.faultyBy(last),
    holdFromStrike: released === last ? null : released + 1,
    heldPieces: last - released,
    releasedRisk: released < first ? 0 : posterior.beganBy(released),
    releasedFaultyPieces: released < first ? 0 : posterior.faultyBy(released),
  };
}

function summaryOf(
  input: DieFaultOnsetInput,
  evidence: readonly Evidence[],
): { readonly posterior: OnsetPosterior; readonly summary: OnsetSummary } {
  const posterior = onsetPosterior(
    evidence.map((one) => lookOf(input, one)),
    input.prior,
    input,
  );
  return { posterior, summary: summarise(posterior, input) };
}

/** The strikes between which a plain reading of the findings would put the onset. */
function plainBracket(input: DieFaultOnsetInput) {
  const looks = input.evidence.map((one) => lookOf(input, one));
  const bad = looks.filter((look) => look.badLooks > 0).map((look) => look.strike);
  const firstFinding = bad.length === 0 ? null : Math.min(...bad);
  const clean = looks
    .filter((look) => look.badLooks === 0 && look.strike < (firstFinding ?? Infinity))
    .map((look) => look.strike);
  return {
    lastCleanStrike: clean.length === 0 ? null : Math.max(...clean),
    firstFindingStrike: firstFinding,
    cleanStrikes: clean,
  };
}

function onsetWords(output: Omit<DieFaultOnsetOutput, 'words'>, input: DieFaultOnsetInput): string {
  const { all, checksOnly } = output;
  const began =
    all.medianOnsetStrike === null
      ? 'The fault cannot have begun in this run.'
      : `The fault began with probability ${probabilityText(all.faultProbability)}; if so, most likely between strikes ${all.lowerOnsetStrike} and ${all.upperOnsetStrike}, with even chances before or after ${all.medianOnsetStrike}.`;
  const hold =
    all.holdFromStrike === null
      ? `At a risk of ${figure(input.risk)} nothing needs to be held.`
      : `Hold the ${all.heldPieces} pieces from strike ${all.holdFromStrike} to ${input.lastStrike}: the probability that a faulty piece is among the others is at most ${figure(input.risk)}.`;
  const back =
    output.cleanChecksHeld === 0
      ? ''
      : ` The hold reaches behind ${output.cleanChecksHeld} look(s) that found nothing, because a look misses faults.`;
  const photographs =
    checksOnly === null
      ? ''
      : ` Without the photographs ${checksOnly.heldPieces} pieces would have to be held.`;
  return `${began} ${hold}${back}${photographs}`;
}

/**
 * Strike at which a fault of a die began, and the pieces to hold for a stated risk, from checks of
 * struck pieces that can miss the fault, and from photographs read again.
 *
 * Formula: exact posterior over the strikes (see `onsetPosterior`). Hold from the strike after the
 * greatest t with P(onset ≤ t) ≤ risk. Faulty pieces expected up to a strike: Σ P(onset ≤ t).
 *
 * @param input strikes in question, whole numbers up to 10 000 000; prior; miss probability of one look,
 *   at least 0 and below 1, false alarms likewise (0 when left out), both also for single items of
 *   evidence; 1 to 10 000 checks and photographs; risk from 0 to 0.5
 * @returns summary with all evidence and with the checks alone, the intervals between the looks with
 *   their probabilities, plain bracket; strikes whole, nothing else rounded but the words
 * @throws DomainError for strikes out of order, more findings than looks, or looks that no onset explains
 * Validity: once begun the fault shows on every piece. Looks are independent given the onset: two
 * readings of one picture by one person are hardly two, and a fault too faint to be seen is missed by
 * all; then state a higher miss probability. Exact but for rounding; two roads in laws/dies.
 * Source: Bayes' theorem; the hold rule is elementary probability; common practice
 * @example dieFaultOnset({ firstStrike: 1, lastStrike: 100, prior: { kind: 'uniform',
 *   faultProbability: 1 }, missProbability: 0, risk: 0, evidence: [{ kind: 'check', strike: 40,
 *   sampleSizePieces: 1, badPieces: 0 }] }).all.heldPieces // 60
 */
export function dieFaultOnset(input: DieFaultOnsetInput): DieFaultOnsetOutput {
  requireConsistent(input);
  const { posterior, summary } = summaryOf(input, input.evidence);
  const checks = input.evidence.filter((one) => one.kind === 'check');
  const isNarrowed = checks.length > 0 && checks.length < input.evidence.length;
  const { cleanStrikes, ...bracket } = plainBracket(input);
  const holdFrom = summary.holdFromStrike ?? Infinity;
  const output = {
    all: summary,
    checksOnly: isNarrowed ? summaryOf(input, checks).summary : null,
    intervals: posterior.intervals
      .filter((one) => one.toStrike >= one.fromStrike)
      .map((one) => ({ ...one })),
    ...bracket,
    cleanChecksHeld: cleanStrikes.filter((strike) => strike >= holdFrom).length,
  };
  return { ...output, words: onsetWords(output, input) };
}

const curvePoints = 120;

function drawDieFaultOnset(input: DieFaultOnsetInput, output: DieFaultOnsetOutput): Chart[] {
  const { posterior } = summaryOf(input, input.evidence);
  const { firstStrike: first, lastStrike: last } = input;
  const grid = Array.from({ length: curvePoints + 1 }, (_, index) =>
    Math.round(first - 1 + ((last - first + 1) * index) / curvePoints),
  );
  const x = [...new Set([...grid, ...input.evidence.map((one) => one.strike)])].sort(
    (one, other) => one - other,
  );
  const looks = input.evidence.map((one) => lookOf(input, one));
  const points = (label: string, wanted: (look: OnsetLook) => boolean, standsOut: boolean) => {
    const at = looks.filter(wanted).map((look) => look.strike);
    return {
      label,
      kind: 'points' as const,
      x: at,
      y: at.map((s) => posterior.beganBy(s)),
      standsOut,
    };
  };
  return [
    {
      kind: 'chart',
      title: 'Since when the die has the fault',
      xTitle: 'Strike',
      yTitle: 'Probability that it has begun',
      series: [
        { label: 'begun', kind: 'line', x, y: x.map((strike) => posterior.beganBy(strike)) },
        points('clean', (look) => look.badLooks === 0, false),
        points('fault seen', (look) => look.badLooks > 0, true),
      ],
      ...(output.all.holdFromStrike === null
        ? {}
        : { marks: [{ x: output.all.holdFromStrike, label: 'hold from here' }] }),
      levels: [{ y: input.risk, label: 'risk' }],
    },
  ];
}

export const dieFaultOnsetCalculation = defineCalculation<DieFaultOnsetInput, DieFaultOnsetOutput>({
  id: 'die-fault-onset',
  version: 1,
  topic: 'dies',
  title: 'Since when a die has a fault',
  purpose:
    'Says since which strike a die has had a fault that was found, although checks can miss it, and which pieces to hold at a stated risk; photographs that are read again narrow it.',
  source: "Bayes' theorem; common practice",
  input: dieFaultOnsetInput,
  output: dieFaultOnsetOutput,
  // Chosen figures: checks each 5000 strikes, the fault found at 40 000, two photographs read again.
  example: {
    firstStrike: 1,
    lastStrike: 42_000,
    prior: { kind: 'uniform', faultProbability: 1 },
    missProbability: 0.3,
    falseAlarmProbability: 0,
    evidence: [
      ...[5, 10, 15, 20, 25, 30, 35].map((thousand) => ({
        kind: 'check' as const,
        strike: 1000 * thousand,
        sampleSizePieces: 2,
        badPieces: 0,
      })),
      { kind: 'check', strike: 40_000, sampleSizePieces: 2, badPieces: 2 },
      { kind: 'photograph', strike: 30_000, readings: 2, badReadings: 0, missProbability: 0.05 },
      { kind: 'photograph', strike: 35_000, readings: 2, badReadings: 0, missProbability: 0.05 },
    ],
    risk: 0.01,
  },
  compute: dieFaultOnset,
  draw: drawDieFaultOnset,
});
