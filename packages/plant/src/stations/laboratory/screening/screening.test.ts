import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { verdictOf } from '../index.ts';
import {
  checkedMelt,
  laboratoryTrial,
  reading,
  recorded,
  refusals,
  sampleMelt,
} from '../laboratory-trial.ts';
import { laboratoryStation } from '../station.ts';

async function sampled() {
  const trial = await laboratoryTrial();
  const { all } = await sampleMelt(trial, 'M-1');
  return { trial, blank: all[0] ?? '' };
}

const fluorescence = (trial: Trial, blank: string, change: object = {}, author = 'inspector') =>
  trial.do(
    'screen-by-fluorescence',
    {
      melt: 'M-1',
      blank,
      instrument: 'S-1',
      pieceReadings: [917.1, 916.4, 917.6, 916.9],
      standards: [
        {
          label: 'Matched 916',
          certifiedFinenessPerMille: 916.6,
          certifiedStandardUncertaintyPerMille: 0.2,
          readings: [916.1, 917, 916.2, 917.1],
        },
      ],
      surfaceStandardUncertaintyPerMille: 1,
      confidencePercent: 95,
      ...change,
    },
    author,
  );

const low = { pieceReadings: [899.9, 900.1, 900, 900.2] };

const density = (trial: Trial, blank: string, inWater: string, change: object = {}) =>
  trial.do(
    'screen-by-density',
    {
      melt: 'M-1',
      blank,
      instrument: 'B-1',
      inAir: reading('8.01000', 'g'),
      inWater: reading(inWater, 'g'),
      waterTemperatureCelsius: 20,
      waterTemperatureStandardUncertaintyKelvin: 0.2,
      dissolvedAir: 'none',
      airDensityKilogramsPerCubicMetre: 1.2,
      alloyMetal: 'copper',
      alloyDensityGramsPerCubicCentimetre: 8.96,
      mixingRelativeUncertaintyPercent: 0.4,
      confidencePercent: 95,
      ...change,
    },
    'inspector',
  );

const docket = async (trial: Trial) =>
  (await laboratoryStation.docket?.(trial.books, ''))?.filter(({ paper }) =>
    paper.startsWith('laboratory/screening/'),
  ) ?? [];

const answer = (trial: Trial, finding = 'assay goes on') =>
  trial.do(
    'answer-screening',
    { melt: 'M-1', finding, reason: 'The surface was not cleaned.' },
    'chief',
  );

describe('screen-by-fluorescence', () => {
  it('records a screening that is no result, and holds nothing where no deviation is seen', async () => {
    const { trial, blank } = await sampled();
    const [body] = recorded(await fluorescence(trial, blank));
    // The example of the catalogue: mean 917.0 over mean 916.6 of a standard of 916.6 ‰.
    expect(body).toMatchObject({ means: 'fluorescence', blank, flag: 'no deviation seen' });
    const [row] = (await trial.ask('melt-screenings', { melt: 'M-1' }, 'auditor')) as {
      screen: { output: { indicatedFinenessPerMille: number } };
      drawings: unknown[];
    }[];
    expect(row?.screen.output.indicatedFinenessPerMille).toBeCloseTo(917, 9);
    expect(row?.drawings).toHaveLength(1);
    expect(await docket(trial)).toEqual([]);
    expect(await verdictOf(trial.books, 'M-1')).toBeUndefined();
  });

  it('is refused where a matched standard is stated in percent', async () => {
    const { trial, blank } = await sampled();
    const standard = {
      label: 'Matched 916',
      certifiedFinenessPerMille: 91.66,
      certifiedStandardUncertaintyPerMille: 0.2,
      readings: [916.1, 917, 916.2, 917.1],
    };
    expect(await fluorescence(trial, blank, { standards: [standard] })).toMatchObject({
      refusals: [
        { refusal: 'FinenessImplausible', field: 'standards.0.certifiedFinenessPerMille' },
      ],
    });
  });

  it('is refused for a strange blank, another instrument, a melt that was not sampled, readings of nothing', async () => {
    const { trial, blank } = await sampled();
    expect(refusals(await fluorescence(trial, 'X-9'))).toEqual(['BlankNotDrawn']);
    expect(refusals(await fluorescence(trial, blank, { instrument: 'B-1' }))).toEqual([
      'InstrumentUnknown',
    ]);
    expect(refusals(await fluorescence(trial, blank, { melt: 'M-9' }))).toEqual(['MeltUnknown']);
    const one = await fluorescence(trial, blank, { pieceReadings: [917] });
    expect(refusals(one)).toEqual(['InputNotAccepted']);
  });
});

