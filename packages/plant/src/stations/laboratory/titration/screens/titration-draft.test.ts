import { describe, expect, it } from 'vitest';
import { titrationCommandInput } from '../inputs.ts';
import { curveWithEndPoint } from '../titration-trial.ts';
import {
  firstTitration,
  type TitrationDraft,
  titrationInputOf,
  titrationNotYet,
} from './titration-draft.ts';

const cut = { entry: 1, instant: '', author: '' };
const answer = {
  blanks: ['M-1/1', 'M-1/2'].map((blank) => ({ blank, cut })),
  determinations: [],
} as unknown as Parameters<typeof firstTitration>[0];

const text = curveWithEndPoint(27.8)
  .map((point) => `${point.volumeMillilitres}\t${point.potentialMillivolts.toFixed(1)}`)
  .join('\n');
const curve = {
  text,
  origin: 'pasted' as const,
  fileName: '',
  potentialUnit: '' as const,
  confirmed: '27,8001',
  isOther: false,
  reason: '',
};

const first = firstTitration(answer, 4);

/** The sheet filled in whole. */
const filled: TitrationDraft = {
  ...first,
  assayRun: 'T-1',
  titrant: 'KBR-12',
  silverFineness: '999.99',
  silverUncertainty: '0.01',
  buretteUncertainty: '0.002',
  reagentLots: 'HNO3-7, WATER-2',
  standards: first.standards.map((one, index) => ({
    ...one,
    minutes: String(60 * index),
    taken: { text: '300', unit: 'mg' as const, typed: true },
    curve,
  })),
  samples: first.samples.map((one) => ({
    ...one,
    minutes: '30',
    taken: { text: '325', unit: 'mg' as const, typed: true },
    curve,
  })),
};

const given = { melt: 'M-1', balance: 'B-1', instrument: 'V-1' };

describe('a titration while it is made', () => {
  it('begins with two standards and a portion of each cut blank', () => {
    expect(first.standards.map(({ label }) => label)).toEqual(['S1', 'S2']);
    expect(first.samples.map(({ label, from }) => [label, from])).toEqual([
      ['A1', 'M-1/1'],
      ['A2', 'M-1/2'],
    ]);
  });

  it('is what the command takes once it is filled in', () => {
    const parsed = titrationCommandInput.safeParse(titrationInputOf(filled, given));
    expect(parsed.error?.issues).toBeUndefined();
    expect(parsed.data?.samples[0]).toMatchObject({
      endPointConfirmedMillilitres: 27.8001,
      blank: 'M-1/1',
    });
    expect(parsed.data?.reagentLots).toEqual(['HNO3-7', 'WATER-2']);
    expect(titrationNotYet(filled)).toBeUndefined();
  });

  it('sends the blank as a control, stated or titrated', () => {
    const stated = { ...filled, reagentBlank: 'stated' as const, blankVolume: '0.01' };
    expect(titrationInputOf(stated, given)).toMatchObject({
      reagentBlank: { kind: 'stated', volumeMillilitres: 0.01 },
      blanks: [{ quantity: 'volume', unit: 'mL', value: 0.01 }],
    });
    const titrated = { ...filled, reagentBlank: 'titrated' as const, blankCurve: curve };
    expect(titrationCommandInput.safeParse(titrationInputOf(titrated, given)).success).toBe(true);
  });

  it.each([
    [{ assayRun: '' }, 'Name the run.'],
    [{ titrant: ' ' }, 'Name the lot of the titrant.'],
    [{ buretteUncertainty: '' }, 'State the standard uncertainty of the burette.'],
    [
      { method: 'precipitation curve' as const },
      'State the volume of the solution before titrating.',
    ],
    [
      { samples: filled.samples.map((one) => ({ ...one, curve: { ...curve, confirmed: '' } })) },
      'Confirm the end point of A1, A2.',
    ],
    [{ standards: first.standards }, 'S1, S2 not weighed yet. What is here is kept.'],
  ])('says what is missing', (change, words) => {
    expect(titrationNotYet({ ...filled, ...change })).toBe(words);
  });
});
