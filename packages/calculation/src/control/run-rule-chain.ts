import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import type { StartingState } from './cusum-run-length.ts';
import { patternOfRule, type RunPattern, type RunRule } from './run-rules.ts';

/** Zones of a reading: 0 to 3 outwards on each side; the lower side comes first. */
const zonesPerSide = 4;
const categories = 2 * zonesPerSide;
const signal = -1;

/** What one rule remembers of the past as a whole number, and how a reading changes it. */
interface RuleMemory {
  readonly advance: (memory: number, above: boolean, zone: number) => number;
}

const countBits = (bits: number): number => (bits === 0 ? 0 : (bits & 1) + countBits(bits >>> 1));

/** Remembers which of the last points lay in the zone on either side, as two bit fields. */
function zoneCountMemory(pattern: { needed: number; length: number; zone: number }): RuleMemory {
  const field = pattern.length - 1;
  const mask = (1 << field) - 1;
  return {
    advance: (memory, above, zone) => {
      const hit = zone >= pattern.zone;
      const up = (memory & mask) * 2 + (hit && above ? 1 : 0);
      const down = (memory >>> field) * 2 + (hit && !above ? 1 : 0);
      const here = hit ? (above ? up : down) : 0;
      if (countBits(here) >= pattern.needed) return signal;
      return (up & mask) | ((down & mask) << field);
    },
  };
}

/** Counts a run; `sign` keeps the sides apart where they matter. */
function runMemory(length: number, belongs: (zone: number) => boolean, sided: boolean): RuleMemory {
  return {
    advance: (memory, above, zone) => {
      if (!belongs(zone)) return 0;
      const wasAbove = memory >= length;
      const run = wasAbove ? memory - length : memory;
      const next = !sided || wasAbove === above || run === 0 ? run + 1 : 1;
      if (next >= length) return signal;
      return sided && above ? next + length : next;
    },
  };
}

function memoryOf(pattern: RunPattern, rule: RunRule): RuleMemory {
  switch (pattern.kind) {
    case 'beyond':
      return { advance: (_, __, zone) => (zone === 3 ? signal : 0) };
    case 'same-side':
      return runMemory(pattern.length, () => true, true);
    case 'zone-count':
      return zoneCountMemory(pattern);
    case 'all-inside':
      return runMemory(pattern.length, (zone) => zone < pattern.zone, false);
    case 'all-outside':
      return runMemory(pattern.length, (zone) => zone >= pattern.zone, false);
    default:
      requireDomain(false, {
        field: 'rules',
        value: rule,
        accepted: 'rules of zones and sides; trends and zigzags depend on more than zones',
      });
  }
}

/** Where each state goes for each zone of the next reading; `signal` ends the run. */
export interface RuleChain {
  readonly next: Int32Array;
  readonly count: number;
}

/**
 * The chain of a mean chart with run rules: every past that the rules tell apart is one state.
 *
 * @param rules names of the rules, those of trend (nelson-3) and zigzag (nelson-4) excepted
 * @returns transitions by state and zone; state 0 is the start
 * @throws DomainError for a rule of trend or zigzag
 * Source: C. W. Champ and W. H. Woodall (1987), Technometrics 29, 393-399
 * @example ruleChain(['western-electric-1']).count // 1
 */
export function ruleChain(rules: readonly RunRule[]): RuleChain {
  const memories = rules.map((rule) => memoryOf(patternOfRule[rule], rule));
  const start = memories.map(() => 0);
  const states = [start];
  const numbers = new Map([[start.join(), 0]]);
  const next: number[] = [];
  for (let state = 0; state < states.length; state += 1) {
    for (let category = 0; category < categories; category += 1) {
      const above = category >= zonesPerSide;
      const zone = above ? category - zonesPerSide : zonesPerSide - 1 - category;
      const after = memories.map((memory, index) =>
        memory.advance(states[state]?.[index] ?? 0, above, zone),
      );
      next.push(after.includes(signal) ? signal : numberOf(after));
    }
  }
  function numberOf(memory: number[]): number {
    const known = numbers.get(memory.join());
    if (known !== undefined) return known;
    numbers.set(memory.join(), states.length);
    states.push(memory);
    return states.length - 1;
  }
  return { next: Int32Array.from(next), count: states.length };
}

