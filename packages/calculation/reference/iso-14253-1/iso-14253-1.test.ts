import { describe, expect, it } from 'vitest';
import { dimensionConformity } from '../../src/physical/dimension-conformity.ts';
import values from './values.json' with { type: 'json' };

const judge = (readingMillimetres: number) =>
  dimensionConformity({
    rule: 'expanded uncertainty',
    dimensions: [
      {
        label: 'shaft',
        readingsMillimetres: [readingMillimetres],
        upperLimitMillimetres: values.upperLimitMillimetres,
        standardUncertaintyMillimetres: values.expandedUncertaintyMillimetres / 2,
      },
    ],
  }).verdict;

describe('a shaft near its upper limit', () => {
  it.each(values.readings)('at $readingMillimetres mm is judged $verdict', (one) => {
    expect(judge(one.readingMillimetres)).toBe(one.verdict);
  });

  it('changes its verdict at the printed inner and outer limit', () => {
    expect(judge(values.innerLimitMillimetres)).toBe('conforms');
    expect(judge(values.innerLimitMillimetres + 0.001)).toBe('undecided');
    expect(judge(values.outerLimitMillimetres)).toBe('undecided');
    expect(judge(values.outerLimitMillimetres + 0.001)).toBe('does not conform');
  });
});
