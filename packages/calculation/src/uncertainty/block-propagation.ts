import { DomainError, requireDomain } from '../quantity/domain.ts';
import type { MeasurementModel } from './algebra.ts';
import {
  blocksOf,
  type RecordedModel,
  recordedModel,
  type Step,
  stepsOver,
} from './block-evaluator.ts';
import { slopeOf } from './derivatives.ts';

/** An input of many results of one method: an estimate for each, one uncertainty for all. */
export interface SeriesInput {
  readonly name: string;
  readonly estimates: ArrayLike<number>;
  readonly standardUncertainty: number;
  /** Null where the standard uncertainty is taken as known exactly. */
  readonly degreesOfFreedom: number | null;
}

/** The law of propagation of first order for many results, one value of each array per result. */
export interface SeriesPropagation {
  readonly values: Float64Array;
  /** For each input: sensitivity times standard uncertainty, with its sign. */
  readonly contributions: readonly Float64Array[];
  readonly variances: Float64Array;
  /** Infinite where every part is known exactly. */
  readonly effectiveDegreesOfFreedom: Float64Array;
}

type Block = Float64Array;

/** Results that are worked through at once: the blocks of a model stay in the processor's cache. */
const blockLength = 256;

/** Adds what one step passes back to its operands: slope of the step times slope of the result. */
type Backwards = (step: {
  readonly left: Block;
  readonly right: Block;
  readonly target: Block;
  /** Slopes of the result by target, left and right. */
  readonly slope: Block;
  readonly leftSlope: Block;
  readonly rightSlope: Block;
  readonly count: number;
}) => void;

function add(block: Block, k: number, term: number): void {
  block[k] = (block[k] as number) + term;
}

const backwards: Readonly<
  Record<'add' | 'subtract' | 'multiply' | 'divide' | 'power' | 'negate' | 'exp', Backwards>
> = {
  add: ({ slope, leftSlope, rightSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      add(leftSlope, k, slope[k] as number);
      add(rightSlope, k, slope[k] as number);
    }
  },
  subtract: ({ slope, leftSlope, rightSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      add(leftSlope, k, slope[k] as number);
      add(rightSlope, k, -(slope[k] as number));
    }
  },
  multiply: ({ left, right, slope, leftSlope, rightSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      add(leftSlope, k, (slope[k] as number) * (right[k] as number));
      add(rightSlope, k, (slope[k] as number) * (left[k] as number));
    }
  },
  divide: ({ right, target, slope, leftSlope, rightSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      const share = (slope[k] as number) / (right[k] as number);
      add(leftSlope, k, share);
      add(rightSlope, k, -share * (target[k] as number));
    }
  },
  power: ({ left, right, target, slope, leftSlope, rightSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      const [base, exponent] = [left[k] as number, right[k] as number];
      const [own, value] = [slope[k] as number, target[k] as number];
      if (exponent !== 0) add(leftSlope, k, own * exponent * base ** (exponent - 1));
      add(rightSlope, k, own * value * Math.log(base));
    }
  },
  negate: ({ slope, leftSlope, count }) => {
    for (let k = 0; k < count; k += 1) add(leftSlope, k, -(slope[k] as number));
  },
  exp: ({ target, slope, leftSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      add(leftSlope, k, (slope[k] as number) * (target[k] as number));
    }
  },
};

function backwardsOf(operation: Step['operation']): Backwards {
  if (operation in backwards) return backwards[operation as keyof typeof backwards];
  const name = operation as Exclude<typeof operation, keyof typeof backwards>;
  return ({ left, slope, leftSlope, count }) => {
    for (let k = 0; k < count; k += 1) {
      add(leftSlope, k, (slope[k] as number) * slopeOf(name, left[k] as number));
    }
  };
}

/** A function that fills the slope blocks of every place, from the result back to the inputs. */
function slopesOver(
  recorded: RecordedModel,
  blocks: readonly Block[],
  slopes: readonly Block[],
): (count: number) => void {
  const steps = recorded.steps.toReversed().map(({ operation, left, right, target }) => ({
    pass: backwardsOf(operation),
    left: blocks[left] as Block,
    right: blocks[right] as Block,
    target: blocks[target] as Block,
    slope: slopes[target] as Block,
    leftSlope: slopes[left] as Block,
    rightSlope: slopes[right] as Block,
  }));
  return (count) => {
    for (const block of slopes) block.fill(0, 0, count);
    slopes[recorded.result]?.fill(1, 0, count);
    for (const step of steps) step.pass({ ...step, count });
  };
}

