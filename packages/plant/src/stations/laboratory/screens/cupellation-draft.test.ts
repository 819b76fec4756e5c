import { describe, expect, it } from 'vitest';
import {
  blanksToAssay,
  cupellationInput,
  firstCupellation,
  freeLabel,
} from './cupellation-draft.ts';
import type { ShownBlank, TrialAnswer } from './trial-answer.ts';

const blank = (name: string, isCut: boolean): ShownBlank => ({
  blank: name,
  pick: 1,
  drum: 'D-1',
  position: 1,
  forAssay: true,
  forPhysical: true,
  measurement: null,
  corrected: [],
  cut: isCut ? { entry: 1, instant: '2026-11-25T08:00:00.000Z', author: 'tamsin' } : null,
  returned: null,
  further: null,
  portion: null,
});

const determination = (name: string, state: 'valid' | 'discarded') =>
  ({ blank: name, state }) as TrialAnswer['determinations'][number];

const answer = (determinations: TrialAnswer['determinations']) => ({
  blanks: [blank('M/1', true), blank('M/2', true), blank('M/3', false)],
  determinations,
});

describe('a cupellation run before its first weighing', () => {
  it('has two proofs and a portion of each cut blank', () => {
    const draft = firstCupellation(answer([]), 4);
    expect(draft.proofs.map(({ label }) => label)).toEqual(['P1', 'P2']);
    expect(draft.samples.map((sample) => [sample.label, sample.blank])).toEqual([
      ['A1', 'M/1'],
      ['A2', 'M/2'],
    ]);
    expect(draft.extractionConfirmed).toBe(false);
  });

  it('suggests the blanks that no valid determination comes from', () => {
    expect(blanksToAssay(answer([determination('M/1', 'valid')])).suggested).toEqual(['M/2']);
    expect(blanksToAssay(answer([determination('M/1', 'discarded')])).suggested).toEqual([
      'M/1',
      'M/2',
    ]);
    const both = answer([determination('M/1', 'valid'), determination('M/2', 'valid')]);
    expect(blanksToAssay(both).suggested).toEqual(['M/1', 'M/2']);
  });

  it('has no more portions than determinations are left', () => {
    expect(firstCupellation(answer([]), 1).samples).toHaveLength(1);
  });

  it('names an added portion by the first label that is free', () => {
    expect(freeLabel('A', [{ label: 'A1' }, { label: 'A3' }])).toBe('A2');
  });
});

describe('a cupellation run as the command takes it', () => {
  const given = { melt: 'M', instrument: 'BAL-1' };

  it('sends readings as they stand and an empty one as nothing', () => {
    const draft = firstCupellation(answer([]), 4);
    const [first] = draft.samples;
    if (!first) throw new Error('the draft has no portion');
    const sent = { text: '250.04', unit: 'mg', typed: false } as const;
    const input = cupellationInput({ ...draft, samples: [{ ...first, sample: sent }] }, given);
    expect(input.samples).toEqual([{ label: 'A1', blank: 'M/1', sample: sent, cornet: null }]);
  });

  it('leaves the uncertainty of the proof gold out where none is stated', () => {
    const draft = firstCupellation(answer([]), 4);
    expect(cupellationInput(draft, given)).not.toHaveProperty(
      'proofGoldStandardUncertaintyPerMille',
    );
    expect(cupellationInput({ ...draft, proofGoldUncertainty: '0,02' }, given)).toHaveProperty(
      'proofGoldStandardUncertaintyPerMille',
      0.02,
    );
  });
});
