import { readFileSync } from 'node:fs';
import { finenessByDifference } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { correlationOf } from './calibration-correlation.ts';
import { evaluateResults, type ResultsAsked } from './contents.ts';
import type { Finding, ResultFileFigures } from './result-bodies.ts';
import { method, readText, tableOf } from './result-trial.ts';

/** Published values: calculation/reference/nist-strd-linear and iso-15093, each with its SOURCE.md. */
function reference<Values>(path: string): Values {
  const url = new URL(`../../../../../calculation/reference/${path}`, import.meta.url);
  return JSON.parse(readFileSync(url, 'utf8')) as Values;
}

function evaluated(text: string, more: Partial<ResultsAsked> = {}): ResultFileFigures {
  const table = tableOf(readText(text));
  const asked = { table, method, metal: 'silver', policy: 'limit' as const, solutions: ['B1'] };
  const outcome = evaluateResults({ ...asked, ...more });
  if (!('figures' in outcome)) throw new Error(JSON.stringify(outcome));
  return outcome.figures;
}

const of = (figures: ResultFileFigures, element: string, solution = 'B1'): Finding | undefined =>
  figures.findings.find((one) => one.element === element && one.solution === solution);

describe('the content of an element', () => {
  it('is the mean of its replicates, with their spread and the uncertainty of the calibration', () => {
    const text = 'Sample;Cu;Fe;LOD\nB1;100;10;\nB1;104;10;\nB2;99;12;\nB2;101;12;\nLOD;1;1;';
    const figures = evaluated(text, { solutions: ['B1', 'B2'] });
    // By hand: pooled s² = (8 + 2)/2 = 5; u² = 5/2 + (0.02 · 102)² = 2.5 + 4.1616.
    expect(of(figures, 'Cu')).toMatchObject({
      replicates: 2,
      contentMilligramsPerKilogram: 102,
      detectionLimitMilligramsPerKilogram: 1,
      limitFrom: 'file',
    });
    expect(of(figures, 'Cu')?.standardUncertaintyMilligramsPerKilogram).toBeCloseTo(
      Math.sqrt(6.6616),
      12,
    );
    // 102 of 112 mg/kg.
    expect(of(figures, 'Cu')?.sharePercent).toBeCloseTo(91.0714285714, 9);
  });

  it('is in mg/kg whatever the unit of the file', () => {
    // 0.0012 % and 0.012 ‰ are 12 mg/kg; 12000 ppb too.
    for (const [unit, value] of [
      ['%', '0.0012'],
      ['‰', '0.012'],
      ['ppb', '12000'],
      ['g/t', '12'],
    ]) {
      const figures = evaluated(`Sample;Cu (${unit});Fe (${unit})\nB1;${value};${value}`);
      expect(of(figures, 'Cu')?.contentMilligramsPerKilogram).toBe(12);
    }
  });

  it('below its limit is not found, and counts by the policy', () => {
    const text = 'Sample;Cu;Fe\nB1;<0.5;3\nB1;<0.4;3';
    const counted = (policy: 'zero' | 'half' | 'limit') =>
      of(evaluated(text, { policy }), 'Cu')?.countedMilligramsPerKilogram;
    expect([counted('zero'), counted('half'), counted('limit')]).toEqual([0, 0.25, 0.5]);
    expect(of(evaluated(text), 'Cu')).toMatchObject({
      contentMilligramsPerKilogram: null,
      meanMilligramsPerKilogram: null,
      detectionLimitMilligramsPerKilogram: 0.5,
    });
  });

  it('found in some replicates only counts the others at their limit, and is flagged', () => {
    const found = of(evaluated('Sample;Cu;Fe\nB1;<0.5;3\nB1;0.9;3'), 'Cu');
    expect(found?.contentMilligramsPerKilogram).toBeCloseTo(0.7, 12);
    expect(found?.flags).toContain('some replicates below the limit');
  });

  it('of the metal itself is left out', () => {
    const figures = evaluated('Sample;Cu;Ag\nB1;10;999000');
    expect(figures.leftOut).toEqual(['Ag']);
    expect(figures.findings.map(({ element }) => element)).toEqual(['Cu']);
  });

  it('takes its detection limit from the method, then from blanks, and says where none is known', () => {
    const text = 'Sample;Cu;Fe\nBlank;0.1;0.2\nBlank;0.3;0.1\nBlank;0.2;0.3\nB1;n.d.;5';
    const limits = [{ element: 'Cu', detectionLimit: 0.8 }];
    const known = evaluated(text, { method: { ...method, limits } });
    expect(of(known, 'Cu')).toMatchObject({
      limitFrom: 'method',
      detectionLimitMilligramsPerKilogram: 0.8,
    });
    // By hand: s = 0.1 of three blanks, one reading: s₀ = 0.1·√(1 + 1/3); twice t(0.95; 2) = 2.919986.
    const blanks = of(evaluated(text), 'Cu');
    expect(blanks?.limitFrom).toBe('blanks');
    expect(blanks?.detectionLimitMilligramsPerKilogram).toBeCloseTo(
      2 * 2.919985580355516 * 0.1 * Math.sqrt(4 / 3),
      9,
    );
    const table = tableOf(readText('Sample;Cu;Fe\nB1;n.d.;5'));
    const asked = { table, method, metal: 'gold', policy: 'half' as const, solutions: ['B1'] };
    expect(evaluateResults(asked)).toMatchObject({ missing: [{ solution: 'B1', element: 'Cu' }] });
    expect(of(evaluated('Sample;Cu;Fe\nB1;4;5'), 'Cu')?.flags).toEqual([
      'read once: no spread',
      'no detection limit known',
    ]);
  });
});