function requireSeries(inputs: readonly SeriesInput[]): number {
  const count = inputs[0]?.estimates.length ?? 0;
  inputs.forEach(({ estimates, standardUncertainty: u, degreesOfFreedom }, index) => {
    const refuse = (condition: boolean, name: string, value: unknown, accepted: string): void =>
      requireDomain(condition, { field: `inputs.${index}.${name}`, value, accepted });
    const { length } = estimates;
    refuse(length === count, 'estimates', `${length} long`, `${count} estimates, as the first`);
    const isUncertainty = u >= 0 && Number.isFinite(u);
    refuse(isUncertainty, 'standardUncertainty', u, 'a standard uncertainty of 0 or more');
    const isFreedom = degreesOfFreedom === null || degreesOfFreedom > 0;
    const freedoms = 'degrees of freedom above 0, or none';
    refuse(isFreedom, 'degreesOfFreedom', degreesOfFreedom, freedoms);
  });
  return count;
}

function requireFinite(whole: number, result: number): void {
  if (Number.isFinite(whole)) return;
  throw new DomainError({
    field: 'model',
    value: `without a finite value or derivative for result ${result}`,
    accepted: 'a model with a finite value and finite derivatives at the estimates',
  });
}

/** Variances and effective degrees of freedom from the contributions. */
function combine(found: SeriesPropagation, inputs: readonly SeriesInput[]): void {
  const { values, contributions, variances, effectiveDegreesOfFreedom: effective } = found;
  for (const own of contributions) {
    for (let k = 0; k < own.length; k += 1) add(variances, k, (own[k] as number) ** 2);
  }
  inputs.forEach(({ degreesOfFreedom }, index) => {
    if (degreesOfFreedom === null) return;
    const own = contributions[index] as Block;
    for (let k = 0; k < own.length; k += 1) {
      // A part of the whole first, so that fourth powers neither overflow nor vanish.
      const share = own[k] === 0 ? 0 : (own[k] as number) ** 2 / (variances[k] as number);
      add(effective, k, (share * share) / degreesOfFreedom);
    }
  });
  for (let k = 0; k < values.length; k += 1) {
    requireFinite((values[k] as number) + (variances[k] as number), k);
    effective[k] = 1 / (effective[k] as number);
  }
}

/**
 * The law of propagation of first order for many results of one method at once, whose inputs are
 * independent and keep their standard uncertainties from result to result.
 *
 * Formula: as `propagateFirstOrder` without correlations; derivatives backwards from the result to
 * all inputs, over blocks of results.
 *
 * @param model measurement model
 * @param inputs for each its name, one estimate per result, a standard uncertainty of 0 or more,
 *   degrees of freedom above 0 or null
 * @returns values, contributions, variances and effective degrees of freedom; nothing rounded
 * @throws DomainError for lists of different lengths, an uncertainty or degrees of freedom outside
 *   its range, and a result without a finite value or derivative
 * Validity: equal to `propagateFirstOrder` but for rounding.
 * Source: JCGM 100:2008, 5.1.2, G.4.1; A. Griewank and A. Walther (2008), Evaluating Derivatives,
 * 2nd edition, SIAM, section 3.2 (reverse mode)
 * @example propagateSeries(textModel('x^2', ['x']), [{ name: 'x', estimates: [3, 4],
 *   standardUncertainty: 0.5, degreesOfFreedom: null }]).variances[1] // 16
 */
export function propagateSeries(
  model: MeasurementModel,
  inputs: readonly SeriesInput[],
): SeriesPropagation {
  const count = requireSeries(inputs);
  const names = inputs.map(({ name }) => name);
  const recorded = recordedModel(model, names);
  const blocks = blocksOf(recorded, blockLength);
  const slopes = blocks.map(() => new Float64Array(blockLength));
  const forwards = stepsOver(recorded.steps, blocks);
  const back = slopesOver(recorded, blocks, slopes);
  const found: SeriesPropagation = {
    values: new Float64Array(count),
    contributions: inputs.map(() => new Float64Array(count)),
    variances: new Float64Array(count),
    effectiveDegreesOfFreedom: new Float64Array(count),
  };
  for (let start = 0; start < count; start += blockLength) {
    const many = Math.min(blockLength, count - start);
    inputs.forEach(({ estimates }, index) => {
      const block = blocks[index] as Block;
      for (let k = 0; k < many; k += 1) block[k] = estimates[start + k] as number;
    });
    forwards(many);
    back(many);
    found.values.set((blocks[recorded.result] as Block).subarray(0, many), start);
    inputs.forEach(({ standardUncertainty }, index) => {
      const [slope, own] = [slopes[index] as Block, found.contributions[index] as Block];
      for (let k = 0; k < many; k += 1) {
        own[start + k] = (slope[k] as number) * standardUncertainty + 0;
      }
    });
  }
  combine(found, inputs);
  return found;
}
