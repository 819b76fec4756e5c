import { readFileSync } from 'node:fs';
import type { EndPointOutput, TitrationOutput } from '@cupel/calculation';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Calculated } from '../../../journal/calculated.ts';
import type { Trial } from '../../../journal/trial.ts';
import { reading, recorded, refusals } from '../laboratory-trial.ts';
import type { TitrationRecorded } from './bodies.ts';
import type { TitrationCommand } from './inputs.ts';
import { readCurve } from './read-curve.ts';
import {
  curveWithEndPoint,
  cutSilver,
  egret,
  foundOn,
  standardMillilitres,
  titratedTo,
  titrationOf,
  titrationTrial,
} from './titration-trial.ts';

const melt = 'M-1';
let trial: Trial;
let blanks: readonly string[];

beforeEach(async () => {
  trial = await titrationTrial();
  blanks = (await cutSilver(trial, melt)).forAssay;
});

const portions = (...finenesses: number[]) =>
  finenesses.map((fineness, index) => [blanks[index] ?? '', fineness] as const);

const run = (more: object = {}, finenesses = [925.4, 925.6], assayRun = 'T-1') =>
  titrationOf({ assayRun, melt, portions: portions(...finenesses), changes: more });

const titrate = (input: object, author = 'assayer') => trial.do('record-titration', input, author);

async function recordedRun(input: object): Promise<TitrationRecorded> {
  const [body] = recorded(await titrate(input));
  return body as unknown as TitrationRecorded;
}

const outputOf = <Output>(calculated: Calculated | undefined) =>
  calculated?.output as unknown as Output;

/** The first portion with something changed. */
function withFirst(change: object, input = run()) {
  const [first, ...rest] = input.samples;
  return { ...input, samples: [{ ...first, ...change }, ...rest] };
}

describe('a titration run', () => {
  it('finds the fineness that a hand calculation finds', async () => {
    const body = await recordedRun(run());
    // w = 300 × 0.99999 / 27.812 × V / 325 for V = 325 × w₀ × 27.812 / 300: w₀ × 0.99999. The
    // curves are of the equation that the calculation fits, read to 0.001 mL: 1e-5 of the volume.
    expect(body.determinations.map((one) => one.label)).toEqual(['A1', 'A2']);
    expect(body.determinations[0]?.finenessPerMille).toBeCloseTo(925.4 * 0.99999, 2);
    expect(body.determinations[1]?.finenessPerMille).toBeCloseTo(925.6 * 0.99999, 2);
    expect(body.state).toBe('valid');
  });

  it('keeps a curve with its end point, and a calculation, of every portion', async () => {
    const body = await recordedRun(run());
    for (const [index, sample] of body.samples.entries()) {
      const { endPoint, volumeMillilitres, reason } = sample.titrated;
      expect([endPoint.calculation, sample.titration.calculation]).toEqual([
        'end-point',
        'titration',
      ]);
      expect(volumeMillilitres).toBe(outputOf<EndPointOutput>(endPoint).endPointMillilitres);
      expect(reason).toBeNull();
      expect(outputOf<TitrationOutput>(sample.titration).meanFinenessPerMille).toBe(
        body.determinations[index]?.finenessPerMille,
      );
    }
  });

  it('says that a curve was collected from the line of the titrator', async () => {
    const body = await recordedRun(withFirst({ origin: 'line', fileName: null }));
    expect(body.samples[0]?.titrated).toMatchObject({ origin: 'line', fileName: null });
  });

  it('gives its parts of the uncertainty, which join to that of the portion', async () => {
    const body = await recordedRun(run());
    const [one] = body.determinations;
    const whole = outputOf<TitrationOutput>(body.samples[0]?.titration);
    expect(
      Math.hypot(
        one?.ownStandardUncertaintyPerMille ?? 0,
        one?.runStandardUncertaintyPerMille ?? 0,
        one?.methodStandardUncertaintyPerMille ?? 0,
      ),
    ).toBeCloseTo(whole.standardUncertaintyPerMille, 12);
    // Repeatability: 0.5 ‰ / 2.8 of the fineness at 925 ‰, which is nearly all of the own part.
    expect(one?.ownStandardUncertaintyPerMille).toBeGreaterThan(0.5 / 2.8);
    expect(one?.ownStandardUncertaintyPerMille).toBeLessThan(0.23);
    // The silver is known to 0.01 ‰, and 0.925 of it reaches the fineness.
    expect(one?.methodStandardUncertaintyPerMille).toBeCloseTo(0.00925, 4);
  });

  it('leads to a signed, checked result and a ruling like any other run', async () => {
    await recordedRun(run());
    const [signed] = recorded(await trial.do('sign-result', { melt }, 'assayer'));
    expect(signed).toMatchObject({ method: 'titration', scope: 'inside', verdict: 'passes' });
    recorded(await trial.do('check-result', { melt }, 'checker'));
    const ruling = { melt, ruling: 'release', reason: 'It passes.' };
    expect(recorded(await trial.do('rule-melt', ruling, 'chief'))[0]).toMatchObject({
      ruling: 'release',
    });
  });

  it('takes a blank titration off every volume', async () => {
    expect((await recordedRun(run())).reagentBlank).toEqual({ kind: 'none' });
    const reagentBlank = { kind: 'titrated', ...titratedTo(9, 0) };
    const samples = run().samples.map((one) => ({ ...one, ...titratedTo(27.5, one.minutes) }));
    const body = await recordedRun({ ...run({ reagentBlank, samples }), assayRun: 'T-2' });
    // w = 300 × 0.99999 / (27.812 − 9) × (27.5 − 9) / 325.
    const fineness = ((300_000 * 0.99999) / (standardMillilitres - 9)) * ((27.5 - 9) / 325);
    expect(body.determinations[0]?.finenessPerMille).toBeCloseTo(fineness, 2);
    expect(body.reagentBlank).toMatchObject({ kind: 'titrated' });
  });
});

