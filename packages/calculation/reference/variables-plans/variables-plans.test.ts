import { describe, expect, it } from 'vitest';
import { fractionAt, variablesAcceptance } from '../../src/sampling/variables-acceptance.ts';
import { acceptabilityConstant, estimatedFraction } from '../../src/sampling/variables-estimate.ts';
import { tabulatedPlan, usedLimit, variablesLetter } from '../../src/sampling/variables-lookup.ts';
import { variablesPlan } from '../../src/sampling/variables-plan.ts';
import { variablesPlanSearch } from '../../src/sampling/variables-plan-search.ts';
import { variablesLevels } from '../../src/sampling/variables-tables.ts';
import { variablesVerdict } from '../../src/sampling/variables-verdict.ts';
import examples from './examples.json' with { type: 'json' };
import values from './values.json' with { type: 'json' };

const { milStd414: mil, z19, groups } = values;
const military = 'MIL-STD-414' as const;
const civil = 'ANSI/ASQ Z1.9' as const;

/** Own cells and arrows of a table by letter, the arrows followed to the first plan below. */
function resolved(
  rows: readonly { letter: string; n: number; cells: readonly (number | string)[] }[],
  at: number,
  column: number,
): { letter: string; n: number; cell: number } {
  for (let index = at; index < rows.length; index += 1) {
    const row = rows[index];
    const cell = row?.cells[column];
    if (row && typeof cell === 'number') return { letter: row.letter, n: row.n, cell };
  }
  throw new Error('an arrow leads out of the table');
}

describe('tables of MIL-STD-414', () => {
  it('give every letter of Table A-2 at both ends of each row', () => {
    let compared = 0;
    for (const row of mil.codeLetters.rows) {
      for (const level of variablesLevels[military]) {
        expect(variablesLetter(row.lotMin, military, level)).toBe(row[level]);
        expect(variablesLetter(row.lotMax ?? 1e9, military, level)).toBe(row[level]);
        compared += 1;
      }
    }
    expect(compared).toBe(85);
  });

  it('convert every class of limits', () => {
    for (const row of mil.aqlConversion.rows) {
      expect(usedLimit(row.from ?? 0.001, military)).toBe(Number(row.use));
      expect(usedLimit(row.to, military)).toBe(Number(row.use));
    }
  });

  it.each(['normal', 'tightened'] as const)('give every plan under %s inspection', (severity) => {
    const columns = mil.tableB1.aqlColumnsNormal.map(Number);
    let compared = 0;
    for (const [at, row] of mil.tableB1.rows.entries()) {
      for (const [column, limitPercent] of columns.entries()) {
        const used = severity === 'normal' ? column : column - 1;
        const options = { standard: military, letter: row.letter, limitPercent, severity };
        if (used < 0) {
          expect(() => tabulatedPlan({ ...options, method: 's' })).toThrow('tightened');
          continue;
        }
        const k = resolved(mil.tableB1.rows, at, used);
        const m = resolved(mil.tableB3.rows, at, used);
        expect(tabulatedPlan({ ...options, method: 's' })).toEqual({
          letter: k.letter,
          sampleSizePieces: k.n,
          acceptabilityConstant: k.cell,
          maximumPercent: m.cell,
        });
        compared += 1;
      }
    }
    expect(compared).toBe(severity === 'normal' ? 224 : 208);
  });

  it('hold M and k that ask for the same, within their rounding', () => {
    // Three cells of M, which is from memory, are off by up to one unit of their last digit.
    const known = new Set(['D 6.5', 'G 0.65', 'L 10']);
    for (const [at, row] of mil.tableB1.rows.entries()) {
      for (const [column, k] of row.cells.entries()) {
        const m = mil.tableB3.rows[at]?.cells[column];
        if (typeof k !== 'number' || typeof m !== 'number') continue;
        const decimals = (value: number) => String(value).split('.')[1]?.length ?? 0;
        // k is printed with three significant digits from 0.1 on, two decimals from 1 on.
        const kHalf = k < 1 ? 0.0005 : 0.005;
        const name = `${row.letter} ${Number(mil.tableB1.aqlColumnsNormal[column])}`;
        const mUnit = m < 1 ? 0.001 : 10 ** -Math.max(2, decimals(m));
        const slack = known.has(name) ? mUnit : mUnit / 2;
        const [least, most] = [
          100 * estimatedFraction(k + kHalf, row.n, 's'),
          100 * estimatedFraction(k - kHalf, row.n, 's'),
        ];
        expect(m + slack, name).toBeGreaterThanOrEqual(least - 1e-9);
        expect(m - slack, name).toBeLessThanOrEqual(most + 1e-9);
      }
    }
  });
});

