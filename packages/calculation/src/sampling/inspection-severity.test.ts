import { describe, expect, it } from 'vitest';
import type { Calculation, Chart } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { inspectionSeverity, inspectionSeverityCalculation } from './inspection-severity.ts';
import type { InspectionSeverityInput } from './inspection-severity-schema.ts';
import type { HistoryEvent, LotEvent } from './severity-history.ts';

const calculation = inspectionSeverityCalculation as unknown as Calculation;
const { example } = inspectionSeverityCalculation;

type Single = Extract<LotEvent['result'], { sampling: 'single' }>;

const lot = (name: string, bad: number, change: Partial<Single> = {}): LotEvent => ({
  event: 'lot judged',
  lot: name,
  presented: 'first time',
  result: {
    sampling: 'single',
    sampleSizePieces: 125,
    acceptanceNumber: 3,
    rejectionNumber: 4,
    nonconformingPieces: bad,
    ...change,
  },
});

const lots = (bad: readonly number[], from = 1, change: Partial<Single> = {}): LotEvent[] =>
  bad.map((count, index) => lot(`L${from + index}`, count, change));

const double = (name: string, first: number, second?: number): LotEvent => ({
  event: 'lot judged',
  lot: name,
  presented: 'first time',
  result: {
    sampling: 'double',
    firstSampleSizePieces: 80,
    firstAcceptanceNumber: 1,
    firstRejectionNumber: 4,
    firstNonconformingPieces: first,
    secondSampleSizePieces: 80,
    secondAcceptanceNumber: 4,
    secondRejectionNumber: 5,
    ...(second === undefined ? {} : { secondNonconformingPieces: second }),
  },
});

const run = (history: HistoryEvent[], change: Partial<InspectionSeverityInput> = {}) =>
  inspectionSeverity({ ...example, ...change, history });

const iso = { edition: 'ISO 2859-1:1999' } as const;