describe('another point than the one found', () => {
  it('counts with its reason, and widens the uncertainty by its distance', async () => {
    const found = foundOn(run().samples[0]?.curve ?? []);
    const reason = 'The electrode settled late about the jump.';
    const changed = { endPointConfirmedMillilitres: found + 0.01, endPointReason: reason };
    const body = await recordedRun(withFirst(changed));
    const titrated = body.samples[0]?.titrated;
    expect(titrated).toMatchObject({ reason, confirmedMillilitres: found + 0.01 });
    expect(titrated?.volumeMillilitres).toBe(found + 0.01);
    expect(outputOf<EndPointOutput>(titrated?.endPoint).endPointMillilitres).toBe(found);
    const { standardUncertaintyMillilitres: own } = outputOf<EndPointOutput>(titrated?.endPoint);
    expect(titrated?.standardUncertaintyMillilitres).toBeCloseTo(
      Math.sqrt(own ** 2 + 0.01 ** 2 / 3),
      12,
    );
  });

  it('needs a reason, and lies on the curve', async () => {
    const away = withFirst({ endPointConfirmedMillilitres: 27.5 });
    expect(refusals(await titrate(away))).toEqual(['EndPointNotConfirmed']);
    const outside = withFirst({
      endPointConfirmedMillilitres: 60,
      endPointReason: 'A slip of the hand.',
    });
    expect(refusals(await titrate(outside))).toEqual(['EndPointOutsideCurve']);
  });

  it('is no other point where only the last place printed differs', async () => {
    const found = foundOn(run().samples[0]?.curve ?? []);
    const printed = { endPointConfirmedMillilitres: Number(found.toFixed(4)) };
    const body = await recordedRun(withFirst(printed));
    expect(body.samples[0]?.titrated.volumeMillilitres).toBe(found);
  });
});

describe('refusals of a titration run', () => {
  it('names the curve that has no end point', async () => {
    const flat = curveWithEndPoint(27).map((point, index) => ({
      ...point,
      potentialMillivolts: 100 + (index % 2),
    }));
    const outcome = await titrate(withFirst({ curve: flat }));
    expect(refusals(outcome)).toEqual(['EndPointNotFound']);
    expect(outcome).toMatchObject({ refusals: [{ field: 'samples.0.curve' }] });
  });

  it('wants a burette, a balance, silver and its own method', async () => {
    const names = async (change: object) => refusals(await titrate(run(change)));
    expect(await names({ instrument: 'B-1' })).toEqual(['InstrumentUnknown']);
    expect(await names({ balance: 'V-1' })).toEqual(['InstrumentUnknown']);
    expect(refusals(await titrate(run(), 'novice'))).toEqual(['NotAuthorisedForMethod']);
    const gold = { ...egret, pieceStandard: 'gold-x', metal: 'gold' };
    expect(refusals(await trial.do('register-piece-standard', gold, 'chief'))).toEqual([
      'InputNotAccepted',
    ]);
  });

  it('takes no fineness of its silver in percent', async () => {
    expect(await titrate(run({ silverFinenessPerMille: 99.999 }))).toMatchObject({
      refusals: [{ refusal: 'InputNotAccepted', field: 'silverFinenessPerMille' }],
    });
  });

  it('wants every vessel told apart', async () => {
    expect(refusals(await titrate(withFirst({ label: 'S1' })))).toEqual(['InputNotAccepted']);
  });

  it('takes no portion that gives more silver than metal, or that weighs more than its blank', async () => {
    const light = withFirst({ sample: reading('290.000', 'mg') });
    const outcome = await titrate(light);
    expect(refusals(outcome)).toEqual(['ReadingsNotAccepted']);
    expect(outcome).toMatchObject({ refusals: [{ field: 'samples.0.sample' }] });
    const heavy = withFirst({ sample: reading('32', 'g') });
    expect(refusals(await titrate(heavy))).toEqual(['PortionsExceedBlank']);
  });

  it('names the portion whose time lies outside of the standards', async () => {
    const outcome = await titrate(withFirst({ minutes: 61 }));
    expect(outcome).toMatchObject({
      refusals: [{ refusal: 'ReadingsNotAccepted', field: 'samples.0.minutes' }],
    });
  });
});

