import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { valueBetween } from './bracket.ts';
import { limitsFromEstimate } from './detection-limit-core.ts';
import type { SpectrometricDifferenceInput } from './spectrometric-difference-schema.ts';

type Element = SpectrometricDifferenceInput['elements'][number];

/** Content of one element in the metal, in mg/kg. */
export interface ElementContent {
  readonly content: number;
  /** Without sample mass, volume and dilution, which all elements share. */
  readonly ownUncertainty: number;
  readonly decisionLimit: number;
  readonly detectionLimit: number;
  readonly driftPercent: number;
  readonly interference: number;
}

/** Signal, or its ratio to the internal standard where there is one. */
function ratioOf(
  reading: { readonly signal: number; readonly internalStandardSignal?: number | undefined },
  hasInternalStandard: boolean,
  field: string,
): number {
  const internal = reading.internalStandardSignal;
  requireDomain((internal !== undefined) === hasInternalStandard, {
    field: `${field}.internalStandardSignal`,
    value: internal ?? 'none',
    accepted: 'an internal standard in every reading of an element, or in none',
  });
  return internal === undefined ? reading.signal : reading.signal / internal;
}

function blankOf(signals: readonly number[]): { mean: number; deviation: number } {
  const mean = compensatedSum(signals) / signals.length;
  const squares = compensatedSum(signals.map((one) => (one - mean) ** 2));
  return { mean, deviation: Math.sqrt(squares / (signals.length - 1)) };
}

/** Content of one element: blank taken off, sensitivity between the check standards, dilution. */
export function elementContent(
  input: SpectrometricDifferenceInput,
  one: Element,
  index: number,
): ElementContent {
  const field = `elements.${index}`;
  const hasInternal = one.reading.internalStandardSignal !== undefined;
  const blank = blankOf(one.blankSignals);
  const sensitivities = one.checks.map((check, k) => {
    const ratio = ratioOf(check, hasInternal, `${field}.checks.${k}`);
    const value = (ratio - blank.mean) / check.contentMilligramsPerLitre;
    requireDomain(value > 0, {
      field: `${field}.checks.${k}.signal`,
      value: check.signal,
      accepted: `a check standard whose signal exceeds the mean blank ${blank.mean}`,
    });
    return { minutes: check.minutes, value };
  });
  const at = valueBetween(sensitivities, one.reading.minutes, `${field}.reading.minutes`);
  const net = ratioOf(one.reading, hasInternal, `${field}.reading`) - blank.mean;
  // mg/L times mL over g is mg/kg, since 1 mL in 1 L and 1 g in 1 kg are the same thousandth.
  const scale = (input.dilutionFactor * input.solutionMillilitres) / input.sampleMassGrams;
  const perSignal = scale / at.value;
  const { integrations } = one.reading;
  const atNothing =
    blank.deviation * perSignal * Math.sqrt(1 / integrations + 1 / one.blankSignals.length);
  const relative = one.relativeRepeatabilityPercent / 100;
  const content = net * perSignal;
  const checkScatter = relative * Math.hypot(1 - at.shareAfter, at.shareAfter);
  const own = Math.hypot(
    atNothing,
    (content * relative) / Math.sqrt(integrations),
    content * checkScatter,
    (content * one.standardRelativeUncertaintyPercent) / 100,
  );
  const alpha = input.falseAlarmProbability;
  const limits = limitsFromEstimate(atNothing, one.blankSignals.length - 1, alpha, alpha);
  const first = sensitivities[at.before]?.value ?? at.value;
  const second = sensitivities[at.after]?.value ?? at.value;
  return {
    content,
    ownUncertainty: own,
    decisionLimit: limits.decision,
    detectionLimit: limits.detection,
    driftPercent: 100 * (second / first - 1),
    interference:
      scale *
      compensatedSum(
        one.interferences.map(
          (other) => other.contentMilligramsPerLitre * other.apparentPerContent,
        ),
      ),
  };
}
