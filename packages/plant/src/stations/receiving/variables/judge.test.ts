import { describe, expect, it } from 'vitest';
import { judgeByVariables, type MeasuredBlank } from './judge.ts';

const calculated = { calculation: 'variables-plan', version: 1, input: {} };

/** An order of so many blanks under a greatest estimate M. */
const orderOf = (pieces: number, maximumPercent: number) => ({
  variables: {
    pieces,
    plan: { ...calculated, output: { maximumPercent } },
    draw: { ...calculated, calculation: 'draw', output: {} },
  },
  blanks: Array.from({ length: pieces + 2 }, (_, index) => ({
    blank: `M/${index + 1}`,
    pick: index + 1,
    drum: 'D',
    position: index + 1,
    forAssay: false,
    forPhysical: true,
    forVariables: index < pieces,
  })),
});

const wide = {
  massLeastMilligrams: 180,
  massGreatestMilligrams: 209,
  diameterLeastMillimetres: 21.9,
  diameterGreatestMillimetres: 22.1,
  thicknessLeastMillimetres: 1.4,
  thicknessGreatestMillimetres: 1.6,
};

const measured = (masses: readonly number[], thickness = 1.5): readonly MeasuredBlank[] =>
  masses.map((massMilligrams, index) => ({
    blank: `M/${index + 1}`,
    massMilligrams,
    diameterMillimetres: 22,
    thicknessMillimetres: thickness,
  }));

// MIL-STD-414 (1957), example B-3: five readings between 180 and 209, M = 3.32, accept.
const published = [197, 188, 184, 205, 201];

describe('a lot judged by variables', () => {
  it('is accepted as in the example of the standard', () => {
    const judged = judgeByVariables(orderOf(5, 3.32), wide, measured(published));
    expect(judged).toMatchObject({
      state: 'accepted',
      blanksMeasured: 5,
      characteristics: [
        { quantity: 'mass', verdict: 'accept', calculated: { calculation: 'variables-verdict' } },
        { quantity: 'diameter', verdict: 'accept', calculated: null },
        { quantity: 'thickness', verdict: 'accept', calculated: null },
      ],
    });
    // The standard's own rounded steps give 2.85 %; unrounded it is 2.799 %.
    const total = judged?.characteristics[0]?.calculated?.output['totalPercent'];
    expect(total).toBeCloseTo(2.799, 3);
  });

  it('is not accepted under a smaller M, or where one figure lies outside throughout', () => {
    expect(judgeByVariables(orderOf(5, 2.5), wide, measured(published))).toMatchObject({
      state: 'rejected',
    });
    expect(judgeByVariables(orderOf(5, 3.32), wide, measured(published, 1.7))).toMatchObject({
      state: 'rejected',
      characteristics: [{}, {}, { quantity: 'thickness', verdict: 'do not accept' }],
    });
  });

  it('is held against limits that are one figure, reading by reading', () => {
    const exact = { ...wide, massLeastMilligrams: 197, massGreatestMilligrams: 197 };
    expect(judgeByVariables(orderOf(5, 3.32), exact, measured(published))).toMatchObject({
      state: 'rejected',
      characteristics: [{ words: expect.stringContaining('4 of 5 readings lie outside') }, {}, {}],
    });
  });

  it('is counted instead where its readings cannot be normal', () => {
    // Two heaps, as of two sorted lots: 185 and 204 with hardly any spread of their own.
    const mixed = Array.from({ length: 30 }, (_, index) =>
      index % 2 === 0 ? 185 + (index % 3) / 10 : 204 + (index % 5) / 10,
    );
    expect(judgeByVariables(orderOf(30, 3.32), wide, measured(mixed))).toMatchObject({
      state: 'by attributes',
      words: expect.stringContaining('measure every blank of the sample'),
    });
  });

  it('stays open until the blanks of the order are measured, whatever others are', () => {
    const others = [
      ...measured(published.slice(0, 3)),
      ...measured([190, 190, 190, 190, 190, 190, 190]).slice(5),
    ];
    expect(judgeByVariables(orderOf(5, 3.32), wide, others)).toMatchObject({
      state: 'open',
      blanksMeasured: 3,
      blanksNeeded: 5,
    });
  });

  it('is not looked at where its order is one by attributes', () => {
    const { blanks } = orderOf(5, 3.32);
    expect(judgeByVariables({ blanks }, wide, measured(published))).toBeUndefined();
  });
});
