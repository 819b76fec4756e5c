import { describe, expect, it } from 'vitest';
import { method, proposed } from '../result-trial.ts';
import { draftOf, emptyMethod, methodOf } from './method-draft.ts';

const contents = proposed('Sample;Cu;Pb\nB1;1;2').mapping;
const signals = proposed('Sample;Cu cps;Pb\nB1;1;2').mapping;

describe('a method as it is typed', () => {
  it('says how signals are taken where a file has some, and keeps what was chosen', () => {
    const draft = draftOf(method);
    expect(methodOf(draft, contents)).toEqual({ method });
    const usual = { weighting: 'equal', isDriftTakenOff: true } as const;
    expect(methodOf(draft, signals)).toEqual({ method: { ...method, signals: usual } });
    const chosen = {
      ...draft,
      signals: { weighting: 'relative', isDriftTakenOff: false } as const,
    };
    expect(methodOf(chosen, contents)).toMatchObject({ method: { signals: chosen.signals } });
  });

  it('says what is not right in it', () => {
    expect(methodOf(emptyMethod, undefined)).toEqual({
      problem: 'State the calibration uncertainty',
    });
    const typed = { ...emptyMethod, calibration: '2' };
    expect(methodOf({ ...typed, drift: 'x' }, undefined)).toEqual({
      problem: 'State the drift limit',
    });
    expect(methodOf({ ...typed, limits: 'Cu' }, undefined)).toHaveProperty('problem');
    expect(methodOf({ ...typed, standards: 'Std' }, undefined)).toHaveProperty('problem');
  });
});