/** Probability of each zone for readings of standard deviation 1 about `shift`. */
function zoneProbabilities(shift: number, limitFactor: number): Float64Array {
  const edges = [-limitFactor, -2, -1, 0, 1, 2, limitFactor];
  const below = [0, ...edges.map((edge) => normalDistribution(edge, shift, 1))];
  const above = [...edges.map((edge) => normalDistribution(-edge, -shift, 1)), 0];
  return Float64Array.from({ length: categories }, (_, category) =>
    // From the nearer tail, so that a rare zone keeps its digits.
    category < zonesPerSide
      ? (below[category + 1] as number) - (below[category] as number)
      : category === categories - 1
        ? (above[category - 1] as number)
        : (above[category - 1] as number) - (above[category] as number),
  );
}

function advance(chain: RuleChain, current: Float64Array, zones: Float64Array): Float64Array {
  const next = new Float64Array(chain.count);
  for (let state = 0; state < chain.count; state += 1) {
    const weight = current[state] as number;
    if (weight === 0) continue;
    for (let category = 0; category < categories; category += 1) {
      const to = chain.next[state * categories + category] as number;
      if (to !== signal) next[to] = (next[to] as number) + weight * (zones[category] as number);
    }
  }
  return next;
}

const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);

/** The share that survives a step has settled when it moves by less than this. */
const settled = 1e-14;
/** Steps for which it must have stood still: the longest memory of a rule, doubled. */
const quietSteps = 30;
const mostSteps = 20_000;

/** Runs the chain until the share that survives each step is constant, and sums the rest as a geometric series. */
function follow(chain: RuleChain, start: Float64Array, zones: Float64Array) {
  let current = start;
  let runLength = 0;
  let share = 0;
  let quiet = 0;
  for (let step = 0; step < mostSteps && quiet < quietSteps; step += 1) {
    const before = total(current);
    runLength += before;
    if (before < 1e-300) return { runLength, distribution: current };
    current = advance(chain, current, zones);
    const now = total(current) / before;
    quiet = Math.abs(now - share) < settled ? quiet + 1 : 0;
    share = now;
  }
  const rest = total(current);
  return {
    runLength: runLength + rest / (1 - share),
    distribution: current.map((value) => value / rest),
  };
}

/**
 * Average number of plotted values until a mean chart with run rules signals.
 *
 * Formula: Σ P(no signal in n values) over n from 0, the probabilities by the chain of the rules;
 * from the value on where the share that survives a step is constant, as a geometric series.
 *
 * @param options rules; factor of the outer limits, which the rules of three standard deviations use,
 *   above 2; shifts in standard deviations of a plotted value; starting state as in
 *   `cusumAverageRunLength`
 * @returns average run lengths in the order of the shifts, 1 or more, not rounded
 * @throws DomainError for a rule of trend or zigzag, or a limit factor of 2 or less
 * Validity: independent normal values, centre line and limits known. Relative accuracy about 1e-9 up
 * to a run length of 1e5. See reference/average-run-length.
 * Source: C. W. Champ and W. H. Woodall (1987), Technometrics 29, 393-399
 * @example runRulesAverageRunLengths({ rules: ['western-electric-1', 'western-electric-2'],
 *   limitFactor: 3, shifts: [0], state: 'zero' })[0] // 225.44
 */
export function runRulesAverageRunLengths(options: {
  readonly rules: readonly RunRule[];
  readonly limitFactor: number;
  readonly shifts: readonly number[];
  readonly state: StartingState;
}): number[] {
  const { rules, limitFactor, shifts, state } = options;
  requireDomain(limitFactor > 2, {
    field: 'limitFactor',
    value: limitFactor,
    accepted: 'a number above 2, outside the inner zones',
  });
  const chain = ruleChain(rules);
  const start = new Float64Array(chain.count);
  start[0] = 1;
  const from =
    state === 'zero' ? start : follow(chain, start, zoneProbabilities(0, limitFactor)).distribution;
  return shifts.map(
    (shift) => follow(chain, from, zoneProbabilities(shift, limitFactor)).runLength,
  );
}
