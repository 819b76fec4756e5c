import { describe, expect, it } from 'vitest';
import { type AssayExchangeInput, assayExchange } from './assay-exchange.ts';
import { dateOfDay, dayOfDate, weekdayOf } from './calendar-day.ts';
import { type ClaimClockInput, claimClock } from './claim-clock.ts';
import { laboratoryDifference } from './laboratory-difference.ts';
import { supplierBias } from './supplier-bias.ts';

describe('exchange of assays', () => {
  const base: AssayExchangeInput = {
    supplierFinenessPerMille: 916.9,
    plantFinenessPerMille: 916.5,
    splittingLimitPerMille: 0.3,
    inside: 'mean',
    umpireBetween: 'umpire',
    umpireOutside: 'nearer party',
  };
  const settled = (changes: Partial<AssayExchangeInput>) =>
    assayExchange({ ...base, ...changes }).settledFinenessPerMille;

  it('counts a difference equal to the limit as inside, in the decimals as given', () => {
    // 916.8 − 916.5 is above 0.3 in binary fractions.
    const found = assayExchange({ ...base, supplierFinenessPerMille: 916.8 });
    expect(found).toMatchObject({ isWithinLimit: true, settledFinenessPerMille: 916.65 });
    expect(found.outcome).toBe('settled by the parties');
  });

  it('asks for the umpire beyond the limit', () => {
    const found = assayExchange({ ...base, grossMassGrams: 100_000 });
    expect(found).toMatchObject({ outcome: 'umpire needed', settledFinenessPerMille: null });
    expect(found.fineMassAtStakeGrams).toBeCloseTo(40, 9);
  });

  it.each([
    {
      umpire: 916.6,
      between: 'umpire',
      outside: 'nearer party',
      expected: 916.6,
      payer: 'supplier',
    },
    {
      umpire: 916.6,
      between: 'mean with nearer party',
      outside: 'nearer party',
      expected: 916.55,
      payer: 'supplier',
    },
    {
      umpire: 916.7,
      between: 'mean with nearer party',
      outside: 'nearer party',
      expected: 916.7,
      payer: 'both in halves',
    },
    { umpire: 917.1, between: 'umpire', outside: 'nearer party', expected: 916.9, payer: 'plant' },
    { umpire: 917.1, between: 'umpire', outside: 'umpire', expected: 917.1, payer: 'plant' },
    {
      umpire: 917.1,
      between: 'umpire',
      outside: 'mean with nearer party',
      expected: 917,
      payer: 'plant',
    },
    {
      umpire: 916.3,
      between: 'umpire',
      outside: 'nearer party',
      expected: 916.5,
      payer: 'supplier',
    },
  ] as const)('umpire at $umpire, $between, $outside: $expected', (one) => {
    const found = assayExchange({
      ...base,
      umpireFinenessPerMille: one.umpire,
      umpireBetween: one.between,
      umpireOutside: one.outside,
    });
    expect(found.settledFinenessPerMille).toBe(one.expected);
    expect(found.umpireFeeBorneBy).toBe(one.payer);
  });

  it('settles at a party inside the limit where the contract says so', () => {
    const near = { supplierFinenessPerMille: 916.6 };
    expect(settled({ ...near, inside: 'supplier' })).toBe(916.6);
    expect(settled({ ...near, inside: 'plant' })).toBe(916.5);
  });

  it('refuses an umpire where none was needed', () => {
    expect(() =>
      settled({ supplierFinenessPerMille: 916.6, umpireFinenessPerMille: 916.5 }),
    ).toThrow('none while the results lie within');
  });
});

