import { describe, expect, it } from 'vitest';
import { type MeltUncertaintyInput, meltUncertainty } from '../laboratory/melt-uncertainty.ts';
import { recompute } from './recompute.ts';

const portion = (blank: string, finenessPerMille: number, run = 'R-1') => ({
  run,
  label: `${blank} ${finenessPerMille}`,
  blank,
  finenessPerMille,
  ownStandardUncertaintyPerMille: 0.1,
  runStandardUncertaintyPerMille: 0.08,
  methodStandardUncertaintyPerMille: 0.02,
});

const inputs: readonly (readonly [string, MeltUncertaintyInput])[] = [
  ['two blanks', { statistic: 'mean', determinations: [portion('A', 916.6), portion('B', 917)] }],
  ['equal results', { statistic: 'mean', determinations: [portion('A', 916), portion('B', 916)] }],
  [
    'three portions of two runs',
    {
      statistic: 'mean',
      determinations: [portion('A', 916.62), portion('A', 916.7, 'R-2'), portion('B', 917.1)],
    },
  ],
  [
    'a median of four',
    {
      statistic: 'median of four',
      determinations: [916.4, 916.9, 917.3, 916.8].map((fineness, index) =>
        portion('ABCD'.charAt(index), fineness, `R-${index % 2}`),
      ),
    },
  ],
];

describe('recompute', () => {
  it.each(inputs)('gives what the laboratory recorded of %s, by the catalogue', (_what, input) => {
    // Two roads: the calculation that the laboratory records with, and that of the catalogue.
    expect(recompute('melt-uncertainty', input)).toEqual({
      version: 1,
      output: meltUncertainty(input),
    });
  });

  it('says what is wrong with an input that was tampered with', () => {
    const oneBlank = { statistic: 'mean', determinations: [portion('A', 916), portion('A', 917)] };
    const problem = (input: unknown) => {
      const again = recompute('melt-uncertainty', input);
      return 'problem' in again ? again.problem : undefined;
    };
    expect(problem(oneBlank)).toContain('accepted: determinations of at least two blanks');
    expect(problem({ ...oneBlank, ownPart: 'from replicates' })).toContain(
      'ownPart is from replicates; accepted: none, for own parts are as stated',
    );
    expect(problem({ ...oneBlank, moon: 1 })).toContain('moon is 1; accepted: no field');
    expect(problem(null)).toContain('its input is refused');
  });

  it('does not know calculations that are none', () => {
    expect(recompute('tarot', {})).toEqual({
      problem: 'this program does not know the calculation tarot',
    });
  });
});
