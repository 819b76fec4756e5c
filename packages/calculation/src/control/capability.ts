import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { normalDensity } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import type { CapabilityIndex } from './capability-indices.ts';
import { normalCapability } from './capability-normal.ts';
import { percentileCapability } from './capability-percentile.ts';
import {
  type CapabilityInput,
  type CapabilityOutput,
  capabilityInput,
  capabilityOutput,
} from './capability-schema.ts';

export {
  type CapabilityInput,
  type CapabilityOutput,
  capabilityInput,
  capabilityOutput,
} from './capability-schema.ts';

/** Below this number the interval matters more than the value. */
const fewReadings = 50;

function describeIndex(name: string, one: CapabilityIndex, confidence: number): string {
  const range =
    one.lowerBound === null || one.upperBound === null
      ? ''
      : ` (${one.lowerBound.toFixed(2)} to ${one.upperBound.toFixed(2)} at ${100 * confidence} %)`;
  return `${name} ${one.value.toFixed(2)}${range}`;
}

function describe(input: CapabilityInput, output: Omit<CapabilityOutput, 'words'>): string {
  const { within, overall, countPieces: count } = output;
  const { confidence } = input;
  const indices = [
    within && describeIndex('Cpk', within.actual, confidence),
    describeIndex('Ppk', overall.actual, confidence),
    output.aboutTarget && describeIndex('Cpm', output.aboutTarget, confidence),
  ].filter((text) => text !== null);
  const sentences = [`${indices.join(', ')}.`];
  const expected = overall.expectedOutsidePartsPerMillion;
  if (expected !== null) {
    sentences.push(
      `About ${Number(expected.toPrecision(2))} pieces in a million are expected outside the limits.`,
    );
  }
  if (output.observedOutsidePieces) {
    sentences.push(`${output.observedOutsidePieces} of the readings are outside.`);
  }
  if (count !== null && count < fewReadings) {
    sentences.push(`${count} readings are few: look at the interval, not at the value.`);
  }
  if (output.normality) {
    sentences.push(
      `Nothing speaks against a normal distribution (probability ${probabilityText(output.normality.probability)}).`,
    );
  } else if (input.method === 'normal') {
    sentences.push('Whether the readings are normal could not be tested from a summary.');
  }
  return sentences.join(' ');
}

/**
 * Capability of a process: how its spread and place fit between the limits, with the interval that
 * the number of readings leaves open.
 *
 * Formula: Cp = (U − L)/(6s), Cpk = min(U − m, m − L)/(3s) with s within subgroups (pooled) or from
 * moving ranges; Pp and Ppk the same with s of all readings; Cpm see `targetIndex`. Intervals of Cp and
 * Pp by χ², of Cpk and Ppk after Bissell. By percentiles the 0.135 % and 99.865 % points stand in place
 * of m ∓ 3s and the median in place of m. Normal theory is refused when the Anderson–Darling test gives a
 * probability below 0.01.
 *
 * @param input subgroups, single readings in the order of time, a summary, or percentiles; method;
 *   at least one limit; target for Cpm with both limits; confidence 0.5 to 0.999
 * @returns indices with intervals, expected and observed pieces outside; null where a figure does not
 *   exist; nothing rounded but words
 * @throws DomainError for no limit, limits in the wrong order, readings that cannot be normal, fewer
 *   than 8 readings (740 for percentiles), no spread, a median not between the outer points, or a
 *   method that does not fit the data
 * Validity: a stable process, so a control chart comes first; measurement spread is contained. χ² is
 * exact within subgroups and over all; for moving ranges its degrees of freedom match the variance. See
 * reference/capability.
 * Source: ISO 22514-2:2017; A. F. Bissell (1990), Applied Statistics 39, 331-340; NIST/SEMATECH
 * e-Handbook of Statistical Methods, 6.1.6; M. A. Stephens (1974), Journal of the American
 * Statistical Association 69, 730-737
 * @example capability({ data: { kind: 'summary', mean: 16, standardDeviation: 2, countPieces: 50 },
 *   method: 'normal', lowerLimit: 8, upperLimit: 20, confidence: 0.95 }).overall.actual.value // 0.66667
 */
export function capability(input: CapabilityInput): CapabilityOutput {
  const output = input.method === 'normal' ? normalCapability(input) : percentileCapability(input);
  return { ...output, words: describe(input, output) };
}

const curvePoints = 100;

/** Density of the process beside its limits, in the unit of the readings. */
function drawCapability(input: CapabilityInput, output: CapabilityOutput): Chart[] {
  const { middle, overall, within } = output;
  const sigma = overall.standardDeviation;
  if (sigma === null) return [];
  const ends = [input.lowerLimit ?? middle, input.upperLimit ?? middle];
  const low = Math.min(middle - 4 * sigma, ...ends);
  const high = Math.max(middle + 4 * sigma, ...ends);
  const x = Array.from(
    { length: curvePoints + 1 },
    (_, index) => low + ((high - low) * index) / curvePoints,
  );
  const curve = (label: string, deviation: number) => ({
    label,
    kind: 'line' as const,
    x,
    y: x.map((value) => normalDensity(value, middle, deviation)),
  });
  const marks = [
    { x: input.lowerLimit, label: 'lower limit' },
    { x: input.target, label: 'target' },
    { x: input.upperLimit, label: 'upper limit' },
  ].flatMap((mark) => (mark.x === undefined ? [] : [{ x: mark.x, label: mark.label }]));
  return [
    {
      kind: 'chart',
      title: 'Process between its limits',
      xTitle: 'Reading',
      yTitle: 'Density',
      series: [
        curve('overall', sigma),
        ...(within?.standardDeviation ? [curve('within', within.standardDeviation)] : []),
      ],
      marks,
    },
  ];
}

export const capabilityCalculation = defineCalculation({
  id: 'capability',
  version: 1,
  topic: 'control',
  title: 'Capability of a process',
  purpose:
    'How the spread and the place of a process fit between the limits, with intervals: Cp, Cpk, Cpm, Pp, Ppk; refused where normal theory cannot speak.',
  source:
    'ISO 22514-2:2017; NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6; A. F. Bissell (1990), Applied Statistics 39; R. A. Boyles (1991), Journal of Quality Technology 23; M. A. Stephens (1974), Journal of the American Statistical Association 69',
  input: capabilityInput,
  output: capabilityOutput,
  // Flow rates of ten batches from the NIST/SEMATECH handbook, 6.3.2.2; the limits are chosen here.
  example: {
    data: {
      kind: 'individuals',
      values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1],
    },
    method: 'normal',
    lowerLimit: 44,
    upperLimit: 58,
    target: 51,
    confidence: 0.95,
  },
  compute: capability,
  draw: drawCapability,
});
