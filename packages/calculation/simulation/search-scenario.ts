import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { compareSiblings } from '../src/counting/sibling-comparison.ts';
import { type ContainerReading, weighingRatio } from '../src/search/container-evidence.ts';
import type { FaultModel, FaultOption, FaultVariable } from '../src/search/fault-model.ts';

/** How a plant weighs, and so how much of a fault its weighings can show. */
export interface SearchScenario {
  readonly name: string;
  readonly pieceGrams: number;
  readonly pieceDeviationGrams: number;
  readonly lotDeviationGrams: number;
  readonly gainRelative: number;
  readonly tubeTareDeviationGrams: number;
  readonly tubeScale: Scale;
  readonly binScale: Scale;
  readonly bad: { readonly probability: number; readonly spreadGrams: number };
}

interface Scale {
  readonly divisionGrams: number;
  readonly repeatabilityGrams: number;
}

/** Small gold in tubes of unknown tare: half a piece is 1.7 standard uncertainties. */
export const hardScenario: SearchScenario = {
  name: 'small gold, loose tares',
  pieceGrams: 3.11,
  pieceDeviationGrams: 0.02,
  lotDeviationGrams: 0.003,
  gainRelative: 1e-4,
  tubeTareDeviationGrams: 0.9,
  tubeScale: { divisionGrams: 0.1, repeatabilityGrams: 0.05 },
  binScale: { divisionGrams: 1, repeatabilityGrams: 0.5 },
  bad: { probability: 1e-3, spreadGrams: 20 },
};

/** Silver ounces on good scales: a weighing either decides or says nothing. */
export const easyScenario: SearchScenario = {
  name: 'silver ounces, known tares',
  pieceGrams: 31.1,
  pieceDeviationGrams: 0.05,
  lotDeviationGrams: 0.02,
  gainRelative: 1e-4,
  tubeTareDeviationGrams: 0.15,
  tubeScale: { divisionGrams: 0.1, repeatabilityGrams: 0.05 },
  binScale: { divisionGrams: 1, repeatabilityGrams: 0.5 },
  bad: { probability: 1e-3, spreadGrams: 20 },
};

/** Numbers of one seed: uniform in (0, 1), and standard normal by pairs. */
export class Chance {
  readonly #generator: { next(): number };
  #spare: number | undefined;

  constructor(seed: number) {
    const generator = xoroshiro128plus(seed);
    this.#generator = { next: () => generator.next() };
  }

  uniform(): number {
    const high = this.#generator.next() >>> 6;
    const low = this.#generator.next() >>> 5;
    return (high * 134_217_728 + low + 0.5) / 9_007_199_254_740_992;
  }

