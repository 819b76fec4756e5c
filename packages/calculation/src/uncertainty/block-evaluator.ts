import {
  type Algebra,
  type MeasurementModel,
  type ModelFunctionName,
  numberAlgebra,
} from './algebra.ts';

type Operation = 'add' | 'subtract' | 'multiply' | 'divide' | 'power' | 'negate';
type Block = Float64Array;

/** One step of a recorded model: it fills the block of its target from those of its operands. */
export interface Step {
  readonly operation: Operation | ModelFunctionName;
  readonly left: number;
  readonly right: number;
  readonly target: number;
}

/** Each loop is a function of its own, so that the engine makes plain machine code of it. */
const loops: Readonly<
  Record<Operation | ModelFunctionName, (a: Block, b: Block, out: Block, count: number) => void>
> = {
  add: (a, b, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = (a[k] as number) + (b[k] as number);
  },
  subtract: (a, b, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = (a[k] as number) - (b[k] as number);
  },
  multiply: (a, b, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = (a[k] as number) * (b[k] as number);
  },
  divide: (a, b, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = (a[k] as number) / (b[k] as number);
  },
  power: (a, b, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = (a[k] as number) ** (b[k] as number);
  },
  negate: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = -(a[k] as number);
  },
  abs: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.abs(a[k] as number);
  },
  acos: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.acos(a[k] as number);
  },
  asin: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.asin(a[k] as number);
  },
  atan: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.atan(a[k] as number);
  },
  cos: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.cos(a[k] as number);
  },
  exp: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.exp(a[k] as number);
  },
  log: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.log(a[k] as number);
  },
  log10: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.log10(a[k] as number);
  },
  sin: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.sin(a[k] as number);
  },
  sqrt: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.sqrt(a[k] as number);
  },
  tan: (a, _, out, count) => {
    for (let k = 0; k < count; k += 1) out[k] = Math.tan(a[k] as number);
  },
};

/** The algebra whose values are places of blocks: evaluating a model in it writes down its steps. */
class Recorder implements Algebra<number> {
  readonly steps: Step[] = [];
  readonly constants = new Map<number, number>();
  places: number;

  constructor(inputs: number) {
    this.places = inputs;
  }

  constant(value: number): number {
    for (const [place, known] of this.constants) if (Object.is(known, value)) return place;
    this.constants.set(this.places, value);
    this.places += 1;
    return this.places - 1;
  }

  #step(operation: Operation, left: number, right: number): number {
    const [a, b] = [this.constants.get(left), this.constants.get(right)];
    if (a !== undefined && b !== undefined) {
      return this.constant(
        operation === 'negate' ? numberAlgebra.negate(a) : numberAlgebra[operation](a, b),
      );
    }
    return this.#write(operation, left, right);
  }

  #write(operation: Step['operation'], left: number, right: number): number {
    this.steps.push({ operation, left, right, target: this.places });
    this.places += 1;
    return this.places - 1;
  }

  add = (left: number, right: number): number => this.#step('add', left, right);
  subtract = (left: number, right: number): number => this.#step('subtract', left, right);
  multiply = (left: number, right: number): number => this.#step('multiply', left, right);
  divide = (left: number, right: number): number => this.#step('divide', left, right);
  negate = (value: number): number => this.#step('negate', value, value);

  power = (base: number, exponent: number): number => {
    const known = this.constants.get(exponent);
    // A square is a product: several times faster than the general power and the same to the bit.
    if (known === 2) return this.multiply(base, base);
    return known === 1 ? base : this.#step('power', base, exponent);
  };

  apply = (name: ModelFunctionName, argument: number): number => {
    const known = this.constants.get(argument);
    if (known !== undefined) return this.constant(numberAlgebra.apply(name, known));
    return this.#write(name, argument, argument);
  };

  defectOf = (): null => null;
}

/** A model as a list of steps over places; the first places are those of the inputs. */
export interface RecordedModel {
  readonly places: number;
  readonly constants: ReadonlyMap<number, number>;
  readonly steps: readonly Step[];
  readonly result: number;
}

/** Runs a model once to write down its steps. */
export function recordedModel(model: MeasurementModel, names: readonly string[]): RecordedModel {
  const recorder = new Recorder(names.length);
  const result = model(recorder, Object.fromEntries(names.map((name, place) => [name, place])));
  const { places, constants, steps } = recorder;
  return { places, constants, steps, result };
}

/** One block per place, those of constants filled. */
export function blocksOf({ places, constants }: RecordedModel, blockLength: number): Block[] {
  const blocks = Array.from({ length: places }, () => new Float64Array(blockLength));
  for (const [place, value] of constants) blocks[place]?.fill(value);
  return blocks;
}

/** A function that runs the steps of a recorded model over the first values of its blocks. */
export function stepsOver(
  steps: readonly Step[],
  blocks: readonly Block[],
): (count: number) => void {
  const block = (place: number): Block => blocks[place] as Block;
  const run = steps.map(({ operation, left, right, target }) => ({
    loop: loops[operation],
    left: block(left),
    right: block(right),
    target: block(target),
  }));
  return (count) => {
    for (const { loop, left, right, target } of run) loop(left, right, target, count);
  };
}

/** Evaluates a model over blocks of simulated inputs. */
export interface BlockEvaluator {
  /** Blocks to fill, one per input in the order of their names. */
  readonly inputs: readonly Block[];
  /** Evaluates the first `count` values; the result stays valid until the next call. */
  evaluate(count: number): Block;
}

/**
 * Turns a model into an evaluator over blocks of values: the model is run once to write down its
 * steps, which then run as loops over typed arrays. The simulation of a model rests on it.
 *
 * Formula: the operations of the model, each over a whole block before the next.
 *
 * @param model measurement model
 * @param names names of its inputs
 * @param blockLength values per block, 1 or more
 * @returns blocks to fill and the function that evaluates them
 * Validity: the figures equal those of `numberAlgebra` to the bit; a value without a result is NaN
 * or infinite.
 * Source: A. Griewank and A. Walther (2008), Evaluating Derivatives, 2nd edition, SIAM, section 2.2
 * (evaluation procedure as a list of steps)
 * @example blockEvaluator(textModel('2 * x', ['x']), ['x'], 1).inputs.length // 1
 */
export function blockEvaluator(
  model: MeasurementModel,
  names: readonly string[],
  blockLength: number,
): BlockEvaluator {
  const recorded = recordedModel(model, names);
  const blocks = blocksOf(recorded, blockLength);
  const run = stepsOver(recorded.steps, blocks);
  return {
    inputs: blocks.slice(0, names.length),
    evaluate: (count) => {
      run(count);
      return blocks[recorded.result] as Block;
    },
  };
}