describe('the standards of a run', () => {
  it('make it void where they lie too far apart for one factor', async () => {
    const { standards } = run();
    const [first, second] = standards;
    // 0.5 ‰ / 0.925 is 0.541 ‰ of 27.812 mL: 0.015 mL. This one differs by 0.03 mL.
    const apart = [first, { ...second, ...titratedTo(standardMillilitres + 0.03, 60) }];
    const body = await recordedRun(run({ standards: apart, drift: 'none' }));
    expect(body.state).toBe('void');
    expect(body.voidReason).toContain('the limit is 0.541 ‰');
    expect(refusals(await trial.do('sign-result', { melt }, 'assayer'))).toEqual([
      'DeterminationsMissing',
    ]);
  });

  it('state the factor of a titrant that the register knows', async () => {
    const lot = {
      lot: 'KBR-12',
      reagent: 'potassium bromide 0.1 mol/L',
      supplier: 'Made here',
      supplierLot: 'Of salt dried at 110 °C',
      expires: '2026-06-30',
      isTitrant: true,
    };
    recorded(await trial.do('receive-reagent-lot', lot, 'assayer'));
    expect(refusals(await titrate(run()))).toEqual(['ReagentLotNotOpen']);
    recorded(
      await trial.do('open-reagent-lot', { lot: 'KBR-12', expires: '2026-06-30' }, 'assayer'),
    );
    const [body, stated] = recorded(await titrate(run()));
    expect(body).toMatchObject({ reagentLots: ['KBR-12'], titrantFactor: { lot: 'KBR-12' } });
    expect(stated).toMatchObject({ lot: 'KBR-12', determinedIn: 'T-1' });
    expect(Number(stated?.['factorMilligramsPerMillilitre'])).toBeCloseTo(
      (300 * 0.99999) / standardMillilitres,
      3,
    );
  });

  it('cannot be titrated with a lot that is no titrant', async () => {
    const lot = {
      lot: 'KBR-12',
      reagent: 'nitric acid 33 %',
      supplier: 'Valley Reagents',
      supplierLot: '7',
      expires: '2026-06-30',
      isTitrant: false,
    };
    recorded(await trial.do('receive-reagent-lot', lot, 'assayer'));
    recorded(
      await trial.do('open-reagent-lot', { lot: 'KBR-12', expires: '2026-06-30' }, 'assayer'),
    );
    expect(refusals(await titrate(run()))).toEqual(['NotATitrant']);
  });
});

describe('a published curve', () => {
  it('keeps its published end point through parser and command', async () => {
    // Sea water with acid, A. G. Dickson, C. L. Sabine, J. R. Christian (2007), SOP 3b; the line
    // through the Gran values was computed with R. Its curve begins after the end point.
    const url = '../../../../../calculation/reference/titration-curves/values.json';
    const { dickson } = JSON.parse(readFileSync(new URL(url, import.meta.url), 'utf8')) as {
      dickson: {
        columns: string[];
        rows: number[][];
        published: Record<string, number>;
        computed: { gran_intercept_mass_g: number };
      };
    };
    const text = [dickson.columns, ...dickson.rows].map((row) => row.join(',')).join('\n');
    const read = readCurve(text);
    if (read.outcome !== 'read') throw new RangeError('the curve was not read');
    const density = dickson.published['acid density, g/cm3'] ?? 0;
    const method: TitrationCommand['method'] = {
      kind: 'Gran',
      side: 'after',
      potential: 'rises',
      startVolumeMillilitres: (dickson.published['sample mass, g'] ?? 0) / density,
      temperatureDegreesCelsius: dickson.published['temperature, degC'] ?? 0,
      slopeShare: 1,
      weighting: 'equal',
    };
    const titrated = {
      curve: read.points,
      endPointConfirmedMillilitres: foundOn([...read.points], method),
    };
    const { standards, samples } = run();
    const body = await recordedRun(
      run({
        method,
        standards: standards.map((one) => ({ ...one, ...titrated })),
        samples: samples.map((one) => ({ ...one, ...titrated })),
      }),
    );
    for (const { titrated: one } of body.samples) {
      expect(one.volumeMillilitres * density).toBeCloseTo(
        dickson.computed.gran_intercept_mass_g,
        5,
      );
    }
    // All volumes are the same, so that only the masses are left: 300 × 0.99999 / 325.
    expect(body.determinations[0]?.finenessPerMille).toBeCloseTo((300_000 * 0.99999) / 325, 9);
  });
});

describe('the method of a run', () => {
  it('may be the second derivative', async () => {
    const method = { kind: 'second derivative' as const, windowPoints: 4 };
    const again = <Item extends { curve: TitrationCommand['samples'][number]['curve'] }>(
      one: Item,
    ) => ({ ...one, endPointConfirmedMillilitres: foundOn(one.curve, method) });
    const { standards, samples } = run();
    const change = { method, standards: standards.map(again), samples: samples.map(again) };
    const body = await recordedRun(run(change));
    // The steps about the jump are 0.06 mL: a part of one of them, in 27.8 mL.
    expect(body.determinations[0]?.finenessPerMille).toBeCloseTo(925.4, 0);
    const [sample] = body.samples;
    expect(sample?.titrated.endPoint.input['method']).toEqual(method);
  });
});
