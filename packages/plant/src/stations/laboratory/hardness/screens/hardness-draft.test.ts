import { calculationById, runCalculation, type VickersOutput } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { hardnessInput } from '../measure-hardness.ts';
import {
  firstHardness,
  type HardnessDraft,
  hardnessInputOf,
  hardnessNotYet,
  hardnessPreview,
} from './hardness-draft.ts';

const typed = (text: string, unit: 'µm' | 'mm' = 'µm') => ({ text, unit, typed: true });
const [first, ...others] = firstHardness.indentations;

/** One indentation read, the others not yet. */
const draft: HardnessDraft = {
  ...firstHardness,
  blank: 'M-1/1',
  indentations: [
    {
      ...(first as HardnessDraft['indentations'][number]),
      first: typed('143,0'),
      second: typed('0.144', 'mm'),
      edgeDistance: typed('2', 'mm'),
    },
    ...others,
  ],
};
const given = { melt: 'M-1', instrument: 'H-1', window: null };
const open = { least: null, greatest: null };

describe('a hardness while it is measured', () => {
  it('sends the indentations that are read, as the command takes them', () => {
    const parsed = hardnessInput.safeParse(hardnessInputOf(draft, given));
    expect(parsed.error?.issues).toBeUndefined();
    expect(parsed.data?.indentations).toMatchObject([
      { label: '1', first: { text: '143.0', unit: 'µm' }, edgeDistance: { text: '2', unit: 'mm' } },
    ]);
  });

  it('shows what the command will compute', () => {
    const preview = hardnessPreview(draft, { least: 35, greatest: null }, 3);
    const result = runCalculation(calculationById('vickers'), preview);
    if (result.outcome === 'refused') throw new RangeError(JSON.stringify(result.problems));
    // 0.1891 × 4.903 / 0.1435².
    const { meanHardness, isWithinLimits } = result.output as VickersOutput;
    expect(meanHardness).toBeCloseTo((0.1891 * 4.903) / 0.1435 ** 2, 1);
    expect(isWithinLimits).toBe(true);
    expect(hardnessPreview(firstHardness, open, null)).toBeUndefined();
  });

  it('takes the limits of an order only where the piece standard sets none', () => {
    const ordered = { ...draft, order: { least: '40', greatest: '', order: 'Order 17' } };
    expect(hardnessInputOf(ordered, given)).toMatchObject({
      orderedLimits: { least: 40, greatest: null, order: 'Order 17' },
    });
    const window = { least: 35, greatest: 55 };
    expect(hardnessInputOf(ordered, { ...given, window })).not.toHaveProperty('orderedLimits');
  });

  it('says what is missing', () => {
    expect(hardnessNotYet(firstHardness)).toBe('Choose the blank.');
    expect(hardnessNotYet({ ...firstHardness, blank: 'M-1/1' })).toBe(
      'Read both diagonals of an indentation.',
    );
    expect(hardnessNotYet(draft)).toBeUndefined();
  });
});
