import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inspectionSeverity } from '../src/sampling/inspection-severity.ts';
import type { HistoryEvent } from '../src/sampling/severity-history.ts';
import { type SeriesEvent, severityOfSeries } from '../src/sampling/switching.ts';

const seed = 47;

/** What may happen, in a few letters: a lot with its count and plan, or a word of the authority. */
const happenings = fc.array(
  fc.oneof(
    {
      weight: 20,
      arbitrary: fc.record({
        lot: fc.constant(true),
        bad: fc.oneof({ weight: 5, arbitrary: fc.constant(0) }, fc.integer({ min: 1, max: 6 })),
        under: fc.constantFrom(undefined, 'normal' as const, 'tightened' as const),
        again: fc.boolean(),
      }),
    },
    { weight: 1, arbitrary: fc.constant({ lot: false } as const) },
  ),
  { maxLength: 80 },
);

type Happening = typeof happenings extends fc.Arbitrary<(infer One)[]> ? One : never;

function lotOf(index: number, bad: number, presented: 'first time' | 'again'): HistoryEvent {
  return {
    event: 'lot judged',
    lot: `L${index}`,
    presented,
    result: {
      sampling: 'single',
      sampleSizePieces: 125,
      acceptanceNumber: 3,
      rejectionNumber: 4,
      nonconformingPieces: bad,
    },
  };
}

function historyOf(happened: readonly Happening[]): HistoryEvent[] {
  return happened.flatMap((one, index): HistoryEvent[] => {
    if (!one.lot) return [{ event: 'inspection resumed' }];
    const first = lotOf(index, one.bad, 'first time');
    const own = one.under === undefined ? first : { ...first, severity: one.under };
    return one.again ? [own, lotOf(index, 6, 'again')] : [own];
  });
}

const setting = {
  acceptanceQualityLimitPercent: 1,
  beginsUnder: 'normal',
  reducedInspection: 'not wanted',
} as const;

describe('the severity of a series with all its states', () => {
  it.each(['MIL-STD-105E', 'ISO 2859-1:1999'] as const)(
    'is that of the older function where reduced inspection is not wanted, %s',
    (edition) => {
      fc.assert(
        fc.property(happenings, (happened) => {
          const found = inspectionSeverity({ ...setting, edition, history: historyOf(happened) });
          const series: SeriesEvent[] = [];
          for (const [index, one] of happened.entries()) {
            if (!one.lot) {
              series.push({ event: 'inspection resumed' });
              continue;
            }
            const before = severityOfSeries(series).severity;
            series.push({
              event: 'lot judged',
              lot: `L${index}`,
              outcome: one.bad <= 3 ? 'accepted' : 'not accepted',
              severity: one.under ?? (before === 'normal' ? 'normal' : 'tightened'),
            });
          }
          const { severity, decidedBy } = severityOfSeries(series);
          expect(found.severity).toBe(severity);
          expect(found.decidedBy).toEqual([...decidedBy]);
        }),
        { seed, numRuns: 200 },
      );
    },
  );

  it('lots presented again change nothing, wherever they stand', () => {
    fc.assert(
      fc.property(happenings, (happened) => {
        const with_ = historyOf(happened);
        const without = with_.filter(
          (event) => event.event !== 'lot judged' || event.presented === 'first time',
        );
        const [one, other] = [with_, without].map((history) =>
          inspectionSeverity({
            ...setting,
            edition: 'MIL-STD-105E',
            reducedInspection: 'wanted',
            history,
          }),
        );
        expect(one?.severity).toBe(other?.severity);
        expect(one?.reason).toBe(other?.reason);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('reduced inspection always follows ten accepted lots within the limit number', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 60 }), (counts) => {
        const history = counts.map((bad, index) => lotOf(index, bad, 'first time'));
        const { steps } = inspectionSeverity({
          ...setting,
          edition: 'MIL-STD-105E',
          reducedInspection: 'wanted',
          history: history.map((event) => ({ ...event, severity: 'normal' as const })),
        });
        let since = 0;
        for (const [index, step] of steps.entries()) {
          const before = steps[index - 1]?.severityAfter ?? 'normal';
          if (before !== 'normal') since = 0;
          else since += 1;
          if (before !== 'normal' || step.severityAfter !== 'reduced') continue;
          const ten = counts.slice(index - 9, index + 1);
          expect(since).toBeGreaterThanOrEqual(10);
          expect(ten.every((bad) => bad <= 3)).toBe(true);
          expect(ten.reduce((sum, bad) => sum + bad, 0)).toBeLessThanOrEqual(7);
        }
      }),
      { seed, numRuns: 300 },
    );
  });
});
