import type { TitrantFactorOutput } from '@cupel/calculation';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { doubtTitre } from '../controls/failed-balance-trial.ts';
import { recorded, refusals } from '../laboratory-trial.ts';
import type { TitrationRecorded } from './bodies.ts';
import { cutSilver, standardMillilitres, titrationOf } from './titration-trial.ts';
import { runByTitre, titre, titreTrial } from './titre-trial.ts';

const melt = 'M-1';
let trial: Trial;
let blanks: readonly string[];

beforeEach(async () => {
  trial = await titreTrial();
  blanks = (await cutSilver(trial, melt)).forAssay;
});

const portions = () => blanks.map((blank, index) => [blank, 925.4 + index / 10] as const);
const titrate = (named: string, changes: object = {}) =>
  trial.do(
    'record-titration',
    runByTitre({ assayRun: 'T-1', melt, portions: portions(), titre: named, changes }),
    'assayer',
  );

describe('a titration run by a titre', () => {
  it('finds the fineness by the factor of the determination, and states no factor of its own', async () => {
    recorded(await titre(trial, 'F-1'));
    const bodies = recorded(await titrate('F-1'));
    expect(bodies).toHaveLength(1);
    const [body] = bodies as unknown as [TitrationRecorded];
    // F = 300 × 0.99999 / 27.812; the curves are read to 0.001 mL: 1e-5 of the volume.
    expect(body.determinations[0]?.finenessPerMille).toBeCloseTo(925.4 * 0.99999, 2);
    expect(body.titre).toMatchObject({
      assayRun: 'F-1',
      ageHours: 0,
      greatestAgeHours: 24,
      balance: 'B-1',
      // Three standards without a stated repeatability leave two degrees.
      degreesOfFreedom: 2,
    });
    expect(body.titre?.factorMilligramsPerMillilitre).toBeCloseTo(
      (300 * 0.99999) / standardMillilitres,
      4,
    );
    expect(body.standards).toEqual([]);
    expect(body.titrantFactor).toBeUndefined();
    expect(body.samples[0]?.titration.calculation).toBe('titration-by-factor');
    const factor = body.factor.output as unknown as TitrantFactorOutput;
    const relative =
      (factor.atTimes[0]?.standardUncertaintyMilligramsPerMillilitre ?? 0) /
      (factor.atTimes[0]?.factorMilligramsPerMillilitre ?? 1);
    // All of the factor is one error for every run by it.
    const [first] = body.determinations;
    expect(first?.methodStandardUncertaintyPerMille).toBeCloseTo(
      relative * (first?.finenessPerMille ?? 0),
      9,
    );
  });

  it('leads to a signed and checked result', async () => {
    recorded(await titre(trial, 'F-1'));
    recorded(await titrate('F-1'));
    recorded(await trial.do('sign-result', { melt }, 'assayer'));
    recorded(await trial.do('check-result', { melt }, 'checker'));
    const ruling = { melt, ruling: 'release', reason: 'It passes.' };
    recorded(await trial.do('rule-melt', ruling, 'chief'));
  });

  it('is refused without standards and without a titre, and with both', async () => {
    recorded(await titre(trial, 'F-1'));
    const { titre: _titre, ...neither } = runByTitre({
      assayRun: 'T-1',
      melt,
      portions: portions(),
      titre: 'F-1',
    }) as { titre: string };
    expect(refusals(await trial.do('record-titration', neither, 'assayer'))).toContain(
      'InputNotAccepted',
    );
    const both = { ...titrationOf({ assayRun: 'T-1', melt, portions: portions() }), titre: 'F-1' };
    expect(await trial.do('record-titration', both, 'assayer')).toMatchObject({
      refusals: [{ refusal: 'InputNotAccepted', field: 'standards' }, {}, {}, {}],
    });
  });

  it('is refused without a factor of that name', async () => {
    expect(refusals(await titrate('F-1'))).toEqual(['TitreUnknown']);
  });

  it('is refused by the titre of another lot', async () => {
    recorded(await titre(trial, 'F-1', { lot: 'KBR-13' }));
    expect(await titrate('F-1')).toMatchObject({
      refusals: [
        {
          refusal: 'TitreOfOtherLot',
          message: 'F-1 determined the factor of lot KBR-13; the run was titrated with KBR-12.',
          field: 'titre',
        },
      ],
    });
  });

  it('is refused once the titre is older than the method allows', async () => {
    recorded(await titre(trial, 'F-1'));
    trial.now += 25 * 3_600_000;
    expect(await titrate('F-1')).toMatchObject({
      refusals: [
        { refusal: 'TitreTooOld', figures: { titre: 'F-1', ageHours: 25, greatestAgeHours: 24 } },
      ],
    });
    const method = {
      method: 'AG-TITRE',
      title: 'Silver with bromide',
      assayMethod: 'titration',
      calculation: 'titration',
      scope: { metal: 'silver', leastPerMille: 100, greatestPerMille: 999 },
      determinationsAtLeast: 2,
      referenceMaterials: [],
      greatestNormalizedError: 1,
      blanks: [],
      reagents: [],
      greatestTitreAgeHours: 48,
      cautions: [],
    };
    recorded(await trial.do('state-method', method, 'chief'));
    expect(await trial.ask('titre-of-lot', { lot: 'KBR-12', melt }, 'assayer')).toMatchObject({
      titre: 'F-1',
      greatestAgeHours: 48,
      against: [],
    });
    recorded(await titrate('F-1'));
  });

  it('is refused by a titre that was determined anew', async () => {
    recorded(await titre(trial, 'F-1'));
    recorded(await titre(trial, 'F-2'));
    expect(refusals(await titrate('F-1'))).toEqual(['TitreReplaced']);
    recorded(await titrate('F-2'));
    expect(await trial.ask('titre-of-lot', { lot: 'NONE', melt }, 'assayer')).toBeNull();
  });

  it('is refused by a titre under hold, or set aside', async () => {
    recorded(await titre(trial, 'F-1'));
    const { hold, entry } = await doubtTitre(trial, 'F-1');
    expect(refusals(await titrate('F-1', { balance: 'B-2' }))).toEqual(['TitreHeld']);
    const answer = { hold, entries: [entry], finding: 'set aside', reason: 'Weighed wrong.' };
    recorded(await trial.do('answer-hold', answer, 'chief'));
    expect(refusals(await titrate('F-1', { balance: 'B-2' }))).toEqual(['TitreHeld']);
    // The factor of the lot falls back to the one before, which is none.
    expect(await trial.ask('reagent-lot', { lot: 'KBR-12' }, 'assayer')).toMatchObject({
      row: { factor: null },
      factors: [{ withdrawn: expect.any(Number) }],
    });
  });
});
