import chisquare from '@stdlib/stats-base-dists-chisquare';
import student from '@stdlib/stats-base-dists-t';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AssayExchangeInput, assayExchange } from '../src/exchange/assay-exchange.ts';
import { dateOfDay, dayOfDate, weekdayOf, weekdays } from '../src/exchange/calendar-day.ts';
import { type ClaimClockInput, claimClock } from '../src/exchange/claim-clock.ts';
import { laboratoryDifference } from '../src/exchange/laboratory-difference.ts';
import { studentTail } from '../src/exchange/paired-regression.ts';
import { supplierBias } from '../src/exchange/supplier-bias.ts';
import { upperChiSquareProbability } from '../src/quantity/chi-square.ts';
import { seededNormals } from './simulated-readings.ts';

const seed = 1848;
const tenths = fc.integer({ min: 9100, max: 9200 }).map((value) => value / 10);

describe('exchange of assays', () => {
  const clauses = fc.record({
    inside: fc.constant('mean' as const),
    umpireBetween: fc.constantFrom('umpire' as const, 'mean with nearer party' as const),
    umpireOutside: fc.constantFrom(
      'nearer party' as const,
      'umpire' as const,
      'mean with nearer party' as const,
    ),
  });

  it('settles between the parties under the usual clauses, and alike when they change places', () => {
    fc.assert(
      fc.property(tenths, tenths, tenths, clauses, (supplier, plant, umpire, agreed) => {
        fc.pre(Math.abs(supplier - plant) > 0.35);
        const input: AssayExchangeInput = {
          ...agreed,
          supplierFinenessPerMille: supplier,
          plantFinenessPerMille: plant,
          splittingLimitPerMille: 0.3,
          umpireFinenessPerMille: umpire,
        };
        const one = assayExchange(input);
        const other = assayExchange({
          ...input,
          supplierFinenessPerMille: plant,
          plantFinenessPerMille: supplier,
        });
        expect(other.settledFinenessPerMille).toBe(one.settledFinenessPerMille);
        const settled = one.settledFinenessPerMille ?? Number.NaN;
        if (agreed.umpireOutside === 'nearer party' || one.umpirePosition === 'between') {
          expect(settled).toBeGreaterThanOrEqual(Math.min(supplier, plant));
          expect(settled).toBeLessThanOrEqual(Math.max(supplier, plant));
        }
        // With umpire and nearer party the middle one of the three results settles.
        if (agreed.umpireBetween === 'umpire' && agreed.umpireOutside === 'nearer party') {
          const [, middle] = [supplier, plant, umpire].sort((a, b) => a - b);
          expect(settled).toBe(middle);
        }
      }),
      { seed, numRuns: 500 },
    );
  });

  it('honest results part as often as stated', () => {
    const { normal } = seededNormals('00000000000000000000000000000031');
    const runs = 20_000;
    let parted = 0;
    for (let run = 0; run < runs; run += 1) if (Math.abs(0.12 * normal()) > 0.2) parted += 1;
    const { chanceReferralProbability } = assayExchange({
      supplierFinenessPerMille: 916.6,
      plantFinenessPerMille: 916.6,
      splittingLimitPerMille: 0.2,
      inside: 'mean',
      umpireBetween: 'umpire',
      umpireOutside: 'nearer party',
      differenceStandardUncertaintyPerMille: 0.12,
    });
    // Standard error of the share: 0.002.
    expect(Math.abs((chanceReferralProbability ?? 0) - parted / runs)).toBeLessThan(0.008);
  });
});

