import { describe, expect, it } from 'vitest';
import { attributePlan } from '../../src/sampling/attribute-plan.ts';
import {
  acceptanceQualityLimits,
  inspectionLevels,
  masterTables,
  severities,
} from '../../src/sampling/attribute-tables.ts';
import { codeLetter, singlePlan } from '../../src/sampling/single-plan.ts';
import values from './values.json' with { type: 'json' };

type Resolved = Record<string, [string, number, number, number][]>;

describe('Table I', () => {
  it.each(values.codeLetters)('letters of lots from $lotMin pieces', (row) => {
    for (const level of inspectionLevels) {
      expect(codeLetter(row.lotMin, level)).toBe(row[level]);
      expect(codeLetter(row.lotMax ?? 10_000_000, level)).toBe(row[level]);
    }
  });
});

describe('Tables II-A, II-B and II-C', () => {
  it('have the twenty-six columns of the standard', () => {
    expect([...acceptanceQualityLimits]).toEqual(values.acceptanceQualityLimits.map(Number));
  });

  it.each(severities)(
    'every plan of %s inspection is that of the source, arrows followed',
    (severity) => {
      const resolved = values.resolved[severity] as unknown as Resolved;
      expect(masterTables[severity].map((row) => row[0])).toEqual(Object.keys(resolved));
      let compared = 0;
      for (const [letter, plans] of Object.entries(resolved)) {
        for (const [column, [planLetter, size, acceptance, rejection]] of plans.entries()) {
          expect(singlePlan(letter, acceptanceQualityLimits[column] as number, severity)).toEqual({
            letter: planLetter,
            sampleSizePieces: size,
            acceptanceNumber: acceptance,
            rejectionNumber: rejection,
          });
          compared += 1;
        }
      }
      expect(compared).toBe(26 * (severity === 'tightened' ? 17 : 16));
    },
  );

  it.each(['normal', 'tightened'] as const)('%s plans depend on the diagonal only', (severity) => {
    const byDiagonal = new Map<number, Set<string>>();
    for (const [row, text] of masterTables[severity].entries()) {
      for (const [column, cell] of text.split(' ').slice(2).entries()) {
        if (cell === 'v' || cell === '^') continue;
        const diagonal = byDiagonal.get(row + column) ?? new Set();
        byDiagonal.set(row + column, diagonal.add(cell));
      }
    }
    expect([...byDiagonal.values()].every((cells) => cells.size === 1)).toBe(true);
  });
});

// Own cells: a plan stands at the crossing of its letter and the column itself, without arrow.
function ownCells(severity: (typeof severities)[number]) {
  return masterTables[severity].flatMap((text) => {
    const [letter = '', , ...cells] = text.split(' ');
    return cells.flatMap((cell, column) =>
      cell === 'v' || cell === '^'
        ? []
        : [{ letter, limit: acceptanceQualityLimits[column] ?? 0.01 }],
    );
  });
}

describe('risk of refusing a lot series at the limit', () => {
  // Bands computed independently for the source data: binomial up to 10, Poisson above.
  it.each([
    ['normal', 152, 0.874, 0.994],
    ['tightened', 137, 0.795, 0.978],
    ['reduced', 152, 0.874, 0.9996],
  ] as const)(
    '%s plans accept at the limit within the known band',
    (severity, cells, least, most) => {
      const own = ownCells(severity);
      expect(own).toHaveLength(cells);
      const probabilities = own.map(({ limit, letter }) => {
        // The largest lot of the letter at level III is large against its sample.
        const row = values.codeLetters.findLast((candidate) => candidate.III === letter);
        const level = row ? 'III' : 'II';
        const lot = (row ?? values.codeLetters.findLast((candidate) => candidate.II === letter))
          ?.lotMax;
        if (letter === 'S') return null;
        return attributePlan({
          lotSizePieces: lot ?? 10_000_000,
          inspectionLevel: level,
          acceptanceQualityLimitPercent: limit,
          severity,
        }).acceptanceProbabilityAtLimit;
      });
      const known = probabilities.filter((value) => value !== null);
      expect(Math.min(...known)).toBeGreaterThan(least - 0.0005);
      expect(Math.max(...known)).toBeLessThan(most + 0.0005);
    },
  );
});

describe('worked plans', () => {
  const plan = (
    lotSizePieces: number,
    acceptanceQualityLimitPercent: (typeof acceptanceQualityLimits)[number],
    severity: (typeof severities)[number],
  ) =>
    attributePlan({
      lotSizePieces,
      inspectionLevel: 'II',
      acceptanceQualityLimitPercent,
      severity,
    });

  // Solved exercise on MIL-STD-105E with the tables of a Spanish-language textbook (published).
  it.each([
    ['normal', 200, 7, 8],
    ['tightened', 200, 5, 6],
    ['reduced', 80, 3, 6],
  ] as const)('lot of 7000, limit 1.5, %s', (severity, size, acceptance, rejection) => {
    expect(plan(7000, 1.5, severity)).toMatchObject({
      codeLetter: 'L',
      planLetter: 'L',
      sampleSizePieces: size,
      acceptanceNumber: acceptance,
      rejectionNumber: rejection,
    });
  });

  // Montgomery, Introduction to Statistical Quality Control, chapter on acceptance sampling; from
  // memory, agrees with the tables.
  it.each([
    ['normal', 125, 2, 3],
    ['tightened', 125, 1, 2],
    ['reduced', 50, 1, 3],
  ] as const)('lot of 2000, limit 0.65, %s', (severity, size, acceptance, rejection) => {
    expect(plan(2000, 0.65, severity)).toMatchObject({
      codeLetter: 'K',
      sampleSizePieces: size,
      acceptanceNumber: acceptance,
      rejectionNumber: rejection,
    });
  });

  // Lecture slides (published): lot of 5000 at level II has letter L.
  it('lot of 5000 has letter L', () => {
    expect(codeLetter(5000, 'II')).toBe('L');
  });

  // Computed from the tables by hand: the arrow of E and D at 0.40 leads to G.
  it('an arrow leads to the letter and size of the plan pointed to', () => {
    expect(plan(60, 0.4, 'normal')).toMatchObject({
      codeLetter: 'E',
      planLetter: 'G',
      sampleSizePieces: 32,
      acceptanceNumber: 0,
      rejectionNumber: 1,
      examineEveryPiece: false,
    });
  });

  it('a lot no larger than the sample is examined piece by piece', () => {
    expect(plan(30, 0.4, 'normal')).toMatchObject({
      codeLetter: 'D',
      planLetter: 'G',
      planSampleSizePieces: 32,
      sampleSizePieces: 30,
      examineEveryPiece: true,
    });
    expect(
      attributePlan({
        lotSizePieces: 32,
        inspectionLevel: 'II',
        acceptanceQualityLimitPercent: 0.4,
        severity: 'normal',
      }),
    ).toMatchObject({ sampleSizePieces: 32, examineEveryPiece: true });
  });

  it('a reduced plan with a gap says what the counts between mean', () => {
    const reduced = plan(2000, 1, 'reduced');
    expect(reduced).toMatchObject({
      sampleSizePieces: 50,
      acceptanceNumber: 1,
      rejectionNumber: 4,
      gap: true,
    });
    expect(reduced.words).toBe(
      'Examine 50 of 2000 pieces. Accept with 0 to 1 nonconforming. With 2 to 3 accept this lot and go back to normal inspection from the next one. Reject with 4 or more.',
    );
    expect(plan(2000, 1, 'normal').gap).toBe(false);
  });
});
