import { describe, expect, it } from 'vitest';
import { poissonAcceptance } from '../../src/sampling/acceptance-probability.ts';
import { acceptanceQualityLimits } from '../../src/sampling/attribute-tables.ts';
import { limitNumber } from '../../src/sampling/limit-number.ts';
import { limitNumberRows } from '../../src/sampling/limit-number-table.ts';
import { reducedInspectionLimit } from '../../src/sampling/reduced-inspection-limit.ts';
import source from './limit-numbers.json' with { type: 'json' };

describe('Table VIII', () => {
  it.each(source.rows)('row from $unitsMin units', (row) => {
    const limits = row.limit as unknown as Record<string, number>;
    const columns = Object.keys(limits).map(Number);
    const last = row.unitsMax ?? 1_000_000;
    for (const units of [row.unitsMin, last]) {
      for (const [text, limit] of Object.entries(limits)) {
        expect(limitNumber(units, Number(text))).toEqual({ found: 'limit', limitNumber: limit });
      }
      for (const limit of acceptanceQualityLimits) {
        if (columns.includes(limit)) continue;
        const found = limit < Math.min(...columns) ? 'too few units' : 'not tabulated';
        expect(limitNumber(units, limit).found).toBe(found);
      }
    }
  });

  it('has no row below 20 units, and rows that join without a gap', () => {
    expect(limitNumber(19, 10)).toEqual({ found: 'too few units', unitsNeeded: 20 });
    for (const [index, row] of source.rows.entries()) {
      expect(limitNumberRows[index]?.unitsMinimum).toBe(row.unitsMin);
      const next = source.rows[index + 1];
      if (next) expect(row.unitsMax).toBe(next.unitsMin - 1);
    }
  });

  it('names the units that suffice for a column', () => {
    // 0.010 begins with the row of 20000, 0.65 with the row of 320.
    expect(limitNumber(100, 0.01)).toEqual({ found: 'too few units', unitsNeeded: 20_000 });
    expect(limitNumber(319, 0.65)).toEqual({ found: 'too few units', unitsNeeded: 320 });
  });

  // A production just at the limit should seldom pass for better: with the least units of each row
  // the chance lies near one tenth. Bands computed with scipy over all 193 limits, by their size.
  it('lets a production at the limit pass about once in ten times, in every cell', () => {
    const bands = [
      [0, 0.0387, 0.1534],
      [4, 0.0477, 0.1247],
      [20, 0.054, 0.1196],
      [60, 0.0805, 0.1105],
      [1000, 0.0894, 0.1177],
    ] as const;
    let cells = 0;
    for (const row of limitNumberRows) {
      for (const [at, limit] of row.limits.entries()) {
        const percent = acceptanceQualityLimits[row.firstColumn + at] as number;
        const plan = { sampleSizePieces: row.unitsMinimum, acceptanceNumber: limit };
        const passes = poissonAcceptance(plan, percent / 100);
        const [, least, most] = bands.find(([upTo]) => limit <= upTo) ?? [0, 1, 0];
        expect(passes).toBeGreaterThan(least);
        expect(passes).toBeLessThan(most);
        cells += 1;
      }
    }
    expect(cells).toBe(193);
  });

  it('the published extract reads 49 at 1250 units and 4.0; 40 is kept', () => {
    // From memory 40. The chance of a production at the limit decides: 0.086 with 40, 0.48 with 49.
    expect(limitNumber(1250, 4)).toEqual({ found: 'limit', limitNumber: 40 });
    const chance = (acceptanceNumber: number) =>
      poissonAcceptance({ sampleSizePieces: 1250, acceptanceNumber }, 0.04);
    expect(chance(40)).toBeCloseTo(0.086, 3);
    expect(chance(49)).toBeCloseTo(0.481, 3);
  });
});

describe('the condition on the count', () => {
  // S-7: ten lots of letter K at 1.0 make 1250 pieces; computed by hand from rules and table.
  it.each([
    [7, true],
    [8, false],
  ])('%i nonconforming among 1250 pieces at 1.0: %s', (nonconformingPieces, isMet) => {
    expect(
      reducedInspectionLimit({
        acceptanceQualityLimitPercent: 1,
        sampleUnits: 1250,
        nonconformingPieces,
      }),
    ).toMatchObject({ limitNumber: 7, isMet, unitsNeeded: null });
  });
});
