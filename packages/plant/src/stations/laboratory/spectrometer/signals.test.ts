import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { contentIn, figureUnitNamed } from './content-unit.ts';
import { evaluateResults, type ResultsAsked } from './contents.ts';
import { elementNamed } from './element-words.ts';
import type { ResultMethod } from './result-bodies.ts';
import { method, proposed, readText, rowsOf, tableOf } from './result-trial.ts';

/** Published calibration sets: calculation/reference/calibration-lines, with its SOURCE.md. */
const published = JSON.parse(
  readFileSync(
    new URL('../../../../../calculation/reference/calibration-lines/values.json', import.meta.url),
    'utf8',
  ),
) as {
  cases: {
    id: string;
    inputs: Record<string, number[] & number[][]>;
    expected: { name: string; value: number; tolerance: number }[];
  }[];
};

function caseOf(id: string) {
  const found = published.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return {
    inputs: found.inputs,
    within: (actual: number | undefined, name: string, scale = 1) => {
      const { value = Number.NaN, tolerance = 0 } =
        found.expected.find((one) => one.name === name) ?? {};
      expect(Math.abs((actual ?? Number.NaN) - scale * value)).toBeLessThanOrEqual(
        scale * tolerance,
      );
    },
  };
}

function outcomeOf(text: string, own: ResultMethod, more: Partial<ResultsAsked> = {}) {
  const table = tableOf(readText(text));
  const asked = { table, method: own, metal: 'silver', policy: 'limit' as const };
  return evaluateResults({ ...asked, solutions: ['B1'], ...more });
}

function figuresOf(text: string, own: ResultMethod, more: Partial<ResultsAsked> = {}) {
  const outcome = outcomeOf(text, own, more);
  if (!('figures' in outcome)) throw new Error(JSON.stringify(outcome));
  return outcome.figures;
}

const standardsOf = (contents: readonly number[]) =>
  contents.map((content, index) => ({
    label: `Std ${index + 1}`,
    contents: [{ element: 'Cu', content }],
  }));

describe('signals in a file', () => {
  it.each([
    ['Cu 324.754 (counts/s)', 'Cu'],
    ['Cu 324,754 [cps]', 'Cu'],
    ['Kupfer Intensität (Imp/s)', 'Cu'],
    ['63Cu c/s', 'Cu'],
  ])('are known by %s', (header, element) => {
    expect(figureUnitNamed(header)).toBe('counts/s');
    expect(elementNamed(header)).toBe(element);
  });

  it('are read as they stand, in any layout', () => {
    const across = 'Sample;Cu (counts/s);Pb (counts/s)\nStd 1;12500,4;311\nB1;1,2e4;-3,5';
    expect(rowsOf(readText(across))).toEqual([
      'Std 1 | calibration | Cu 12500.4, Pb 311',
      'B1 | sample | Cu 12000, Pb -3.5',
    ]);
    const each = 'Sample;Element;Intensity (cps)\nB1;Cu;120.5\nB1;Pb;3.1\nB2;Cu;99';
    expect(rowsOf(readText(each))).toEqual([
      'B1 | sample | Cu 120.5, Pb 3.1',
      'B2 | sample | Cu 99, Pb ',
    ]);
    expect(proposed(across).doubts).toEqual([]);
  });

  it('are no contents and have no limit', () => {
    const by = { form: { decimalMark: 'point', groupMark: 'none' }, unit: 'counts/s' } as const;
    const accepted = 'a signal in counts/s, digits with a decimal point';
    for (const text of ['<5', 'n.d.', 'sat.']) {
      expect(contentIn({ kind: 'text', text }, by)).toEqual({ accepted });
    }
    expect(contentIn({ kind: 'text', text: '5 mg/kg' }, by)).toEqual({
      accepted: `${accepted}, as the rest of its column`,
    });
  });
});

