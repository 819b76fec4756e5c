import { describe, expect, it } from 'vitest';
import { actsOf, commandOf, nextActOf, type TrialInHand } from './next-act.ts';

// The expected acts follow from the rules of the laboratory's commands: each act is offered where its
// command would not be refused for the state of the trial.

const measured = { forAssay: false, measurement: {}, cut: null, returned: null };
const toCut = { ...measured, forAssay: true };
const cut = { ...toCut, cut: {} };
const unmeasured = { forAssay: true, measurement: null, cut: null, returned: null };

const valid = { state: 'valid' };
const fresh: TrialInHand = {
  stage: 'to be measured',
  blanks: [unmeasured, { ...unmeasured, forAssay: false }],
  further: { mayAskSince: null },
  determinations: [],
  preview: { state: 'incomplete' },
  results: [],
};
const result = (state: string, verdict: string) => ({ state, body: { verdict } });

describe('the acts of a trial', () => {
  it('begin with measuring, beside which the chief assayer can rule', () => {
    expect(nextActOf(fresh)).toBe('measure blanks');
    expect(actsOf(fresh)).toEqual(['measure blanks', 'rule on melt']);
  });

  it('let measured blanks be cut and returned while others are measured', () => {
    const trial = { ...fresh, blanks: [toCut, unmeasured] };
    expect(actsOf(trial)).toEqual([
      'measure blanks',
      'cut blanks',
      'rule on melt',
      'return blanks',
      'correct measurement',
    ]);
  });

  it('let no blank be cut or returned that lies sealed in a portion', () => {
    const sealed = { ...measured, portion: { portion: 'SP-1', state: 'sealed' } };
    const trial: TrialInHand = { ...fresh, stage: 'to be assayed', blanks: [cut, sealed] };
    expect(actsOf(trial)).not.toContain('cut blanks');
    expect(actsOf(trial)).not.toContain('return blanks');
  });

  it('ask for a run once the blanks of the draw are cut', () => {
    const trial: TrialInHand = { ...fresh, stage: 'to be assayed', blanks: [cut, measured] };
    expect(nextActOf(trial)).toBe('record run');
    expect(actsOf(trial)).toContain('record run');
  });

  it('ask for a further blank of the draw before a further run', () => {
    const trial: TrialInHand = {
      ...fresh,
      stage: 'to be signed',
      blanks: [cut, toCut],
      determinations: [valid, valid],
    };
    expect(nextActOf(trial)).toBe('cut blanks');
    expect(nextActOf({ ...trial, preview: { state: 'complete' } })).toBe('sign result');
  });

  it('offer no eleventh determination', () => {
    const trial: TrialInHand = {
      ...fresh,
      stage: 'to be signed',
      blanks: [cut],
      determinations: Array(10).fill(valid),
    };
    expect(actsOf(trial)).not.toContain('record run');
    const discarded = {
      ...trial,
      determinations: [...Array(9).fill(valid), { state: 'discarded' }],
    };
    expect(actsOf(discarded)).toContain('record run');
  });

  it('are checking and sending back once a result is signed', () => {
    const trial: TrialInHand = {
      ...fresh,
      stage: 'to be checked',
      blanks: [cut],
      determinations: [valid, valid],
      preview: null,
      results: [result('signed', 'passes')],
    };
    expect(nextActOf(trial)).toBe('check result');
    expect(actsOf(trial)).toEqual([
      'check result',
      'send result back',
      'rule on melt',
      'correct measurement',
    ]);
  });

  it('leave a checked result alone unless it is undecided or the melt is held', () => {
    const trial: TrialInHand = {
      ...fresh,
      stage: 'to be ruled',
      blanks: [cut],
      determinations: [valid, valid],
      preview: null,
      results: [result('checked', 'fails')],
    };
    expect(nextActOf(trial)).toBe('rule on melt');
    expect(actsOf(trial)).not.toContain('record run');
    expect(actsOf({ ...trial, results: [result('checked', 'undecided')] })).toContain('record run');
    expect(actsOf({ ...trial, stage: 'held' })).toContain('record run');
  });

  it('ask for a new signature where determinations were added to an undecided result', () => {
    const trial: TrialInHand = {
      ...fresh,
      stage: 'to be ruled',
      blanks: [cut],
      determinations: [valid, valid, valid],
      preview: { state: 'complete' },
      results: [result('checked', 'undecided')],
    };
    expect(nextActOf(trial)).toBe('sign result');
  });

  it('end with the ruling, but for what goes back', () => {
    const trial: TrialInHand = {
      ...fresh,
      stage: 'released',
      blanks: [cut, measured],
      determinations: [valid, valid],
      preview: null,
      results: [result('checked', 'passes')],
    };
    expect(nextActOf(trial)).toBeNull();
    expect(actsOf(trial)).toEqual(['rule on melt', 'return blanks']);
    expect(nextActOf({ ...trial, stage: 'refused' })).toBe('return melt');
    expect(actsOf({ ...trial, stage: 'returned', blanks: [cut] })).toEqual([]);
  });

  it('are recorded by the command of the method', () => {
    expect(commandOf('record run', 'cupellation')).toBe('record-cupellation');
    expect(commandOf('record run', 'fineness-by-difference')).toBe('record-difference');
    expect(commandOf('record run', 'titration')).toBe('record-titration');
    expect(commandOf('rule on melt', 'cupellation')).toBe('rule-melt');
  });
});
