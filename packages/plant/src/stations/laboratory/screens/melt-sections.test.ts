import { describe, expect, it } from 'vitest';
import { meltSections, type TrialOfSections } from './melt-sections.ts';

const figures = {
  finenessPerMille: 916.8,
  standardUncertaintyPerMille: 0.05,
  verdict: 'passes' as const,
};
const run = (assayRun: string) => ({ assayRun, state: 'valid', voidReason: null });
const determination = (assayRun: string) => ({
  assayRun,
  state: 'valid',
  finenessPerMille: 916.8,
});

const trial: TrialOfSections = {
  stage: 'to be signed',
  physical: {
    state: 'accepted',
    blanksForPhysical: 13,
    blanksMeasured: 13,
    blanksNonconforming: 1,
  },
  blanks: [{ measurement: {} }],
  runs: [
    { ...run('R-1'), state: 'void', voidReason: 'The proofs disagree.' },
    run('R-2'),
    run('R-3'),
  ],
  determinations: [determination('R-2'), determination('R-3'), determination('R-3')],
  preview: { state: 'complete', figures },
  results: [],
  rulings: [],
};

const folded = (change: Partial<TrialOfSections>) =>
  meltSections({ ...trial, ...change })
    .filter(({ isFinished }) => isFinished)
    .map(({ id }) => id);

describe('the sections of a melt', () => {
  it('stand in their order, each with what came of it', () => {
    const signed = { ...trial, results: [{ state: 'signed', body: figures }] };
    expect(meltSections(signed).map(({ id, title, result }) => [id, title, result])).toEqual([
      [
        'determinations',
        'From determinations to result',
        '916.800 ‰, standard uncertainty 0.0500 ‰: passes',
      ],
      ['run-R-1', 'Run R-1', 'void: The proofs disagree.'],
      ['run-R-2', 'Run R-2', '916.800 ‰'],
      ['run-R-3', 'Run R-3', '916.800, 916.800 ‰'],
      ['blanks', 'Blanks of the sample', 'accepted: 13 of 13 measured, 1 outside their limits'],
      ['signed', 'Signed', '1 results, 0 rulings'],
    ]);
  });

  it('are folded once their work is finished', () => {
    expect(folded({})).toEqual(['run-R-1', 'run-R-2', 'blanks']);
    expect(folded({ stage: 'to be checked' })).toEqual(['blanks']);
    expect(folded({ stage: 'to be ruled' })).toEqual(['run-R-1', 'run-R-2', 'run-R-3', 'blanks']);
    expect(folded({ stage: 'released' })).toEqual([
      'determinations',
      'run-R-1',
      'run-R-2',
      'run-R-3',
      'blanks',
    ]);
    const open = { ...trial.physical, state: 'open' as const };
    expect(folded({ stage: 'to be measured', physical: open, runs: [] })).toEqual([]);
  });

  it('are left out where there is nothing to tell', () => {
    const bare = { ...trial, runs: [], determinations: [], blanks: [], preview: null };
    expect(meltSections(bare)).toEqual([]);
    const waiting = meltSections({ ...trial, preview: { state: 'incomplete' } });
    expect(waiting[0]?.result).toBe('3 of 3 count');
  });
});