describe('tables of ANSI/ASQ Z1.9', () => {
  it('give every letter at both ends of each row', () => {
    let compared = 0;
    for (const row of z19.codeLetters.rows) {
      for (const level of variablesLevels[civil]) {
        expect(variablesLetter(row.lotMin, civil, level)).toBe(row[level]);
        expect(variablesLetter(row.lotMax ?? 1e9, civil, level)).toBe(row[level]);
        compared += 1;
      }
    }
    expect(compared).toBe(80);
  });

  const limits = [0.1, 0.15, 0.25, 0.4, 0.65, 1, 1.5, 2.5, 4, 6.5, 10];

  it.each(['normal', 'tightened'] as const)('give every s and sigma plan, %s', (severity) => {
    const rows = (key: 'k' | 'M') =>
      z19.sUnknownNormal.rows.map((row) => ({ ...row, cells: row[key] }));
    for (const [at, row] of z19.sUnknownNormal.rows.entries()) {
      for (const [index, limitPercent] of limits.entries()) {
        const column = severity === 'normal' ? index + 1 : index;
        const options = { standard: civil, letter: row.letter, limitPercent, severity };
        const k = resolved(rows('k'), at, column);
        expect(tabulatedPlan({ ...options, method: 's' })).toEqual({
          letter: k.letter,
          sampleSizePieces: k.n,
          acceptabilityConstant: k.cell,
          maximumPercent: resolved(rows('M'), at, column).cell,
        });
        const [n, m, constant] = z19.sigmaKnownNormal.rows[at]?.plans[column] ?? [];
        const sigma = tabulatedPlan({ ...options, method: 'sigma' });
        expect([sigma.sampleSizePieces, sigma.maximumPercent, sigma.acceptabilityConstant]).toEqual(
          [n, m, constant],
        );
      }
    }
  });

  it('give every reduced plan', () => {
    for (const [at, row] of z19.sUnknownReduced.rows.entries()) {
      for (const [index, limitPercent] of limits.entries()) {
        const options = { standard: civil, letter: row.letter, limitPercent };
        const reduced = { ...options, severity: 'reduced' as const };
        const s = tabulatedPlan({ ...reduced, method: 's' });
        expect([s.sampleSizePieces, s.maximumPercent]).toEqual(row.plans[index]);
        const sigma = tabulatedPlan({ ...reduced, method: 'sigma' });
        expect([sigma.sampleSizePieces, sigma.maximumPercent, sigma.acceptabilityConstant]).toEqual(
          z19.sigmaKnownReduced.rows[at]?.plans[index],
        );
      }
    }
  });
});

describe('estimates', () => {
  const { Q, rows, memory } = mil.estimateCheckPoints;
  it.each(rows)('Table B-5, n = $n', ({ n, phatPercent }) => {
    for (const [index, percent] of phatPercent.entries()) {
      const found = 100 * estimatedFraction(Q[index] ?? Number.NaN, n, 's');
      expect(Math.abs(found - percent)).toBeLessThanOrEqual(0.0005 + 1e-9);
    }
  });

  it('Table B-5 as remembered in the examples', () => {
    for (const { n, Q: index, phatPercent } of memory.rows) {
      const found = 100 * estimatedFraction(index, n, 's');
      expect(Math.abs(found - phatPercent)).toBeLessThanOrEqual(0.005);
    }
  });

  it.each(examples.maximum)('M from k, $id', ({ method, n, k, maximumPercent, tolerance }) => {
    const found = 100 * estimatedFraction(k, n, method as 's' | 'sigma');
    expect(Math.abs(found - maximumPercent)).toBeLessThan(tolerance);
    expect(acceptabilityConstant(found / 100, n, method as 's' | 'sigma')).toBeCloseTo(k, 9);
  });
});