describe('the example of gold by difference after ISO 15093', () => {
  interface Case {
    readonly inputs: {
      readonly impurities: Readonly<Record<string, number>>;
      readonly 'below detection limit': Readonly<Record<string, number>>;
    };
    readonly expected: readonly { readonly value: number; readonly tolerance: number }[];
  }
  const { cases } = reference<{ readonly cases: readonly Case[] }>('iso-15093/values.json');
  const [example] = cases;
  if (!example) throw new Error('the reference has no case');
  const found = Object.entries(example.inputs.impurities);
  const below = Object.entries(example.inputs['below detection limit']);
  // The example is in ‰, as the file is here.
  const text = [
    ['Sample', ...[...found, ...below].map(([element]) => `${element} (‰)`)].join(';'),
    ['B1', ...found.map(([, value]) => value), ...below.map(([, value]) => `<${value}`)].join(';'),
  ].join('\n');

  it.each([
    ['zero', 1],
    ['limit', 2],
  ] as const)('comes out of a file with the policy %s', (policy, place) => {
    const { findings } = evaluated(text, { metal: 'gold', policy });
    const { finenessPerMille } = finenessByDifference({
      metal: 'gold',
      policy,
      impurities: findings.map((one) => ({
        element: one.element,
        contentMilligramsPerKilogram: one.contentMilligramsPerKilogram,
        standardUncertaintyMilligramsPerKilogram: one.standardUncertaintyMilligramsPerKilogram,
        detectionLimitMilligramsPerKilogram: one.detectionLimitMilligramsPerKilogram,
      })),
    });
    const right = example.expected[place];
    expect(Math.abs(finenessPerMille - (right?.value ?? 0))).toBeLessThan(right?.tolerance ?? 0);
    const sum = findings.reduce((total, one) => total + one.countedMilligramsPerKilogram, 0);
    expect(1000 - sum / 1000).toBeCloseTo(finenessPerMille, 9);
  });
});