  normal(): number {
    if (this.#spare !== undefined) {
      const value = this.#spare;
      this.#spare = undefined;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(this.uniform()));
    const angle = 2 * Math.PI * this.uniform();
    this.#spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  }

  /** One of some values with their rates, or 0. */
  fault(rates: readonly (readonly [value: number, rate: number])[]): number {
    let left = this.uniform();
    for (const [value, rate] of rates) {
      if (left < rate) return value;
      left -= rate;
    }
    return 0;
  }
}

/** A thing that can be wrong in the chain: its rates, what one unit does to the residuals, what is weighed. */
interface Part {
  readonly name: string;
  readonly rates: readonly (readonly [value: number, rate: number])[];
  readonly signature: readonly number[];
  /** Recorded pieces, where the part is a container that is weighed, and on which scale. */
  readonly weighed?: { readonly pieces: number; readonly on: 'tubes' | 'bins' };
  /** Pieces more in the container when the fault has the value 1. */
  readonly effect?: number;
}

const tubes = 99;

/**
 * Four bins of blanks feed two presses; strokes, rejects, a sample, tubes and a loose rest are
 * counted. Three residuals: blanks against strokes of each press, strokes against what came out.
 */
const parts: readonly Part[] = [
  ...[0, 1, 2, 3].map(
    (bin): Part => ({
      name: `bin ${bin + 1}`,
      rates: [
        [-1, 1e-3],
        [1, 5e-4],
      ],
      signature: bin < 2 ? [-1, 0, 0] : [0, -1, 0],
      weighed: { pieces: 500, on: 'bins' },
      effect: 1,
    }),
  ),
  ...[0, 1].map(
    (press): Part => ({
      name: `counter ${press + 1}`,
      rates: [
        [1, 2e-3],
        [-1, 1e-3],
      ],
      signature: press === 0 ? [-1, 0, 1] : [0, -1, 1],
    }),
  ),
  ...[0, 1].map(
    (press): Part => ({
      name: `rejects ${press + 1}`,
      rates: [
        [-1, 3e-3],
        [1, 1e-3],
      ],
      signature: [0, 0, -1],
      weighed: { pieces: press === 0 ? 7 : 5, on: 'tubes' },
      effect: -1,
    }),
  ),
  { name: 'sample', rates: [[-1, 2e-3]], signature: [0, 0, -1] },
  {
    name: 'loose',
    rates: [
      [-1, 1e-3],
      [1, 1e-3],
    ],
    signature: [0, 0, -1],
    weighed: { pieces: 5, on: 'tubes' },
    effect: -1,
  },
  ...Array.from(
    { length: tubes },
    (_, at): Part => ({
      name: `tube ${at + 1}`,
      rates: [
        [-1, 2e-4],
        [1, 2e-4],
      ],
      signature: [0, 0, 1],
      weighed: { pieces: 20, on: 'tubes' },
      effect: 1,
    }),
  ),
  { name: 'gone at press 1', rates: [[1, 5e-4]], signature: [0, 0, 1] },
  { name: 'gone at press 2', rates: [[1, 5e-4]], signature: [0, 0, 1] },
  { name: 'gone at put-up', rates: [[1, 1e-3]], signature: [0, 0, 1] },
];

/** A shift as it was and as it is seen. */
export interface SimulatedShift {
  /** What is wrong in truth: the value of each part that is. */
  readonly truth: ReadonlyMap<string, number>;
  readonly model: FaultModel;
  /** How far each container lies from its siblings, in standard uncertainties. */
  readonly deviations: ReadonlyMap<string, number>;
}

interface Weighing {
  readonly part: Part;
  readonly pieces: number;
  readonly deviationGrams: number;
  readonly ownGrams: number;
}

const rounded = (value: number, division: number): number =>
  Math.round(value / division) * division;

function weigh(
  scenario: SearchScenario,
  part: Part & { readonly weighed: NonNullable<Part['weighed']> },
  seen: { readonly value: number; readonly perPieceGrams: number; readonly chance: Chance },
): Weighing {
  const { chance } = seen;
  const { pieces, on } = part.weighed;
  const scale = on === 'bins' ? scenario.binScale : scenario.tubeScale;
  const tare = on === 'bins' ? 0 : scenario.tubeTareDeviationGrams;
  const truePieces = pieces + seen.value * (part.effect ?? 0);
  const errors =
    truePieces * seen.perPieceGrams +
    Math.sqrt(truePieces) * scenario.pieceDeviationGrams * chance.normal() +
    tare * chance.normal() +
    scale.repeatabilityGrams * chance.normal();
  const isBad = chance.uniform() < scenario.bad.probability;
  const net =
    truePieces * scenario.pieceGrams +
    errors +
    (isBad ? scenario.bad.spreadGrams * chance.normal() : 0);
  return {
    part,
    pieces,
    deviationGrams: rounded(net, scale.divisionGrams) - pieces * scenario.pieceGrams,
    ownGrams: Math.hypot(
      Math.sqrt(pieces) * scenario.pieceDeviationGrams,
      tare,
      scale.repeatabilityGrams,
      scale.divisionGrams / Math.sqrt(12),
    ),
  };
}

/** How the model is told the truth, or deceived: what is left out of it makes it over-confident. */
export interface ModelOptions {
  readonly withBadWeighings?: boolean;
  readonly withLotMean?: boolean;
  /** Rates assumed by the model over the true ones. */
  readonly rateFactor?: number;
}

function readingsOf(
  scenario: SearchScenario,
  weighings: readonly Weighing[],
  options: ModelOptions,
): ReadonlyMap<string, ContainerReading> {
  const shared = Math.hypot(
    scenario.lotDeviationGrams,
    scenario.gainRelative * scenario.pieceGrams,
  );
  const found = new Map<string, ContainerReading>();
  for (const group of Map.groupBy(weighings, ({ part }) => part.weighed?.on).values()) {
    const containers = group.map(({ pieces, deviationGrams, ownGrams }) => ({
      pieces,
      deviationGrams,
      standardUncertaintyGrams: ownGrams,
    }));
    const predictions = compareSiblings(containers, {
      sharedPerPieceGrams: shared,
      odd: { probability: 2e-3, spreadGrams: scenario.bad.spreadGrams },
    });
    for (const [at, { part, deviationGrams, ownGrams }] of group.entries()) {
      const prediction = predictions[at];
      const isFitted = options.withLotMean !== false && prediction !== undefined;
      found.set(part.name, {
        deviationGrams,
        predictedGrams: isFitted ? prediction.predictedGrams : 0,
        standardUncertaintyGrams: isFitted ? prediction.standardUncertaintyGrams : ownGrams,
      });
    }
  }
  return found;
}

function variableOf(
  scenario: SearchScenario,
  part: Part,
  reading: ContainerReading | undefined,
  options: ModelOptions,
): FaultVariable {
  const bad =
    options.withBadWeighings === false ? { ...scenario.bad, probability: 1e-300 } : scenario.bad;
  const ways = part.rates.map(([value, trueRate]): FaultOption => {
    const rate = Math.min(0.5, trueRate * (options.rateFactor ?? 1));
    const change = { pieces: value * (part.effect ?? 0), pieceMassGrams: scenario.pieceGrams };
    const ratio = reading ? weighingRatio(reading, change, bad) : 1;
    return {
      value,
      weight: (rate / (1 - rate)) * ratio,
      signature: part.signature.map((unit) => unit * value),
    };
  });
  return { name: part.name, options: ways };
}

/** One shift of the chain: faults drawn at their rates, containers weighed, the model as a plant builds it. */
export function simulateShift(
  scenario: SearchScenario,
  chance: Chance,
  options: ModelOptions = {},
): SimulatedShift {
  const values = parts.map((part) => chance.fault(part.rates));
  const lot = scenario.lotDeviationGrams * chance.normal();
  const perPiece = {
    tubes: lot + scenario.gainRelative * scenario.pieceGrams * chance.normal(),
    bins: lot + scenario.gainRelative * scenario.pieceGrams * chance.normal(),
  };
  const weighings = parts.flatMap((part, at): Weighing[] =>
    part.weighed
      ? [
          weigh(
            scenario,
            { ...part, weighed: part.weighed },
            {
              value: values[at] ?? 0,
              perPieceGrams: perPiece[part.weighed.on],
              chance,
            },
          ),
        ]
      : [],
  );
  const readings = readingsOf(scenario, weighings, options);
  const residual = [0, 1, 2].map((cell) =>
    parts.reduce((sum, part, at) => sum + (values[at] ?? 0) * (part.signature[cell] ?? 0), 0),
  );
  const deviations = new Map(
    [...readings].map(([name, reading]) => {
      const off = Math.abs(reading.deviationGrams - reading.predictedGrams);
      return [name, off / reading.standardUncertaintyGrams] as const;
    }),
  );
  return {
    truth: new Map(
      parts.flatMap((part, at) => (values[at] ? [[part.name, values[at]] as const] : [])),
    ),
    model: {
      residual,
      variables: parts.map((part) => variableOf(scenario, part, readings.get(part.name), options)),
    },
    deviations,
  };
}

/** Whether a plant would look at the shift: by what it sees, never by what is true. */
export const isLookedAt = ({ model, deviations }: SimulatedShift): boolean =>
  model.residual.some((value) => value !== 0) || [...deviations.values()].some((off) => off > 4);