describe('worked examples', () => {
  it.each(examples.plans)('plan of $id', (one) => {
    const found = variablesPlan({
      lotSizePieces: one.lot,
      table: {
        standard: one.standard,
        inspectionLevel: one.level,
        severity: one.severity,
      } as Parameters<typeof variablesPlan>[0]['table'],
      method: one.method as 's' | 'sigma',
      acceptanceQualityLimitPercent: one.limit,
    });
    expect([found.codeLetter, found.sampleSizePieces]).toEqual([one.letter, one.n]);
    if (one.k !== undefined) expect(found.acceptabilityConstant).toBeCloseTo(one.k, 2);
    if (one.M !== undefined) expect(found.maximumPercent).toBe(one.M);
  });

  it.each(examples.verdicts)('$id: $title', (one) => {
    const found = variablesVerdict({
      sample: one.measurements
        ? { given: 'measurements', measurements: one.measurements }
        : {
            given: 'summary',
            ...(one.summary ?? { sampleSizePieces: 3, mean: 0, standardDeviation: 1 }),
          },
      ...(one.sigma === undefined ? {} : { knownStandardDeviation: one.sigma }),
      ...(one.lowerLimit === undefined ? {} : { lowerLimit: one.lowerLimit }),
      ...(one.upperLimit === undefined ? {} : { upperLimit: one.upperLimit }),
      criterion:
        one.k === undefined
          ? { form: 'M', maximumPercent: one.M ?? 0 }
          : { form: 'k', acceptabilityConstant: one.k },
      normality: 'shown otherwise',
    });
    for (const [field, expected] of Object.entries(one.expected)) {
      const value = found[field as keyof typeof found];
      if (typeof expected === 'string') expect(value, field).toBe(expected);
      else {
        const [target = 0, tolerance = 1e-9] = Array.isArray(expected) ? expected : [expected];
        expect(Math.abs(Number(value) - target), field).toBeLessThanOrEqual(tolerance);
      }
    }
  });
});

describe('operating characteristics', () => {
  const curve = (n: number, k: number, method: 's' | 'sigma' = 's') =>
    variablesAcceptance({ sampleSizePieces: n, acceptabilityConstant: k, method });

  it('published for n = 35, k = 1.89', () => {
    const accept = curve(35, 1.89);
    for (const [fraction = 0, expected = 0] of groups['OC-VAR-35-S'].points) {
      expect(Math.abs(accept(fraction) / expected - 1)).toBeLessThan(1e-4);
    }
    // The standard quoted there lists 10.95 % for 1 %.
    const plan = { sampleSizePieces: 35, acceptabilityConstant: 1.89, method: 's' as const };
    expect(Math.abs(100 * fractionAt(plan, 0.01) - 10.95)).toBeLessThan(0.005);
  });

  it('computed for n = 30, k = 1.86 and, sigma known, n = 14, k = 1.205', () => {
    for (const [fraction = 0, expected = 0] of groups['OC-VAR-30-S'].points) {
      expect(Math.abs(curve(30, 1.86)(fraction) - expected)).toBeLessThan(1e-4);
    }
    for (const [fraction = 0, expected = 0] of groups['OC-VAR-14-SIGMA'].points) {
      expect(Math.abs(curve(14, 1.205, 'sigma')(fraction) - expected)).toBeLessThan(1e-6);
    }
  });

  it('of the designed plan n = 40, k = 1.9', () => {
    const { n, k, points, tolerance } = examples.designed;
    for (const [fraction = 0, expected = 0] of points) {
      expect(Math.abs(curve(n, k)(fraction) - expected)).toBeLessThanOrEqual(tolerance);
    }
  });

  it.each(groups['VAR-LTPD'].points)(
    'accepted with 10 %%: n = %d, k = %d',
    (n, k, read, computed) => {
      const plan = {
        sampleSizePieces: n ?? 0,
        acceptabilityConstant: k ?? 0,
        method: 's' as const,
      };
      const found = 100 * fractionAt(plan, 0.1);
      expect(Math.abs(found - (computed ?? 0))).toBeLessThanOrEqual(0.005 + 1e-9);
      // The source misprints this one point (3.9 for about 3.0); see SOURCE.md.
      if (n === 200 && k === 2.04) return;
      expect(Math.abs(found / (read ?? 0) - 1)).toBeLessThan(0.015);
    },
  );

  it('designs of the published manual', () => {
    const asked = { goodPercent: 5, producerRisk: 0.05, badPercent: 15, consumerRisk: 0.075 };
    const { sigmaKnown, sigmaUnknown } = groups['DESIGN-2'].result;
    const sigma = variablesPlanSearch({ ...asked, method: 'sigma' });
    const s = variablesPlanSearch({ ...asked, method: 's' });
    expect([sigma.sampleSizePieces, s.sampleSizePieces]).toEqual([sigmaKnown.n, sigmaUnknown.n]);
    expect(Math.abs(sigma.acceptabilityConstant - sigmaKnown.k)).toBeLessThan(1e-5);
    // The printed 1.326562 comes from a root that was stopped early: it accepts 5 % with 0.949984.
    // The exact constant is 1.3265346, found by two programs (reference/generated/variables).
    const accept = curve(sigmaUnknown.n, sigmaUnknown.k);
    expect(accept(0.05)).toBeCloseTo(0.949984, 6);
    expect(Math.abs(s.acceptabilityConstant - 1.3265346)).toBeLessThan(5e-8);
    expect(curve(s.sampleSizePieces, s.acceptabilityConstant)(0.05)).toBeCloseTo(0.95, 12);
  });
});
