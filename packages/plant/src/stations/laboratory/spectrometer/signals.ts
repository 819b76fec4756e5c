import {
  type ContentsFromSignalsInput,
  type ContentsFromSignalsOutput,
  calculationById,
  runCalculation,
} from '@cupel/calculation';
import { calculate } from '../../../journal/calculated.ts';
import { isSignal } from './content-unit.ts';
import { driftGroups, driftOf } from './drift.ts';
import type { CalibrationShown, Drift, ReadTable, ResultMethod } from './result-bodies.ts';

/** The calculation by which signals become contents. */
const signalCalculation = 'contents-from-signals';

/** Common practice, as for the contents of a file. */
const falseAlarmProbability = 0.05;

/** How signals are taken where nobody chose otherwise. */
export const usualSignals: NonNullable<ResultMethod['signals']> = {
  weighting: 'equal',
  isDriftTakenOff: true,
};

interface SignalsAsked {
  readonly table: ReadTable;
  readonly method: ResultMethod;
  readonly solutions: readonly string[];
  readonly references: readonly string[];
}

/** A row of the table with a signal, and its place in the run, counted from 1. */
interface SignalRow {
  readonly order: number;
  readonly label: string;
  readonly role: ReadTable['rows'][number]['role'];
  readonly signal: number;
}

const signalIn = (content: string): number | null => (content === '' ? null : Number(content));

function signalRows(table: ReadTable, at: number): readonly SignalRow[] {
  return table.rows.flatMap(({ label, role, contents }, index) => {
    const signal = signalIn(contents[at] ?? '');
    return signal === null ? [] : [{ order: index + 1, label, role, signal }];
  });
}

function standardsOf(
  rows: readonly SignalRow[],
  { standards }: ResultMethod,
  element: string,
): ContentsFromSignalsInput['standards'] {
  return standards.flatMap(({ label, contents }) => {
    const known = contents.find((one) => one.element === element)?.content;
    const signals = rows
      .filter((row) => row.role === 'calibration' && row.label === label)
      .map(({ signal }) => signal);
    return known === undefined || signals.length === 0
      ? []
      : [{ label, contentMilligramsPerKilogram: known, signals }];
  });
}

/** The drift standard by the places at which it stood; nothing where it does not stand around all solutions. */
function bracketOf(
  table: ReadTable,
  at: number,
  solutions: ContentsFromSignalsInput['solutions'],
): ContentsFromSignalsInput['drift'] {
  const drift = driftGroups(table, signalIn, at).map((group) => ({
    order: Math.round(group.reduce((sum, { order }) => sum + order, 0) / group.length),
    signals: group.map(({ figure }) => figure),
  }));
  const [first, last] = [drift[0], drift.at(-1)];
  const isBracketed = solutions.every(({ readings }) =>
    readings.every(({ order }) => first && last && first.order < order && order < last.order),
  );
  return isBracketed && drift.length > 1 ? drift : [];
}

function solutionsOf(
  { solutions, references }: SignalsAsked,
  rows: readonly SignalRow[],
): ContentsFromSignalsInput['solutions'] {
  return [...solutions, ...references].flatMap((label) => {
    const own = rows.filter((row) => row.role === 'sample' && row.label === label);
    const readings = own.map(({ order, signal }) => ({ order, signal }));
    // The solutions of a melt are alike; a reference material is alike itself only.
    const kind = solutions.includes(label) ? 'melt' : label;
    return readings.length === 0 ? [] : [{ label, kind, readings }];
  });
}

/** What the signals of one element say, or what is missing for a content. */
export type SignalsEvaluated =
  | {
      readonly element: string;
      readonly input: ContentsFromSignalsInput;
      readonly output: ContentsFromSignalsOutput;
      readonly shown: CalibrationShown;
      readonly drift: Drift | undefined;
    }
  | { readonly element: string; readonly accepted: string };

function evaluateElement(asked: SignalsAsked, at: number): SignalsEvaluated {
  const { table, method } = asked;
  const { element } = table.elements[at] ?? { element: '' };
  const rows = signalRows(table, at);
  const { weighting, isDriftTakenOff } = method.signals ?? usualSignals;
  const solutions = solutionsOf(asked, rows);
  const input: ContentsFromSignalsInput = {
    element,
    weighting,
    standards: standardsOf(rows, method, element),
    standardRelativeUncertaintyPercent: method.calibrationRelativeUncertaintyPercent,
    blankSignals: rows.filter(({ role }) => role === 'blank').map(({ signal }) => signal),
    drift: isDriftTakenOff ? bracketOf(table, at, solutions) : [],
    solutions,
    falseAlarmProbability,
  };
  const result = runCalculation(calculationById(signalCalculation), input);
  if (result.outcome === 'refused') {
    const [problem] = result.problems;
    const { field, value, accepted } = problem ?? { field: '', value: '', accepted: '' };
    const found = typeof value === 'object' ? '' : `; ${field} is ${String(value)}`;
    return { element, accepted: `${accepted}${found}` };
  }
  const { calculated, output } = calculate<ContentsFromSignalsOutput>(signalCalculation, input);
  const shown = { element, line: null, signals: calculated, words: output.words };
  return { element, input, output, shown, drift: driftOfSignals(asked, at, output) };
}

/** How far the drift standard moved, as contents that its signals stand for. */
function driftOfSignals(
  { table, method }: SignalsAsked,
  at: number,
  { line }: ContentsFromSignalsOutput,
): Drift | undefined {
  const { element } = table.elements[at] ?? { element: '' };
  const means = driftGroups(table, signalIn, at).map((group) => {
    const mean = group.reduce((sum, { figure }) => sum + figure, 0) / group.length;
    return (mean - line.intercept) / line.slope;
  });
  return means.length === 0 ? undefined : driftOf(element, means, method);
}

/** What the signals of a table say of each element that it has signals of, but for the metal itself. */
export function evaluateSignals(
  asked: SignalsAsked,
  metal: string | undefined,
): readonly SignalsEvaluated[] {
  return asked.table.elements.flatMap(({ element, unit }, at) => {
    const isRead = solutionsOf(asked, signalRows(asked.table, at)).length > 0;
    return isSignal(unit) && element !== metal && isRead ? [evaluateElement(asked, at)] : [];
  });
}