describe('screen-by-density', () => {
  // By hand: 1/ρ = 0.9167/19.3 + 0.0833/8.96 gives 17.607 g/cm³; water of 0.9982 g/cm³, air 0.0012.
  const expected = 1 / (0.9167 / 19.3 + 0.0833 / 8.96);
  const inWaterOf = (gramsPerCubicCentimetre: number) =>
    ((8.01 * (gramsPerCubicCentimetre - 0.998_206_7)) / (gramsPerCubicCentimetre - 0.0012)).toFixed(
      5,
    );

  it('finds the density of the declared alloy and sees no deviation', async () => {
    const { trial, blank } = await sampled();
    const [body] = recorded(await density(trial, blank, inWaterOf(expected)));
    expect(body).toMatchObject({
      means: 'density',
      flag: 'no deviation seen',
      weighings: { inAir: reading('8.01000', 'g') },
    });
    const found = (body as { density: { output: { densityKilogramsPerCubicMetre: number } } })
      .density;
    expect(found.output.densityKilogramsPerCubicMetre / 1000).toBeCloseTo(expected, 2);
    expect(await docket(trial)).toEqual([]);
  });

  it('weighs as the reference of hydrostatic weighing does', async () => {
    const url = new URL(
      '../../../../../calculation/reference/hydrostatic-density/values.json',
      import.meta.url,
    );
    const { cases } = JSON.parse(readFileSync(url, 'utf8')) as {
      readonly cases: readonly {
        readonly inputs: Readonly<Record<string, number>>;
        readonly expected: readonly { readonly value: number; readonly tolerance: number }[];
      }[];
    };
    const [example] = cases;
    const [right] = example?.expected ?? [];
    const { trial, blank } = await sampled();
    const readings = { inAir: reading(String(example?.inputs['W in air']), 'g') };
    const inWater = String(example?.inputs['W in water']);
    // Water of 20 °C has 0.99821 g/cm³, which is the 0.9982 of the reference within its tolerance.
    const [body] = recorded(await density(trial, blank, inWater, readings));
    const { output } = (body as { density: { output: { densityKilogramsPerCubicMetre: number } } })
      .density;
    const found = output.densityKilogramsPerCubicMetre / 1000;
    expect(Math.abs(found - (right?.value ?? 0))).toBeLessThan(right?.tolerance ?? 0);
  });

  it('is refused where the blank weighs no less in water', async () => {
    const { trial, blank } = await sampled();
    expect(await density(trial, blank, '8.01000')).toMatchObject({
      refusals: [{ refusal: 'ReadingsNotAccepted', field: 'inWater' }],
    });
  });

  it('flags a blank of copper', async () => {
    const { trial, blank } = await sampled();
    const [body] = recorded(await density(trial, blank, inWaterOf(8.96)));
    expect(body).toMatchObject({ flag: 'deviates' });
    expect(await docket(trial)).toHaveLength(1);
  });
});

describe('a screening that deviates', () => {
  it('holds the melt on the docket until the chief assayer answers', async () => {
    const { trial, blank } = await sampled();
    recorded(await fluorescence(trial, blank, low));
    expect(await docket(trial)).toMatchObject([
      {
        what: `Melt M-1: the screening of blank ${blank} deviates.`,
        holdsUp: 'The release of melt M-1.',
        path: '/laboratory/melts/M-1/screening',
        weight: 'stopped',
      },
    ]);
    recorded(await fluorescence(trial, blank, low));
    const [body] = recorded(await answer(trial));
    expect(body).toMatchObject({
      finding: 'assay goes on',
      screenings: [expect.any(Number), expect.any(Number)],
    });
    expect(await docket(trial)).toEqual([]);
    expect(refusals(await answer(trial))).toEqual(['ScreeningNotOpen']);
  });

  it('keeps the melt from being released, whatever its assay says, but not from being refused', async () => {
    const trial = await laboratoryTrial();
    const { all } = await checkedMelt(trial, 'M-1', 917.4);
    recorded(await fluorescence(trial, all[0] ?? '', low));
    const rule = (ruling: string) =>
      trial.do('rule-melt', { melt: 'M-1', ruling, reason: 'As the result says.' }, 'chief');
    expect(refusals(await rule('release'))).toEqual(['ScreeningNotAnswered']);
    recorded(await rule('hold'));
    recorded(await answer(trial, 'fault of the screening'));
    recorded(await rule('release'));
    expect(refusals(await fluorescence(trial, all[1] ?? '', low))).toEqual(['MeltAlreadyRuled']);
    expect(await docket(trial)).toEqual([]);
  });
});