describe('the calibration that a file shows', () => {
  interface Norris {
    readonly rows: readonly (readonly [number, number])[];
    readonly certified: {
      readonly parameters: readonly { readonly estimate: string }[];
      readonly r_squared: string;
    };
  }
  const { Norris: norris } = reference<{ readonly Norris: Norris }>('nist-strd-linear/values.json');

  it('has the certified line of the NIST data set Norris, read from standards in a file', () => {
    const standards = norris.rows.map(([, known], index) => ({
      label: `Std ${index + 1}`,
      contents: [{ element: 'Cu', content: known }],
    }));
    const text = [
      'Sample;Cu;Fe',
      ...norris.rows.map(([found], index) => `Std ${index + 1};${found};1`),
      'B1;500;10',
    ].join('\n');
    const { calibrations } = evaluated(text, { method: { ...method, standards } });
    expect(calibrations.map(({ element }) => element)).toEqual(['Cu']);
    const line = calibrations[0]?.line;
    if (!line) throw new Error('no line was laid');
    const output = line.output as { coefficients: { estimate: number }[]; points: unknown[] };
    const [intercept, slope] = norris.certified.parameters.map(({ estimate }) => Number(estimate));
    expect(output.coefficients[0]?.estimate).toBeCloseTo(intercept ?? 0, 9);
    expect(output.coefficients[1]?.estimate).toBeCloseTo(slope ?? 0, 12);
    expect((correlationOf(line) ?? 0) ** 2).toBeCloseTo(Number(norris.certified.r_squared), 12);
    expect(output.points).toHaveLength(36);
  });

  const standards = [0, 10, 20].map((content, index) => ({
    label: `Std ${index}`,
    contents: [{ element: 'Cu', content }],
  }));

  it('flags contents above the greatest standard, which somebody must answer for', () => {
    const text = 'Sample;Cu;Fe\nStd 0;0.1;1\nStd 1;10;1\nStd 2;20;1\nB1;25;1\nB1;25;1';
    const figures = evaluated(text, { method: { ...method, standards } });
    expect(of(figures, 'Cu')?.flags).toContain('above the calibration standards');
    expect(figures.doubts).toEqual(['Contents lie above the calibration standards: Cu.']);
  });

  it('says why there is none', () => {
    const few = evaluated('Sample;Cu;Fe\nStd 0;0.1;1\nStd 1;10;1\nB1;5;1', {
      method: { ...method, standards },
    });
    expect(few.calibrations).toEqual([
      { element: 'Cu', line: null, words: '2 of 3 readings of standards that a line needs.' },
    ]);
    const same = evaluated('Sample;Cu;Fe\nStd 1;9;1\nStd 1;10;1\nStd 1;11;1\nB1;5;1', {
      method: { ...method, standards },
    });
    expect(same.calibrations[0]).toMatchObject({ line: null });
  });
});

describe('the drift that a file shows', () => {
  it('is the step of the drift standard from before the samples to after them', () => {
    const text =
      'Sample;Cu;Fe\nDrift;10;5\nDrift;10.2;5\nB1;12;3\nDrift;10.6;5.1\nB2;12;3\nDrift;9.9;5.1';
    const { drifts, doubts } = evaluated(text);
    // 10.1 → 10.6 is +4.95 %; 10.6 → 9.9 is −6.60 %, which is beyond 5 %.
    expect(drifts[0]).toMatchObject({ element: 'Cu', isWithinLimit: false });
    expect(drifts[0]?.greatestChangePercent).toBeCloseTo(-6.60377358, 7);
    expect(drifts[1]).toMatchObject({ element: 'Fe', isWithinLimit: true });
    expect(doubts).toEqual(['The drift standard moved by −6.6 % in Cu.']);
  });

  it('is unknown where the standard was read on one side only', () => {
    const figures = evaluated('Sample;Cu;Fe\nDrift;10;5\nB1;12;3');
    expect(figures.drifts[0]).toMatchObject({ greatestChangePercent: null, isWithinLimit: null });
    expect(of(figures, 'Cu')?.flags).toContain('drift read on one side only');
    expect(evaluated('Sample;Cu;Fe\nB1;12;3').drifts).toEqual([]);
  });
});
