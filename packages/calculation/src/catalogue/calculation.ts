import type { z } from 'zod';

/** The topics of the catalogue, in the order in which they are shown. */
export const topics = [
  'sampling',
  'assay',
  'uncertainty',
  'conformity',
  'mass',
  'weights',
  'counting',
  'account',
  'control',
  'physical',
  'dies',
  'exchange',
] as const;

export type Topic = (typeof topics)[number];

/**
 * One series of points of a chart; all arrays have the same length. `steps` holds each value until
 * the next x, as survival and cumulative counts do. A series of its own marks what stands out.
 */
export interface ChartSeries {
  readonly label: string;
  readonly kind: 'line' | 'steps' | 'points' | 'bars';
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Ends of an interval about each y: whiskers on points and bars, a band about lines and steps. */
  readonly lower?: readonly number[];
  readonly upper?: readonly number[];
  /** Drawn as a warning: points beyond their limits. */
  readonly standsOut?: boolean;
}

/** A chart as data; the screen, the printed page and the command line draw it in their own way. */
export interface Chart {
  readonly kind: 'chart';
  readonly title: string;
  readonly xTitle: string;
  readonly yTitle: string;
  readonly series: readonly ChartSeries[];
  /** Vertical marks, as limits are. */
  readonly marks?: readonly { readonly x: number; readonly label: string }[];
  /** Horizontal marks: centre line, control limits, an acceptance limit. */
  readonly levels?: readonly { readonly y: number; readonly label: string }[];
  /** Words in place of numbers under the x axis, for bars of named things. */
  readonly xNames?: readonly { readonly x: number; readonly name: string }[];
}

/** A limit rule as data: a value with its uncertainty beside one or two limits. */
export interface LimitRule {
  readonly kind: 'limit-rule';
  readonly title: string;
  readonly unit: string;
  readonly value: number;
  readonly expandedUncertainty?: number;
  readonly lowerLimit?: number;
  readonly upperLimit?: number;
  /** Width of the guard band on the inner side of each limit, in the unit of the value; 0 for none. */
  readonly guardBand?: number;
  readonly words: string;
}

/**
 * A calculation as the catalogue offers it: everything that the command line, the HTTP route,
 * the workbench and the replay of a certificate need, in one value.
 */
export interface Calculation<Input = unknown, Output = unknown> {
  /** Kebab-case name, for ever: records of results refer to it. */
  readonly id: string;
  /** Raised when the same input would give another output. */
  readonly version: number;
  readonly topic: Topic;
  readonly title: string;
  /** One or two sentences in the assayer's words. */
  readonly purpose: string;
  /** Author or body, number, year, clause or table; several joined by semicolons; common practice marked as such. */
  readonly source: string;
  /** Cautions where the work behind the readings can hurt someone. */
  readonly cautions?: readonly string[];
  readonly input: z.ZodType<Input>;
  readonly output: z.ZodType<Output>;
  /** A worked example; its output is a test. */
  readonly example: Input;
  readonly compute: (input: Input) => Output;
  /** The same work where it can last: yields the part done, 0 to 1, so that it can be shown and stopped. */
  readonly steps?: (input: Input) => Generator<number, Output>;
  readonly draw?: (input: Input, output: Output) => readonly (Chart | LimitRule)[];
}

/** Ties the types of one calculation together and freezes it. */
export function defineCalculation<Input, Output>(
  calculation: Calculation<Input, Output>,
): Calculation<Input, Output> {
  return Object.freeze(calculation);
}