describe('the critical difference', () => {
  const base = {
    repeatabilityStandardDeviationPerMille: 0.1,
    reproducibilityStandardDeviationPerMille: 0.2,
    limitFactor: 'rounded 2.8' as const,
    confidence: 0.95,
  };

  it('of two groups of one laboratory is r·√(1/(2n₁) + 1/(2n₂))', () => {
    const found = laboratoryDifference({
      ...base,
      comparison: {
        kind: 'one laboratory',
        firstResultsPerMille: [916.5, 916.7],
        secondResultsPerMille: [916.4],
      },
    });
    expect(found.criticalDifferencePerMille).toBeCloseTo(0.28 * Math.sqrt(0.25 + 0.5), 12);
    expect(found).toMatchObject({ isAcceptable: true });
    expect(found.combinedMeanPerMille).toBeCloseTo((916.5 + 916.7 + 916.4) / 3, 9);
  });

  it('against a reference value is √(R² − r²(1 − 1/n))/√2', () => {
    const found = laboratoryDifference({
      ...base,
      comparison: {
        kind: 'reference value',
        firstResultsPerMille: [917.2, 917.2, 917.2, 917.2],
        referencePerMille: 916.6,
      },
    });
    const expected = Math.sqrt(0.56 ** 2 - 0.28 ** 2 * 0.75) / Math.SQRT2;
    expect(found.criticalDifferencePerMille).toBeCloseTo(expected, 12);
    expect(found).toMatchObject({ isAcceptable: false, combinedMeanPerMille: null });
    expect(found.words).toContain('look for its cause');
  });

  it('refuses a reproducibility below the repeatability, and 2.8 at another confidence', () => {
    const comparison = {
      kind: 'two laboratories' as const,
      firstResultsPerMille: [916],
      secondResultsPerMille: [917],
    };
    expect(() =>
      laboratoryDifference({ ...base, comparison, reproducibilityStandardDeviationPerMille: 0.05 }),
    ).toThrow('at least the repeatability');
    expect(() => laboratoryDifference({ ...base, comparison, confidence: 0.99 })).toThrow(
      '0.95 with the rounded factor',
    );
  });
});

describe('the bias of a supplier', () => {
  const melts = [0.1, 0.2, 0.3].map((difference, index) => ({
    melt: `${index}`,
    supplierFinenessPerMille: 500 + difference,
    plantFinenessPerMille: 500,
    differenceStandardUncertaintyPerMille: 0.1,
  }));
  const base = { melts, weighting: 'equal' as const, confidence: 0.95 };

  it('has the interval of the t distribution when nothing is shared', () => {
    // s = 0.1, n = 3: half width 4.302653 · 0.1/√3 (t tables, 0.975 with 2 degrees of freedom).
    const found = supplierBias({ ...base, sharedStandardUncertaintyPerMille: 0 });
    expect(found.upperPerMille).toBeCloseTo(0.2 + (4.302653 * 0.1) / Math.sqrt(3), 6);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo(2, 9);
    expect(found.correlation).toBeNull();
  });

  it('adds what is shared once, whatever the number of melts', () => {
    const found = supplierBias({ ...base, sharedStandardUncertaintyPerMille: 0.3 });
    expect(found.combinedStandardUncertaintyPerMille).toBeCloseTo(
      Math.hypot(0.1 / Math.sqrt(3), 0.3),
      12,
    );
    expect(found.words).toContain('more melts will not decide it');
  });

  it('weighted with like uncertainties keeps the plain mean and the stated uncertainty', () => {
    const found = supplierBias({
      ...base,
      weighting: 'by uncertainty',
      sharedStandardUncertaintyPerMille: 0,
    });
    expect(found.meanDifferencePerMille).toBeCloseTo(0.2, 12);
    expect(found.chiSquare).toBeCloseTo(2, 9);
    expect(found.meanStandardUncertaintyPerMille).toBeCloseTo(0.1 / Math.sqrt(3), 9);
  });

  it('refuses weights without an uncertainty for every melt', () => {
    const without = melts.map(({ differenceStandardUncertaintyPerMille, ...one }, index) =>
      index === 1 ? one : { ...one, differenceStandardUncertaintyPerMille },
    );
    expect(() =>
      supplierBias({
        ...base,
        melts: without,
        weighting: 'by uncertainty',
        sharedStandardUncertaintyPerMille: 0,
      }),
    ).toThrow('melts.1.differenceStandardUncertaintyPerMille');
  });
});

