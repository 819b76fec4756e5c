import { DomainError, requireDomain } from '../quantity/domain.ts';
import type { MeasurementModel } from './algebra.ts';
import { blockEvaluator } from './block-evaluator.ts';
import { type Correlation, correlationFactor, correlationMatrix } from './correlation.ts';
import type { InputDistribution } from './input-quantity-schema.ts';
import { type Sampler, samplerOf } from './input-sampler.ts';
import { randomStream } from './random-words.ts';

/** Trials that are worked through at once: the blocks of a model stay in the processor's cache. */
const blockLength = 1000;

export interface SimulatedInput {
  readonly name: string;
  readonly distribution: InputDistribution;
}

/** Fills a stretch of an array with outputs of the model, one per trial. */
export type Trials = (outputs: Float64Array, from: number, to: number) => void;

/** Mean and standard deviation of the correlated inputs, which have to be normal. */
function normalScales(
  inputs: readonly SimulatedInput[],
  rows: readonly number[],
): readonly { index: number; mean: number; scale: number }[] {
  return rows.map((index) => {
    const distribution = inputs[index]?.distribution;
    requireDomain(distribution?.kind === 'normal', {
      field: `inputs.${index}.distribution.kind`,
      value: distribution?.kind,
      accepted: 'normal for every input with a correlation (multivariate normal)',
    });
    return { index, mean: distribution.estimate, scale: distribution.standardUncertainty };
  });
}

/**
 * Turns independent standard normal blocks into correlated ones, in place: from the last row
 * upwards, so that each row still finds the independent values above it.
 */
function correlate(
  blocks: readonly Float64Array[],
  factor: Float64Array,
  rows: readonly { index: number; mean: number; scale: number }[],
  count: number,
): void {
  const n = blocks.length;
  for (const { index, mean, scale } of rows.toReversed()) {
    const target = blocks[index] as Float64Array;
    const own = factor[index * n + index] as number;
    const above = rows.filter((row) => row.index < index);
    for (let k = 0; k < count; k += 1) {
      let z = own * (target[k] as number);
      for (const row of above) {
        z +=
          (factor[index * n + row.index] as number) *
          ((blocks[row.index] as Float64Array)[k] as number);
      }
      target[k] = z;
    }
    // Rows below have been done already, so this row may leave the standard scale.
    for (let k = 0; k < count; k += 1) target[k] = mean + scale * (target[k] as number);
  }
}

function requireFinite(block: Float64Array, count: number): void {
  let sum = 0;
  for (let k = 0; k < count; k += 1) sum += block[k] as number;
  if (Number.isFinite(sum)) return;
  const lost = block.subarray(0, count).filter((value) => !Number.isFinite(value)).length;
  if (lost === 0) return;
  throw new DomainError({
    field: 'model',
    value: `without a finite value in ${lost} of ${count} trials`,
    accepted: 'a model that has a finite value for all that its inputs can be',
  });
}

/**
 * Trials of a model: draws the inputs from their distributions and evaluates the model, block by
 * block. Each input has a stream of its own.
 *
 * @param model measurement model
 * @param inputs name and distribution of each input
 * @param correlations by name; correlated inputs have to be normal
 * @param seed whole number from 0 to 2⁵³ − 1
 * @returns a function that fills a stretch of an array and goes on where it ended
 * @throws DomainError for a correlated input that is not normal, coefficients that cannot hold
 *   together, and (when filling) a trial without a finite value
 * Validity: outputs depend on the seed and the position of the input, on nothing else.
 * Source: JCGM 101:2008, 7.3 and 7.4; multivariate normal by 6.4.8
 * @example typeof simulatedTrials(textModel('x', ['x']),
 *   [{ name: 'x', distribution: { kind: 'exponential', estimate: 1 } }], [], 1) // 'function'
 */
export function simulatedTrials(
  model: MeasurementModel,
  inputs: readonly SimulatedInput[],
  correlations: readonly Correlation[],
  seed: number,
): Trials {
  const names = inputs.map(({ name }) => name);
  const matrix = correlationMatrix(names, correlations);
  const factor = correlationFactor(matrix, names);
  const n = names.length;
  const correlatedRows = names.flatMap((_, i) =>
    names.some((_other, j) => i !== j && matrix[i * n + j] !== 0) ? [i] : [],
  );
  const rows = normalScales(inputs, correlatedRows);
  const samplers = inputs.map(({ distribution }, index): Sampler => {
    const isCorrelated = correlatedRows.includes(index);
    const drawn: InputDistribution = isCorrelated
      ? { kind: 'normal', estimate: 0, standardUncertainty: 1, degreesOfFreedom: null }
      : distribution;
    return samplerOf(drawn, randomStream(seed, index), `inputs.${index}.distribution`);
  });
  const evaluator = blockEvaluator(model, names, blockLength);
  return (outputs, from, to) => {
    for (let start = from; start < to; start += blockLength) {
      const count = Math.min(blockLength, to - start);
      samplers.forEach((sample, index) => {
        sample(evaluator.inputs[index] as Float64Array, count);
      });
      correlate(evaluator.inputs, factor, rows, count);
      const block = evaluator.evaluate(count);
      requireFinite(block, count);
      outputs.set(count === blockLength ? block : block.subarray(0, count), start);
    }
  };
}
