import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cupel, cutMelt, laboratoryTrial, recorded, refusals } from '../laboratory-trial.ts';
import { arrangedGrid, arrangedLabels } from './arrangement.ts';
import { muffleProblems } from './grid.ts';
import { muffleOf } from './screens/muffle-part.tsx';

describe('the proposed places in a muffle', () => {
  it('have proofs at both ends and among the portions', () => {
    expect(arrangedLabels(['P1', 'P2'], ['A1', 'A2', 'A3'])).toEqual([
      'P1',
      'A1',
      'A2',
      'A3',
      'P2',
    ]);
    expect(arrangedLabels(['P1', 'P2', 'P3'], ['A1', 'A2', 'A3', 'A4'])).toEqual([
      'P1',
      'A1',
      'A2',
      'P2',
      'A3',
      'A4',
      'P3',
    ]);
  });

  it('give every cupel one place, whatever the run', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 20 }),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 2, max: 12 }),
        (proofCount, otherCount, columns) => {
          const proofs = Array.from({ length: proofCount }, (_, at) => `P${at + 1}`);
          const others = Array.from({ length: otherCount }, (_, at) => `A${at + 1}`);
          const grid = arrangedGrid({ proofs, others }, columns);
          expect(muffleProblems(grid, [...proofs, ...others])).toEqual([]);
        },
      ),
      { seed: 960, numRuns: 200 },
    );
  });

  it('follow what is typed, and are nothing where they are not noted', () => {
    const run = { proofs: ['P1'], others: ['A1', 'A2'] };
    expect(muffleOf({ isNoted: false, columns: '2', order: '' }, run)).toBeUndefined();
    expect(muffleOf({ isNoted: true, columns: '2', order: 'A1, P1 A2' }, run)).toEqual({
      rows: 2,
      columns: 2,
      cupels: [
        { row: 1, column: 1, label: 'A1' },
        { row: 1, column: 2, label: 'P1' },
        { row: 2, column: 1, label: 'A2' },
      ],
    });
  });
});

describe('the muffle of a recorded run', () => {
  const grid = {
    rows: 1,
    columns: 4,
    cupels: ['P1', 'S1', 'S2', 'P2'].map((label, at) => ({ row: 1, column: at + 1, label })),
  };

  async function run(muffle: object) {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'L-1');
    const portions = forAssay.map((blank) => [blank, 916.9] as const);
    return cupel(trial, { assayRun: 'R-1', melt: 'L-1', portions, changes: { muffle } });
  }

  it('stands in its entry', async () => {
    expect(recorded(await run(grid))[0]).toMatchObject({ muffle: grid });
  });

  it.each([
    ['outside', [...grid.cupels.slice(0, 3), { row: 2, column: 1, label: 'P2' }]],
    ['on one place', [...grid.cupels.slice(0, 3), { row: 1, column: 1, label: 'P2' }]],
    ['a strange label', [...grid.cupels.slice(0, 3), { row: 1, column: 4, label: 'X9' }]],
    ['without a place', grid.cupels.slice(0, 3)],
  ])('is refused with a cupel %s', async (_what, cupels) => {
    const names = refusals(await run({ ...grid, cupels }));
    expect(new Set(names)).toEqual(new Set(['MufflePlacesDoNotFit']));
  });
});