describe('calendar days', () => {
  it('agree with days that everybody knows', () => {
    // 1970-01-01 is the epoch of POSIX, a Thursday; 1858-11-17 the first modified Julian day, 40 587
    // days before; ISO 8601 calls 2000-01-01 a Saturday.
    expect(dayOfDate('1970-01-01')).toBe(0);
    expect(dayOfDate('1858-11-17')).toBe(-40_587);
    expect(weekdayOf(0)).toBe('Thursday');
    expect(weekdayOf(dayOfDate('2000-01-01'))).toBe('Saturday');
    expect(dateOfDay(dayOfDate('2000-02-29') + 1)).toBe('2000-03-01');
  });

  it.each([
    '2027-02-29',
    '1900-02-29',
    '2027-13-01',
    '2027-00-10',
    '2027-04-31',
    '27-1-1',
    '1599-12-31',
  ])('refuse %s', (date) => {
    expect(() => dayOfDate(date)).toThrow('a date of the calendar');
  });

  it('refuse a number outside the calendar', () => {
    expect(() => dateOfDay(3_000_000)).toThrow('a whole number of days');
  });
});

describe('the claim clock', () => {
  // 2027-03-24 is a Wednesday; 26 (Friday) and 29 (Monday) are holidays here.
  const rule: ClaimClockInput['rules'][number] = {
    claim: 'count',
    event: 'receipt',
    eventDate: '2027-03-24',
    days: 2,
    dayKind: 'calendar',
    eventDayCounts: false,
    endOnRestDay: 'next business day',
  };
  const read = (changes: Partial<typeof rule>, askedDate = '2027-03-25') =>
    claimClock({
      rules: [{ ...rule, ...changes }],
      askedDate,
      restDays: ['Saturday', 'Sunday'],
      holidayDates: ['2027-03-26', '2027-03-29'],
    });

  it('moves a last day on a holiday to the next business day, or leaves it', () => {
    expect(read({}).claims[0]).toMatchObject({
      lastDate: '2027-03-30',
      lastWeekday: 'Tuesday',
      movedDays: 4,
      daysLeft: 5,
      businessDaysLeft: 1,
      status: 'open',
    });
    expect(read({ endOnRestDay: 'stays' }).claims[0]?.lastDate).toBe('2027-03-26');
  });

  it('counts business days without rest days and holidays', () => {
    const last = (changes: Partial<typeof rule>) =>
      read({ dayKind: 'business', ...changes }).claims[0]?.lastDate;
    expect(last({ days: 1 })).toBe('2027-03-25');
    expect(last({ days: 2 })).toBe('2027-03-30');
    expect(last({ days: 2, eventDayCounts: true })).toBe('2027-03-25');
    expect(last({ days: 0 })).toBe('2027-03-24');
  });

  it('knows open, last day, lapsed, raised in time and too late', () => {
    const status = (changes: Partial<typeof rule>, asked?: string) =>
      read(changes, asked).claims[0]?.status;
    expect(status({}, '2027-03-30')).toBe('last day');
    expect(status({}, '2027-03-31')).toBe('lapsed');
    expect(status({ raisedDate: '2027-03-30' }, '2027-05-01')).toBe('raised in time');
    expect(status({ raisedDate: '2027-03-31' })).toBe('raised too late');
    expect(read({}, '2027-03-31').nextDate).toBeNull();
    expect(read({}).nextDate).toBe('2027-03-30');
  });

  it('refuses days that are none, by their field', () => {
    expect(() => read({ eventDate: '2027-02-30' })).toThrow('rules.0.eventDate');
    expect(() => read({}, '2027-02-30')).toThrow('askedDate');
  });
});
