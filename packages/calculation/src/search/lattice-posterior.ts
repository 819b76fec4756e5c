import { logOfSum } from '../quantity/log-sum.ts';
import {
  type Convolution,
  convolve,
  eliminationOrder,
  logSum,
  termProbabilities,
} from './convolution.ts';
import { type FaultGroup, groupFaults, type LineFamily, lineFamilies } from './fault-groups.ts';
import type { FaultModel, FaultVariable } from './fault-model.ts';
import { isLarge } from './large-faults.ts';
import { type LargePart, largePart } from './large-sets.ts';

/** A way to be wrong with its probability. */
export interface RatedFault {
  readonly name: string;
  readonly value: number;
  readonly probability: number;
}

export interface LatticePosterior {
  /** Logarithm of the weight of all explanations together. */
  readonly logTotal: number;
  /** Logarithm of what was left out at most. */
  readonly logLeftOut: number;
  readonly faults: readonly RatedFault[];
}

/** A partial sum of this part of what fits is dropped: 1e-13. */
const logNegligible = Math.log(1e-13);

/** At first as if what fits weighed so much; from there down to the least weight that is sought. */
const logFirstGuess = Math.log(1e-3);
const logStep = Math.log(1e-27);
const logLeast = Math.log(1e-60);

/** Where all explanations weigh less than this, sets of three large faults are sought as well. */
const logOfThree = Math.log(1e-11);

/** A model taken apart: lines of small faults, and the faults of many pieces. */
interface Parts {
  readonly families: readonly LineFamily[];
  readonly large: readonly FaultVariable[];
  readonly residual: readonly number[];
}

/** The variables that can be wrong by many pieces, and the others; options without weight are none. */
function partsOf({ variables, residual }: FaultModel): Parts {
  const possible = variables.flatMap((variable): FaultVariable[] => {
    const options = variable.options.filter(({ weight }) => weight > 0);
    return options.length > 0 ? [{ ...variable, options }] : [];
  });
  const hasLarge = ({ options }: FaultVariable): boolean => options.some(isLarge);
  return {
    families: lineFamilies(possible.filter((variable) => !hasLarge(variable))),
    large: possible.filter(hasLarge),
    residual,
  };
}

interface Run {
  readonly groups: readonly FaultGroup[];
  readonly convolution: Convolution;
  readonly logTotal: number;
  readonly logDropped: number;
}

const sumOf = (groups: readonly FaultGroup[], of: (group: FaultGroup) => number): number =>
  groups.reduce((sum, group) => sum + of(group), 0);

/** What a group can weigh, whatever the others are. */
const logAllOf = ({ factor, logScale }: FaultGroup): number => logSum(factor) + logScale;

/** One convolution of everything down to a floor. */
function runTo({ families, residual }: Parts, part: LargePart, logFloor: number): Run {
  const logSmall = families.reduce((sum, family) => sum + family.logAll, 0);
  const all = [
    ...part.groupsTo(logFloor - logSmall),
    ...groupFaults(families, residual.length, { logFloor, logAll: logSmall + part.logAll }),
  ];
  const target = [...residual, ...new Array<number>(part.dimensions - residual.length).fill(0)];
  const order = eliminationOrder(
    all.map(({ factor }) => factor),
    target.length,
  );
  const groups = order.map((at) => all[at] as FaultGroup);
  const logScale = sumOf(groups, (group) => group.logScale);
  const convolution = convolve(
    groups.map(({ factor }) => factor),
    target,
    logFloor - logScale,
  );
  const logAll = sumOf(groups, logAllOf);
  const inGroups = groups.map((group) => group.logDropped + logAll - logAllOf(group));
  return {
    groups,
    convolution,
    logTotal: convolution.logTotal + logScale,
    logDropped: logOfSum([convolution.logDropped + logScale, ...inGroups]),
  };
}

/** Lowers the floor until what is dropped is negligible against what fits; nothing when nothing fits. */
function runDown(parts: Parts, part: LargePart): Run | undefined {
  let known = logFirstGuess;
  for (;;) {
    const run = runTo(parts, part, known + logNegligible);
    if (run.logTotal >= known) return run;
    if (known <= logLeast) return Number.isFinite(run.logTotal) ? run : undefined;
    known = Math.max(logLeast, Number.isFinite(run.logTotal) ? run.logTotal : known + logStep);
  }
}

function faultsOf(group: FaultGroup, shares: readonly number[]): readonly RatedFault[] {
  const read = group.readMembers(shares);
  return group.members.flatMap(({ name, options }, at) =>
    options.map(({ value }, place) => ({
      name,
      value,
      // A sum of rounded parts can exceed 1 by its last digits.
      probability: Math.min(1, read[at]?.[place] ?? 0),
    })),
  );
}

/**
 * The probability of every option given the residuals; nothing where no set of faults leads to them.
 */
export function latticePosterior(model: FaultModel): LatticePosterior | undefined {
  const parts = partsOf(model);
  const withTwo = largePart(parts.large, parts.residual, 2);
  const two = runDown(parts, withTwo);
  const isEnough = !withTwo.isCut || (two !== undefined && two.logTotal >= logOfThree);
  const run = isEnough ? two : (runDown(parts, largePart(parts.large, parts.residual, 3)) ?? two);
  if (!run) return undefined;
  const shares = termProbabilities(run.convolution);
  return {
    logTotal: run.logTotal,
    logLeftOut: run.logDropped,
    faults: run.groups.flatMap((group, at) => faultsOf(group, shares[at] ?? [])),
  };
}
