import type { VariablesVerdictInput, VariablesVerdictOutput } from '@cupel/calculation';
import { calculate } from '../../../journal/calculated.ts';
import type { SamplingOrder } from '../books.ts';
import {
  type Characteristic,
  type LotByVariables,
  type MeasuredQuantity,
  measuredQuantities,
} from './bodies.ts';

/** What was measured on a blank, in the units of its limits. */
export interface MeasuredBlank {
  readonly blank: string;
  readonly massMilligrams: number;
  readonly diameterMillimetres: number;
  readonly thicknessMillimetres: number;
}

/** The limits of a piece standard. */
export interface BlankLimits {
  readonly massLeastMilligrams: number;
  readonly massGreatestMilligrams: number;
  readonly diameterLeastMillimetres: number;
  readonly diameterGreatestMillimetres: number;
  readonly thicknessLeastMillimetres: number;
  readonly thicknessGreatestMillimetres: number;
}

interface Between {
  readonly lowerLimit: number;
  readonly upperLimit: number;
}

function limitsOf(limits: BlankLimits): Readonly<Record<MeasuredQuantity, Between>> {
  return {
    mass: { lowerLimit: limits.massLeastMilligrams, upperLimit: limits.massGreatestMilligrams },
    diameter: {
      lowerLimit: limits.diameterLeastMillimetres,
      upperLimit: limits.diameterGreatestMillimetres,
    },
    thickness: {
      lowerLimit: limits.thicknessLeastMillimetres,
      upperLimit: limits.thicknessGreatestMillimetres,
    },
  };
}

const readingOf: Readonly<Record<MeasuredQuantity, (blank: MeasuredBlank) => number>> = {
  mass: (blank) => blank.massMilligrams,
  diameter: (blank) => blank.diameterMillimetres,
  thickness: (blank) => blank.thicknessMillimetres,
};

/**
 * A gauge that shows the same figure for every blank leaves no spread, and limits that are one figure
 * leave no room: the readings themselves are held against the limits then.
 */
function heldAgainst(
  quantity: MeasuredQuantity,
  measurements: readonly number[],
  { lowerLimit, upperLimit }: Between,
): Characteristic {
  const outside = measurements.filter((value) => value < lowerLimit || value > upperLimit).length;
  return {
    quantity,
    verdict: outside === 0 ? 'accept' : 'do not accept',
    calculated: null,
    words: `${outside} of ${measurements.length} readings lie outside ${lowerLimit} to ${upperLimit}; there is no spread to reckon with.`,
  };
}

function judgeQuantity(
  quantity: MeasuredQuantity,
  measurements: readonly number[],
  by: { readonly limits: Between; readonly maximumPercent: number },
): Characteristic {
  const { limits, maximumPercent } = by;
  const hasSpread = measurements.some((value) => value !== measurements[0]);
  if (!hasSpread || limits.lowerLimit === limits.upperLimit) {
    return heldAgainst(quantity, measurements, limits);
  }
  const input: VariablesVerdictInput = {
    sample: { given: 'measurements', measurements: [...measurements] },
    ...limits,
    criterion: { form: 'M', maximumPercent },
    normality: 'test',
  };
  const { calculated, output } = calculate<VariablesVerdictOutput>('variables-verdict', input);
  return { quantity, verdict: output.verdict, calculated, words: output.words };
}

function stateOf(characteristics: readonly Characteristic[]): LotByVariables['state'] {
  if (characteristics.some(({ verdict }) => verdict === 'do not accept')) return 'rejected';
  // Blanks that were sorted or mixed are not normal, and only counting tells.
  return characteristics.some(({ verdict }) => verdict === 'refused')
    ? 'by attributes'
    : 'accepted';
}

const stateWords: Readonly<Record<LotByVariables['state'], string>> = {
  open: '',
  accepted: 'By variables the lot is accepted.',
  rejected: 'By variables the lot is not accepted.',
  'by attributes':
    'The readings are not normal: measure every blank of the sample, and judge the lot by attributes.',
};

/**
 * Judges a lot whose sample was ordered by variables, from the readings of the blanks that the order
 * names. Nothing for a lot that is judged by attributes.
 *
 * Each quantity must pass on its own, with the greatest estimate M of the order's plan for both its
 * limits together. Where the readings of one contradict a normal distribution, the whole sample is
 * measured and counted instead.
 */
export function judgeByVariables(
  order: Pick<SamplingOrder, 'variables' | 'blanks'>,
  limits: BlankLimits,
  measured: readonly MeasuredBlank[],
): LotByVariables | undefined {
  const { variables } = order;
  if (!variables) return undefined;
  const asked = new Set(
    order.blanks.flatMap(({ blank, forVariables }) => (forVariables === true ? [blank] : [])),
  );
  const own = measured.filter(({ blank }) => asked.has(blank));
  const counts = { blanksMeasured: own.length, blanksNeeded: variables.pieces };
  if (own.length < variables.pieces) {
    const left = variables.pieces - own.length;
    const words = `${left} of ${variables.pieces} blanks are to be measured before the lot is judged by variables.`;
    return { state: 'open', ...counts, characteristics: [], words };
  }
  const between = limitsOf(limits);
  const maximumPercent = Number(variables.plan.output['maximumPercent']);
  const characteristics = measuredQuantities.map((quantity) =>
    judgeQuantity(quantity, own.map(readingOf[quantity]), {
      limits: between[quantity],
      maximumPercent,
    }),
  );
  const state = stateOf(characteristics);
  const each = characteristics.map(({ quantity, words }) => `${quantity}: ${words}`).join(' ');
  return { state, ...counts, characteristics, words: `${stateWords[state]} ${each}` };
}