describe('contents from the signals of a published calibration set', () => {
  it('are those of DIN 32645, with its half-width and its limits by the same quantiles', () => {
    const { inputs, within } = caseOf('din32645');
    // The contents of the set run to 0.5; they are taken a thousandfold, as mg/kg.
    const contents = (inputs['x'] ?? []).map((one) => 1000 * one);
    const text = [
      'Sample;Cu (cps);Pb (mg/kg)',
      ...(inputs['y'] ?? []).map((signal, index) => `Std ${index + 1};${signal};1`),
      'B1;3500;1',
    ].join('\n');
    const own = {
      ...method,
      calibrationRelativeUncertaintyPercent: 0,
      standards: standardsOf(contents),
    };
    const { findings, calibrations } = figuresOf(text, own);
    const cu = findings.find(({ element }) => element === 'Cu');
    expect(cu?.limitFrom).toBe('line');
    const signals = calibrations.find(({ element }) => element === 'Cu')?.signals;
    const output = signals?.output as unknown as {
      line: { slope: number; intercept: number; residualStandardDeviation: number };
      solutions: { standardUncertaintyMilligramsPerKilogram: number }[];
    };
    within(output.line.slope * 1000, 'slope');
    within(output.line.intercept, 'intercept');
    within(output.line.residualStandardDeviation, 's_y/x');
    const [one] = output.solutions;
    // t(0.995; 8) = 3.355387, as in every table.
    within(
      3.355387331333395 * (one?.standardUncertaintyMilligramsPerKilogram ?? 0),
      'half-width of x at y = 3500, 99 %',
      1000,
    );
  });

  it('are those of Massart with weights from the repeated signals', () => {
    const { inputs, within } = caseOf('massart8-15');
    const series = inputs['y (5 series)'] as number[][];
    const text = [
      'Sample;Cu (cps);Pb (mg/kg)',
      ...series.flatMap((one) => one.map((signal, index) => `Std ${index + 1};${signal};1`)),
      ...series.map(() => 'B1;15;1'),
    ].join('\n');
    const own: ResultMethod = {
      ...method,
      calibrationRelativeUncertaintyPercent: 0,
      limits: [{ element: 'Cu', detectionLimit: 1 }],
      standards: standardsOf(inputs['x'] as number[]),
      signals: { weighting: 'relative', isDriftTakenOff: true },
    };
    const cu = figuresOf(text, own).findings.find(({ element }) => element === 'Cu');
    within(cu?.contentMilligramsPerKilogram ?? undefined, 'x0');
    within(
      2.7764451051977934 * (cu?.standardUncertaintyMilligramsPerKilogram ?? 0),
      '95 % half-width',
    );
    expect(cu).toMatchObject({ replicates: 5, limitFrom: 'method' });
  });
});

/** A line of 100 counts/s at nothing and 20 counts/s per mg/kg; the drift standard falls to 0.9. */
const drifting = [
  'Sample;Cu cps;Ag cps',
  'Std 1;100;1',
  'Std 2;300;1',
  'Std 3;500;1',
  'Blank;98;1',
  'Blank;102;1',
  'Drift;300;1',
  'B1;480;1',
  'Drift;280;1',
].join('\n');
const knownLine = { ...method, driftLimitPercent: 20, standards: standardsOf([0, 10, 20]) };

describe('the drift of signals', () => {
  it('is taken off between the readings of the drift standard, and shown as contents', () => {
    const { findings, drifts, leftOut } = figuresOf(drifting, knownLine);
    expect(findings[0]?.contentMilligramsPerKilogram).toBeCloseTo(20, 9);
    expect(leftOut).toEqual(['Ag']);
    // 200 and 180 counts/s above nothing: 10 and 9 mg/kg, a fall of 10 %.
    expect(drifts).toEqual([
      {
        element: 'Cu',
        meansMilligramsPerKilogram: [expect.closeTo(10, 9), expect.closeTo(9, 9)],
        greatestChangePercent: expect.closeTo(-10, 9),
        isWithinLimit: true,
      },
    ]);
  });

  it('is only watched where the method says so', () => {
    const signals = { weighting: 'equal', isDriftTakenOff: false } as const;
    const { findings } = figuresOf(drifting, { ...knownLine, signals });
    expect(findings[0]?.contentMilligramsPerKilogram).toBeCloseTo(19, 9);
  });

  it('is not taken off on one side of the samples, and that is flagged', () => {
    const before = drifting.split('\n').slice(0, -1).join('\n');
    const { findings } = figuresOf(before, knownLine);
    expect(findings[0]?.contentMilligramsPerKilogram).toBeCloseTo(19, 9);
    expect(findings[0]?.flags).toContain('drift read on one side only');
  });
});

describe('signals without a calibration', () => {
  it('say what is needed', () => {
    expect(outcomeOf(drifting, method)).toEqual({
      unread: [{ element: 'Cu', accepted: 'a list of 2 to 40 standards' }],
    });
    const two = { ...knownLine, standards: standardsOf([0, 10]) };
    expect(outcomeOf(drifting, two)).toMatchObject({ unread: [{ element: 'Cu' }] });
  });

  it('are not asked of an element that the solutions have no signal of', () => {
    const text = 'Sample;Cu mg/kg;Pb cps\nB1;5;\nB1;6;\nStd 1;1;20';
    const { findings } = figuresOf(text, method);
    expect(findings.map(({ element }) => element)).toEqual(['Cu']);
  });
});