describe('inspectionSeverity', () => {
  it('gives reason, lots and standing in words', () => {
    expect(run(lots([4, 0, 4, 0, 0, 4])).words).toBe(
      'Next lot: tightened inspection. Tightened inspection since lot L3: lots L1 and L3 were not accepted, two within 5 consecutive lots. Since then 0 of 5 lots accepted in a row, 1 of 5 not accepted.',
    );
    expect(run([]).words).toBe(
      'Next lot: normal inspection. Every series of lots begins under normal inspection. No lot was judged since.',
    );
  });

  it('does not count a lot that is presented again', () => {
    const again = { ...lot('L1', 4), presented: 'again' as const };
    const found = run([lot('L1', 4), again, lot('L2', 0)]);
    expect(found.severity).toBe('normal');
    expect(found.steps.map(({ counts }) => counts)).toEqual([true, false, true]);
  });

  it('ends at the fifth lot not accepted, and begins tightened once resumed', () => {
    const ended = lots([4, 4, 4, 0, 4, 4, 0, 4, 4]);
    const found = run(ended);
    expect(found).toMatchObject({
      severity: 'discontinued',
      decidedBy: ['L3', 'L5', 'L6', 'L8', 'L9'],
    });
    expect(found.words).toContain('Next lot: not inspected.');
    const late = run([...ended, lot('late', 0)]);
    expect(late.severity).toBe('discontinued');
    expect(late.steps.at(-1)?.counts).toBe(false);
    const resumed = run([...ended, { event: 'inspection resumed' }]);
    expect(resumed.severity).toBe('tightened');
    expect(resumed.steps.at(-1)).toMatchObject({ lot: null, outcome: null, counts: true });
    expect(run([{ event: 'inspection resumed' }]).steps[0]?.counts).toBe(false);
  });

  it('adds earlier lots where ten hold too few pieces', () => {
    // Samples of 8 at 1.0: 200 units are needed (Table VIII begins there), so 25 lots.
    const small = { sampleSizePieces: 8, acceptanceNumber: 0, rejectionNumber: 1 };
    const clean = (count: number) => run(lots(new Array<number>(count).fill(0), 1, small));
    expect(clean(24).severity).toBe('normal');
    expect(clean(24).limitCheck).toMatchObject({ lots: 24, sampleUnits: 192, limitNumber: null });
    expect(clean(24).standing).toContain('Table VIII gives no limit number');
    expect(clean(25)).toMatchObject({ severity: 'reduced' });
    expect(clean(25).decidedBy).toHaveLength(25);
  });

  it('enters reduced inspection when it is asked for after it was earned', () => {
    const clean = lots(new Array<number>(12).fill(0));
    const wanted = run([...clean, { event: 'reduced inspection wanted' }], {
      reducedInspection: 'not wanted',
    });
    expect(wanted.steps[11]?.severityAfter).toBe('normal');
    expect(wanted.severity).toBe('reduced');
    const byScore = run([...clean, { event: 'reduced inspection wanted' }], {
      ...iso,
      reducedInspection: 'not wanted',
    });
    expect(byScore).toMatchObject({ severity: 'reduced', score: 36 });
    expect(run(clean, { ...iso, reducedInspection: 'not wanted' }).standing).toContain(
      'The switching score is 36 of 30. Reduced inspection is earned but not wanted.',
    );
  });

  it('leaves it when a lot is not accepted, or when it is no longer wanted', () => {
    const begin = { beginsUnder: 'reduced' } as const;
    const plan = { sampleSizePieces: 50, acceptanceNumber: 1, rejectionNumber: 4 };
    const refused = run(lots([0, 4], 1, plan), begin);
    expect(refused.reason).toBe(
      'Normal inspection since lot L2: it was not accepted under reduced inspection.',
    );
    const notWanted: HistoryEvent = {
      event: 'reduced inspection not wanted',
      reason: 'the press stood still for two weeks',
    };
    const stopped = run([...lots([0], 1, plan), notWanted], begin);
    expect(stopped).toMatchObject({ severity: 'normal', decidedBy: [] });
    expect(stopped.reason).toContain('the press stood still for two weeks');
    // It must be wanted anew before it can be entered again.
    const after = run([notWanted, ...lots(new Array<number>(12).fill(0), 5)], begin);
    expect(after.severity).toBe('normal');
    expect(run([notWanted, { event: 'reduced inspection wanted' }]).severity).toBe('normal');
  });

  it('scores 2 for acceptance number 0 or 1, 3 for a double plan accepted at once, else 0', () => {
    const coarse = { sampleSizePieces: 50, acceptanceNumber: 1, rejectionNumber: 2 };
    const history = [
      ...lots([1, 0, 1], 1, coarse),
      double('D1', 1),
      double('D2', 2, 2),
      double('D3', 0),
      ...lots([2], 9, coarse),
    ];
    // From the rules of ISO 2859-1:1999 as remembered: 2, 4, 6, 9; on the second sample 0; 3; refused 0.
    expect(run(history, iso).steps.map(({ score }) => score)).toEqual([2, 4, 6, 9, 0, 3, 0]);
  });

  it('judges double samples by both counts', () => {
    const outcomes = run([
      double('A', 1),
      double('B', 4),
      double('C', 2, 2),
      double('D', 3, 2),
    ]).steps.map(({ outcome }) => outcome);
    expect(outcomes).toEqual(['accepted', 'not accepted', 'accepted', 'not accepted']);
  });

  it('counts both samples of ten double lots towards the limit number', () => {
    const history = Array.from({ length: 10 }, (_, index) =>
      index === 0 ? double('D0', 2, 0) : double(`D${index}`, 0),
    );
    const found = run(history, { reducedInspection: 'not wanted' });
    // Eleven samples of 80; at 1.0 the row of 800 units has limit number 4.
    expect(found.limitCheck).toMatchObject({ sampleUnits: 880, nonconforming: 2, limitNumber: 4 });
  });

  it('a lot of another plan earns nothing towards reduced inspection', () => {
    const other = lots([0], 6).map((one) => ({ ...one, severity: 'reduced' as const }));
    const history = [...lots(new Array<number>(5).fill(0)), ...other, ...lots([0, 0, 0, 0, 0], 7)];
    expect(run(history).severity).toBe('normal');
    expect(run(history, iso).score).toBe(30);
  });

  it('draws severity by lot, the lots not accepted, and the score', () => {
    const input = { ...example, ...iso, history: lots([0, 4, 4, 0]) };
    const charts = inspectionSeverityCalculation.draw?.(input, inspectionSeverity(input)) ?? [];
    const [severity, score] = charts as Chart[];
    expect(severity?.series[0]).toMatchObject({ x: [1, 2, 3, 4, 5], y: [2, 2, 2, 3, 3] });
    expect(severity?.series[1]).toMatchObject({ x: [2, 3], y: [2, 2], standsOut: true });
    expect(score?.series[0]?.y).toEqual([3, 0, 0, 0]);
    expect(inspectionSeverityCalculation.draw?.({ ...input, history: [] }, run([]))).toEqual([]);
  });

  it.each<[string, unknown, Partial<InspectionSeverityInput>, string]>([
    ['a lot twice', [lot('A', 0), lot('A', 0)], {}, 'history.1.lot'],
    [
      'a gap outside reduced plans',
      [lot('A', 0, { rejectionNumber: 6 })],
      {},
      'history.0.result.rejectionNumber',
    ],
    [
      'a gap in ISO 2859-1',
      [{ ...lot('A', 0, { rejectionNumber: 6 }), severity: 'reduced' }],
      iso,
      'history.0.result.rejectionNumber',
    ],
    [
      'a rejection number that accepts',
      [{ ...lot('A', 0, { rejectionNumber: 3 }), severity: 'reduced' }],
      {},
      'history.0.result.rejectionNumber',
    ],
    [
      'a second count where the first decided',
      [double('A', 0, 1)],
      {},
      'history.0.result.secondNonconformingPieces',
    ],
    [
      'no second count where one is needed',
      [double('A', 2)],
      {},
      'history.0.result.secondNonconformingPieces',
    ],
    [
      'an acceptance number that no normal plan has',
      [lot('A', 0, { acceptanceNumber: 4, rejectionNumber: 5 })],
      iso,
      'history.0.result.acceptanceNumber',
    ],
    [
      'a beginning under reduced inspection that is not wanted',
      [],
      { beginsUnder: 'reduced', reducedInspection: 'not wanted' },
      'reducedInspection',
    ],
    ['an event of another kind', [{ event: 'press stopped' }], {}, 'history.0.event'],
  ])('refuses %s', (_, history, change, field) => {
    const result = runCalculation(calculation, { ...example, ...change, history });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]?.field).toBe(field);
    expect(result.problems[0]?.accepted.length).toBeGreaterThan(3);
  });

  it('refuses a first rejection number that is not above its acceptance number', () => {
    const odd = double('A', 0);
    const result = { ...odd.result, firstRejectionNumber: 1 };
    expect(() => run([{ ...odd, result } as LotEvent])).toThrow(
      'history.0.result.firstRejectionNumber is 1',
    );
  });
});