describe('the critical difference', () => {
  const precision = {
    repeatabilityStandardDeviationPerMille: 0.1,
    reproducibilityStandardDeviationPerMille: 0.25,
    limitFactor: 'exact' as const,
    confidence: 0.95,
  };

  it('is exceeded by chance in one of twenty, in all three comparisons', () => {
    const { normal } = seededNormals('00000000000000000000000000000032');
    const between = Math.sqrt(0.25 ** 2 - 0.1 ** 2);
    const group = (count: number, level: number) =>
      Array.from({ length: count }, () => 916.6 + level + 0.1 * normal());
    const runs = 4000;
    const beyond = [0, 0, 0];
    for (let run = 0; run < runs; run += 1) {
      const [one, other] = [between * normal(), between * normal()];
      const comparisons = [
        {
          kind: 'two laboratories' as const,
          firstResultsPerMille: group(2, one),
          secondResultsPerMille: group(4, other),
        },
        {
          kind: 'one laboratory' as const,
          firstResultsPerMille: group(3, one),
          secondResultsPerMille: group(2, one),
        },
        {
          kind: 'reference value' as const,
          firstResultsPerMille: group(3, one),
          referencePerMille: 916.6,
        },
      ];
      for (const [index, comparison] of comparisons.entries()) {
        const { isAcceptable } = laboratoryDifference({ comparison, ...precision });
        if (!isAcceptable) beyond[index] = (beyond[index] ?? 0) + 1;
      }
    }
    // Standard error of the share: 0.0034.
    for (const count of beyond) expect(Math.abs(count / runs - 0.05)).toBeLessThan(0.012);
  });

  it('is the form of the standard, written out', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10 }),
        fc.integer({ min: 1, max: 10 }),
        (first, second) => {
          const same = (count: number) => Array.from({ length: count }, () => 916.5);
          const found = laboratoryDifference({
            ...precision,
            limitFactor: 'rounded 2.8',
            comparison: {
              kind: 'two laboratories',
              firstResultsPerMille: same(first),
              secondResultsPerMille: same(second),
            },
          });
          const [r, R] = [found.repeatabilityLimitPerMille, found.reproducibilityLimitPerMille];
          const share = 1 - 1 / (2 * first) - 1 / (2 * second);
          expect(found.criticalDifferencePerMille).toBeCloseTo(
            Math.sqrt(R ** 2 - r ** 2 * share),
            12,
          );
          expect([r, R]).toEqual([expect.closeTo(0.28, 12), expect.closeTo(0.7, 12)]);
        },
      ),
      { seed, numRuns: 50 },
    );
  });
});

describe('the bias of a supplier', () => {
  it('is covered in about 95 of 100 histories, shared errors included', () => {
    const { normal } = seededNormals('00000000000000000000000000000033');
    const runs = 1500;
    let covered = 0;
    let weightedCovered = 0;
    for (let run = 0; run < runs; run += 1) {
      const shared = 0.05 * normal();
      const melts = Array.from({ length: 8 }, (_, index) => {
        const spread = 0.04 * (1 + (index % 3));
        const plant = 916.6 + 0.3 * normal();
        return {
          melt: `${index}`,
          supplierFinenessPerMille: plant + 0.1 + shared + spread * normal(),
          plantFinenessPerMille: plant,
          differenceStandardUncertaintyPerMille: spread,
        };
      });
      const common = { melts, sharedStandardUncertaintyPerMille: 0.05, confidence: 0.95 };
      const equal = supplierBias({ ...common, weighting: 'equal' });
      const weighted = supplierBias({ ...common, weighting: 'by uncertainty' });
      if (equal.lowerPerMille <= 0.1 && equal.upperPerMille >= 0.1) covered += 1;
      if (weighted.lowerPerMille <= 0.1 && weighted.upperPerMille >= 0.1) weightedCovered += 1;
    }
    // Standard error of the share: 0.006. Enlarging by the scatter makes the weighted one cover more.
    expect(Math.abs(covered / runs - 0.95)).toBeLessThan(0.025);
    expect(weightedCovered / runs).toBeGreaterThan(0.94);
  });

  it('more melts never bring the uncertainty below what is shared, and order does not matter', () => {
    const results = fc.array(fc.tuple(tenths, tenths), { minLength: 3, maxLength: 30 });
    fc.assert(
      fc.property(results, (pairs) => {
        const melts = pairs.map(([supplierFinenessPerMille, plantFinenessPerMille], index) => ({
          melt: `${index}`,
          supplierFinenessPerMille,
          plantFinenessPerMille,
        }));
        const common = { weighting: 'equal' as const, confidence: 0.9 };
        const shared = { sharedStandardUncertaintyPerMille: 0.07 };
        const one = supplierBias({ melts, ...shared, ...common });
        const turned = supplierBias({ melts: [...melts].reverse(), ...shared, ...common });
        expect(one.combinedStandardUncertaintyPerMille).toBeGreaterThanOrEqual(0.07);
        expect(turned.meanDifferencePerMille).toBeCloseTo(one.meanDifferencePerMille, 10);
        expect(turned.slope ?? 0).toBeCloseTo(one.slope ?? 0, 8);
        const plain = supplierBias({ melts, sharedStandardUncertaintyPerMille: 0, ...common });
        if (plain.studentRatio === null) return;
        const factor = student.quantile(0.95, melts.length - 1);
        expect(plain.upperPerMille).toBeCloseTo(
          plain.meanDifferencePerMille + factor * plain.meanStandardUncertaintyPerMille,
          9,
        );
      }),
      { seed, numRuns: 100 },
    );
  });

  it('tails agree with the distributions they belong to', () => {
    for (const freedom of [1, 2, 7, 60]) {
      for (const value of [0.1, 1, 3, 12]) {
        expect(upperChiSquareProbability(value, freedom)).toBeCloseTo(
          1 - chisquare.cdf(value, freedom),
          12,
        );
        expect(studentTail(value, freedom)).toBeCloseTo(2 * student.cdf(-value, freedom), 12);
      }
    }
    expect(upperChiSquareProbability(0, 3)).toBe(1);
  });
});

