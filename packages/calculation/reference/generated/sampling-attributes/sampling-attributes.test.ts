import { describe, expect, it } from 'vitest';
import type { LotQuality } from '../../../src/sampling/count-distribution.ts';
import { planOutcome } from '../../../src/sampling/plan-outcome.ts';
import values from './values.json' with { type: 'json' };

function qualityOf(row: (typeof values.rows)[number]): LotQuality {
  if (row.basis === 'binomial') return { basis: 'binomial', fractionNonconforming: row.quality };
  if (row.basis === 'poisson') return { basis: 'poisson', nonconformitiesPerPiece: row.quality };
  return {
    basis: 'hypergeometric',
    lotSizePieces: row.lot ?? 0,
    nonconformingPieces: row.quality,
  };
}

describe('double plans computed by scipy', () => {
  it.each(values.rows)('$basis, $plan at $quality', (row) => {
    const [n1, n2, ac1, re1, ac2, re2] = row.plan as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const found = planOutcome(
      {
        first: { sampleSizePieces: n1, acceptanceNumber: ac1, rejectionNumber: re1 },
        second: { sampleSizePieces: n2, acceptanceNumber: ac2, rejectionNumber: re2 },
      },
      qualityOf(row),
    );
    const tolerance = row.basis === 'hypergeometric' ? 1e-8 : 1e-9;
    const figures = [found.accepted, found.averageSamplePieces, found.averageSampleCurtailedPieces];
    for (const [index, figure] of figures.entries()) {
      const expected = row.outcome[index] as number;
      expect(Math.abs(figure - expected) / expected).toBeLessThan(tolerance);
    }
  });
});
