import { describe, expect, it } from 'vitest';
import { recordStrikeInput } from '../strike-input.ts';
import { emptyStrike, type StrikeDraft, strikeInput, strikeNumberOf } from './strike-draft.ts';

const of = {
  run: 'RUN-1',
  counterBefore: 134_364,
  occasion: 'roving',
  instruments: { mass: 'BAL-1', diameter: 'MIC-1', thickness: 'MIC-1' },
} as const;

const filled: StrikeDraft = {
  ...emptyStrike,
  counter: '134 514',
  mass: { text: '20.052', unit: 'g', typed: false },
  diameter: { text: '36,01', unit: 'mm', typed: true },
  thickness: { text: '1.95', unit: 'mm', typed: true },
  photographs: { obverse: 'a'.repeat(64), reverse: '', edge: '' },
  verdict: 'approved',
};

describe('the number of a strike', () => {
  // By the rule of the command: what the counter shows less what it showed before the run.
  it('is the counter less the counter before', () => {
    expect(strikeNumberOf('134514', 134_364)).toBe(150);
  });

  it('stays as typed when it is no number, and nothing while nothing is typed', () => {
    expect(strikeNumberOf('13x', 134_364)).toBe('13x');
    expect(strikeNumberOf('', 134_364)).toBeNull();
  });
});

describe('the form of a strike', () => {
  it('gives what the command accepts, with only the photographs that were taken', () => {
    const accepted = recordStrikeInput.parse(strikeInput(filled, of));
    expect(accepted.strikeNumber).toBe(150);
    expect(accepted.diameter).toEqual({ text: '36.01', unit: 'mm', typed: true });
    expect(accepted.photographs).toEqual([{ face: 'obverse', sha256: 'a'.repeat(64) }]);
    expect(accepted.defect).toBeNull();
  });

  it('forgets a defect that was chosen before the verdict was turned to approved', () => {
    const turned = { ...filled, family: 'metal', words: 'a crack' } as const;
    expect(strikeInput(turned, of).defect).toBeNull();
    expect(strikeInput({ ...turned, verdict: 'fault' }, of).defect).toEqual({
      family: 'metal',
      words: 'a crack',
    });
  });

  it('is refused at every empty field', () => {
    const found = recordStrikeInput.safeParse(strikeInput(emptyStrike, of));
    const fields = found.error?.issues.map(({ path }) => String(path[0]));
    expect(fields).toEqual(
      expect.arrayContaining([
        'strikeNumber',
        'mass',
        'diameter',
        'thickness',
        'photographs',
        'verdict',
      ]),
    );
  });
});
