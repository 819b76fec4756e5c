import { describe, expect, it } from 'vitest';
import { attributePlan } from '../../src/sampling/attribute-plan.ts';
import type { acceptanceQualityLimits } from '../../src/sampling/attribute-tables.ts';
import { inspectionSeverity } from '../../src/sampling/inspection-severity.ts';
import type { LotEvent } from '../../src/sampling/severity-history.ts';
import values from './severity.json' with { type: 'json' };

interface Counts {
  readonly sampleSizePieces: number;
  readonly acceptanceNumber: number;
  readonly rejectionNumber?: number;
}

type Limit = (typeof acceptanceQualityLimits)[number];

function lots(counts: readonly number[], plan: Counts): LotEvent[] {
  return counts.map((nonconformingPieces, index) => ({
    event: 'lot judged',
    lot: String(index + 1),
    presented: 'first time',
    result: {
      sampling: 'single',
      sampleSizePieces: plan.sampleSizePieces,
      acceptanceNumber: plan.acceptanceNumber,
      rejectionNumber: plan.rejectionNumber ?? plan.acceptanceNumber + 1,
      nonconformingPieces,
    },
  }));
}

const editions = ['MIL-STD-105E', 'ISO 2859-1:1999'] as const;

describe.each(editions)('the rules common to both, %s', (edition) => {
  it.each(values.cases)('$name: $lots', (example) => {
    const counts = example.lots.split(' ').map((letter) => (letter === 'A' ? 0 : 4));
    const found = inspectionSeverity({
      edition,
      acceptanceQualityLimitPercent: 1,
      beginsUnder: example.beginsUnder as 'normal' | 'tightened',
      reducedInspection: 'not wanted',
      history: lots(counts, { sampleSizePieces: 125, acceptanceNumber: 3 }),
    });
    expect(found.severity).toBe(example.severityAfter);
    const before = [example.beginsUnder, ...found.steps.slice(0, -1).map((s) => s.severityAfter)];
    expect(before.join(' ')).toBe(example.severityBefore);
  });
});

describe('reduced inspection by limit numbers', () => {
  const example = values.limitNumberCase;
  const under = (count: number, reducedInspection: 'wanted' | 'not wanted') =>
    inspectionSeverity({
      edition: 'MIL-STD-105E',
      acceptanceQualityLimitPercent: example.acceptanceQualityLimitPercent as Limit,
      beginsUnder: 'normal',
      reducedInspection,
      history: lots(example.nonconforming.slice(0, count), example),
    });

  it(example.name, () => {
    expect(under(9, 'wanted').limitCheck).toBeNull();
    for (const [index, total] of example.totalsOfTen.slice(0, 2).entries()) {
      const found = under(10 + index, 'wanted');
      expect(found.severity).toBe('normal');
      expect(found.limitCheck).toEqual({
        lots: 10,
        sampleUnits: 1250,
        nonconforming: total,
        limitNumber: example.limitNumber,
        isMet: false,
      });
    }
    expect(under(example.reducedAfterLot, 'wanted').severity).toBe('reduced');
  });

  it('is not entered where it is not wanted, and the words say that it was earned', () => {
    const found = under(12, 'not wanted');
    expect(found.severity).toBe('normal');
    expect(found.limitCheck).toMatchObject({ nonconforming: 7, limitNumber: 7, isMet: true });
    expect(found.standing).toContain('earned but not wanted');
  });

  it(values.gapCase.name, () => {
    const gap = values.gapCase;
    const found = inspectionSeverity({
      edition: 'MIL-STD-105E',
      acceptanceQualityLimitPercent: gap.acceptanceQualityLimitPercent as Limit,
      beginsUnder: 'reduced',
      reducedInspection: 'wanted',
      history: lots(gap.nonconforming, gap),
    });
    expect(found.steps.map(({ severityAfter }) => severityAfter)).toEqual(gap.severityAfter);
    expect(found.steps.map(({ outcome }) => outcome)).toEqual(['accepted', 'accepted', 'accepted']);
    // letter K at 1.0, reduced.
    expect(
      attributePlan({
        lotSizePieces: 2000,
        inspectionLevel: 'II',
        acceptanceQualityLimitPercent: 1,
        severity: 'reduced',
      }),
    ).toMatchObject({
      sampleSizePieces: gap.sampleSizePieces,
      acceptanceNumber: gap.acceptanceNumber,
      rejectionNumber: gap.rejectionNumber,
    });
  });
});

describe('reduced inspection by the switching score', () => {
  it(values.scoreCase.name, () => {
    const example = values.scoreCase;
    const found = inspectionSeverity({
      edition: 'ISO 2859-1:1999',
      acceptanceQualityLimitPercent: example.acceptanceQualityLimitPercent as Limit,
      beginsUnder: 'normal',
      reducedInspection: 'wanted',
      history: lots(example.nonconforming, example),
    });
    expect(found.steps.map(({ score }) => score)).toEqual(example.scores);
    const entered = found.steps.findIndex(({ severityAfter }) => severityAfter === 'reduced') + 1;
    expect(entered).toBe(example.reducedAfterLot);
    // Lot 4 is accepted and takes the score away all the same.
    expect(found.steps[3]).toMatchObject({ outcome: 'accepted', score: 0 });
  });
});