describe('the calendar', () => {
  it('runs through four centuries day by day without a gap', () => {
    let [year, month, day] = [1600, 1, 1];
    const first = dayOfDate('1600-01-01');
    const pad = (value: number) => String(value).padStart(2, '0');
    for (let count = 0; count <= 146_097; count += 1) {
      const date = `${year}-${pad(month)}-${pad(day)}`;
      if (count % 7 === 0 || day > 27) {
        expect(dayOfDate(date) === first + count && dateOfDay(first + count) === date).toBe(true);
      }
      const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
      const length = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 31;
      day += 1;
      if (day > length) [month, day] = [month + 1, 1];
      if (month > 12) [year, month] = [year + 1, 1];
    }
    // The Gregorian calendar repeats after 400 years of 146 097 days, a whole number of weeks.
    expect([year, month, day]).toEqual([2000, 1, 2]);
  });

  it('agrees with another calendar, that of the language', () => {
    fc.assert(
      fc.property(fc.integer({ min: -135_140, max: 2_932_896 }), (day) => {
        const date = new Date(day * 86_400_000);
        expect(dateOfDay(day)).toBe(date.toISOString().slice(0, 10));
        expect(weekdays.indexOf(weekdayOf(day))).toBe((date.getUTCDay() + 6) % 7);
        expect(dayOfDate(dateOfDay(day))).toBe(day);
      }),
      { seed, numRuns: 1000 },
    );
  });
});

describe('the claim clock', () => {
  const input = (days: number, changes: Partial<ClaimClockInput['rules'][number]> = {}) => ({
    rules: [
      {
        claim: 'mass',
        event: 'receipt',
        eventDate: '2027-03-03',
        days,
        dayKind: 'calendar' as const,
        eventDayCounts: false,
        endOnRestDay: 'next business day' as const,
        ...changes,
      },
    ],
    askedDate: '2027-03-03',
    restDays: ['Saturday' as const, 'Sunday' as const],
    holidayDates: ['2027-03-26', '2027-03-29'],
  });
  const last = (given: ClaimClockInput) => dayOfDate(claimClock(given).claims[0]?.lastDate ?? '');

  it('more days never end sooner, business days never sooner than calendar days', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), (days) => {
        expect(last(input(days + 1))).toBeGreaterThanOrEqual(last(input(days)));
        const business = last(input(days, { dayKind: 'business' }));
        expect(business).toBeGreaterThanOrEqual(last(input(days)));
        expect(['Saturday', 'Sunday']).not.toContain(weekdayOf(business));
      }),
      { seed, numRuns: 200 },
    );
  });

  it('without rest days and holidays both kinds of days are the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), fc.boolean(), (days, eventDayCounts) => {
        const free = { restDays: [], holidayDates: [] };
        const calendar = last({ ...input(days, { eventDayCounts }), ...free });
        const business = { ...input(days, { eventDayCounts, dayKind: 'business' }), ...free };
        expect(last(business)).toBe(calendar);
      }),
      { seed, numRuns: 100 },
    );
  });
});
