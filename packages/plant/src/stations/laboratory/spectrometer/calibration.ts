import { type CalibrationLineOutput, calculationById, runCalculation } from '@cupel/calculation';
import { calculate } from '../../../journal/calculated.ts';
import { keptContent } from './content-unit.ts';
import type { CalibrationShown, ReadTable, ResultMethod } from './result-bodies.ts';

const calculation = 'calibration-line';
const confidencePercent = 95;
/** A line through two points says nothing of how well it fits. */
const fewestPoints = 3;

interface Point {
  readonly content: number;
  readonly signal: number;
}

/** What was found in the standards beside what they are known to hold. */
function pointsOf(table: ReadTable, method: ResultMethod, at: number): readonly Point[] {
  const { element, unit } = table.elements[at] ?? { element: '', unit: 'mg/kg' as const };
  return table.rows.flatMap(({ role, label, contents }) => {
    if (role !== 'calibration') return [];
    const standard = method.standards.find((one) => one.label === label);
    const known = standard?.contents.find((one) => one.element === element)?.content;
    const found = keptContent(contents[at] ?? '', unit)?.found ?? null;
    return known === undefined || found === null ? [] : [{ content: known, signal: found }];
  });
}

/** The greatest content of an element among the standards that were read; nothing without one. */
export function greatestStandard(
  table: ReadTable,
  method: ResultMethod,
  at: number,
): number | undefined {
  const contents = pointsOf(table, method, at).map(({ content }) => content);
  return contents.length === 0 ? undefined : Math.max(...contents);
}

/** The calibration of every element whose standards the file has, as a line of found over known contents. */
export function calibrationsOf(
  table: ReadTable,
  method: ResultMethod,
): readonly CalibrationShown[] {
  return table.elements.flatMap(({ element }, at): readonly CalibrationShown[] => {
    const points = pointsOf(table, method, at);
    if (points.length === 0) return [];
    if (points.length < fewestPoints) {
      const words = `${points.length} of ${fewestPoints} readings of standards that a line needs.`;
      return [{ element, line: null, words }];
    }
    const input = {
      model: 'straight line',
      weighting: 'equal',
      points: points.map((point) => ({ ...point })),
      readings: [],
      confidencePercent,
    };
    const result = runCalculation(calculationById(calculation), input);
    if (result.outcome === 'refused') {
      const [problem] = result.problems;
      const words = `No line: ${problem?.field} is ${String(problem?.value)}; accepted is ${problem?.accepted}.`;
      return [{ element, line: null, words }];
    }
    const { calculated, output } = calculate<CalibrationLineOutput>(calculation, input);
    return [{ element, line: calculated, words: output.words }];
  });
}
