import { probabilityText } from '../quantity/probability-text.ts';
import type { CountPosterior, CountProbability } from './count-posterior.ts';

/** Accepted probability of a wrong count when a container is proved or found different. */
export const proofRisk = 1e-3;
/** Standard uncertainties beyond which a net mass is warned of. */
export const warnFactor = 3;

export type CountVerdict = 'proved' | 'weigh-again' | 'differs' | 'cannot-prove';

/** What the verdict is made from. */
export interface CountFindings {
  readonly nominalPieces: number;
  readonly residualsGrams: readonly number[];
  readonly standardUncertaintyGrams: number;
  readonly misclassificationProbability: number;
  readonly largestProvablePieces: number;
  readonly posterior: CountPosterior;
}

/**
 * What to do with the container, in the order of the rules: a scale that cannot prove the count says so;
 * the nominal count proved at the last, good weighing; another count proved; two weighings off on
 * the same side; else weigh again.
 *
 * @param findings residuals oldest first, 1 or more; the rest as computed
 * @returns verdict and the next step in words
 * Source: common practice of the put-up line; thresholds 3 standard uncertainties and risk 1e-3
 * @example decideCount({ nominalPieces: 20, residualsGrams: [0.3], standardUncertaintyGrams: 0.5,
 *   misclassificationProbability: 1e-9, largestProvablePieces: 200, posterior: { posterior: [],
 *   weighedPosterior: [{ pieces: 20, probability: 0.9999 }], probabilityBadWeighing: 1e-4,
 *   badWeighingByReading: [1e-4] } }).verdict // 'proved'
 */
export function decideCount(findings: CountFindings): {
  readonly verdict: CountVerdict;
  readonly words: string;
} {
  const { nominalPieces, residualsGrams, standardUncertaintyGrams, posterior } = findings;
  if (findings.misclassificationProbability > proofRisk) {
    return {
      verdict: 'cannot-prove',
      words: `Scale and tare cannot prove ${nominalPieces} pieces: risk of a wrong count ${Number(findings.misclassificationProbability.toPrecision(2))}; up to ${findings.largestProvablePieces} pieces at a risk of ${proofRisk}. Count by hand or use a finer scale.`,
    };
  }
  const window = warnFactor * standardUncertaintyGrams;
  const last = residualsGrams[residualsGrams.length - 1] ?? 0;
  const proved = posterior.weighedPosterior.find((entry) => entry.probability >= 1 - proofRisk);
  if (proved?.pieces === nominalPieces && Math.abs(last) <= window) {
    return {
      verdict: 'proved',
      words: `${nominalPieces} pieces, probability ${probabilityText(proved.probability)}.`,
    };
  }
  if (proved && proved.pieces !== nominalPieces) {
    return {
      verdict: 'differs',
      words: `${proved.pieces} pieces, not ${nominalPieces}, probability ${probabilityText(proved.probability)}. Open and count with a witness.`,
    };
  }
  if (isOffTwice(residualsGrams, window)) {
    return {
      verdict: 'differs',
      words: `Two weighings are off by ${signed(last)} g, more than ${warnFactor} standard uncertainties. Open, count, and look for a foreign piece or a wrong tare.`,
    };
  }
  return { verdict: 'weigh-again', words: describeDoubt(findings, window, last) };
}

/** Whether the last two weighings both lie outside the window on the same side. */
function isOffTwice(residualsGrams: readonly number[], window: number): boolean {
  const lastTwo = residualsGrams.slice(-2);
  return (
    lastTwo.length === 2 &&
    (lastTwo.every((residual) => residual > window) ||
      lastTwo.every((residual) => residual < -window))
  );
}

function describeDoubt(findings: CountFindings, window: number, last: number): string {
  const { posterior, nominalPieces } = findings;
  const bad = posterior.probabilityBadWeighing;
  const best = mostProbable(posterior.weighedPosterior);
  const step = 'Set to zero, check the tare and weigh again before opening.';
  if (bad >= 0.5) {
    return `${signed(last)} g fits no count: bad weighing, probability ${probabilityText(bad)}. ${step}`;
  }
  if (best.pieces !== nominalPieces) {
    return `${signed(last)} g reads as ${best.pieces} pieces, probability ${probabilityText(best.probability)}; bad weighing ${probabilityText(bad)}. ${step}`;
  }
  return Math.abs(last) > window
    ? `${signed(last)} g is more than ${warnFactor} standard uncertainties from ${nominalPieces} pieces. ${step}`
    : `${nominalPieces} pieces only with probability ${probabilityText(best.probability)}. ${step}`;
}

function mostProbable(entries: readonly CountProbability[]): CountProbability {
  return entries.reduce((best, entry) => (entry.probability > best.probability ? entry : best));
}

function signed(grams: number): string {
  const text = Math.abs(grams).toPrecision(3);
  return `${grams < 0 ? '−' : '+'}${Number(text)}`;
}
