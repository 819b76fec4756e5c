import { describe, expect, it } from 'vitest';
import { titrantFactor } from '../../src/assay/titrant-factor.ts';
import { titration } from '../../src/assay/titration.ts';
import {
  titrationByFactor,
  titrationByFactorCalculation,
} from '../../src/assay/titration-by-factor.ts';
import values from './values.json' with { type: 'json' };

const run = (standards: readonly (readonly number[])[]) => ({
  standards: standards.map(([silverMassMilligrams = 0, volumeMillilitres = 0], i) => ({
    label: `S${i}`,
    minutes: 60 * i,
    silverMassMilligrams,
    volumeMillilitres,
  })),
  silverFinenessPerMille: 1000,
  silverStandardUncertaintyPerMille: 0,
  blankMillilitres: 0,
  blankStandardUncertaintyMillilitres: 0,
  drift: 'none' as const,
  weighingStandardUncertaintyMilligrams: 0.01,
  volumeStandardUncertaintyMillilitres: 0.002,
});

describe('silver by titration', () => {
  const byVolume = values.cases.filter((one) => 'titrant volume' in one.inputs);
  it.each(byVolume.map((one) => [one.id, one] as const))('gives %s', (_, one) => {
    const inputs = one.inputs as Record<string, unknown>;
    const shared = run(inputs['silver standards (mg, ml)'] as number[][]);
    const factor = titrantFactor({ ...shared, times: [] });
    const result = titration({
      ...shared,
      samples: [
        {
          label: 'A',
          minutes: 30,
          sampleMassMilligrams: inputs['sample'] as number,
          volumeMillilitres: inputs['titrant volume'] as number,
        },
      ],
    });
    const byFactor = titrationByFactor({
      ...titrationByFactorCalculation.example,
      factorMilligramsPerMillilitre: factor.meanMilligramsPerMillilitre,
      samples: [
        {
          label: 'A',
          sampleMassMilligrams: inputs['sample'] as number,
          volumeMillilitres: inputs['titrant volume'] as number,
        },
      ],
    });
    expect(byFactor.meanFinenessPerMille).toBeCloseTo(result.meanFinenessPerMille, 9);
    const actual: Readonly<Record<string, number>> = {
      F: factor.meanMilligramsPerMillilitre,
      'spread of the factors': factor.spreadPerMille,
      w_Ag: result.meanFinenessPerMille,
    };
    for (const { name, value, tolerance } of one.expected) {
      expect(Math.abs((actual[name] ?? Number.NaN) - value), name).toBeLessThanOrEqual(tolerance);
    }
  });

  it('expects 10.78682 mg of silver for a millilitre of 0.1 mol/L', () => {
    const { expectedMilligramsPerMillilitre: expected } = titrantFactor({
      ...run([
        [301.25, 27.912],
        [300.87, 27.879],
      ]),
      titrantMolesPerLitre: 0.1,
      times: [],
    });
    const [printed] = values.cases.find((one) => one.id === 'titrant-equivalents')?.expected ?? [];
    expect(Math.abs((expected ?? 0) - (printed?.value ?? 0))).toBeLessThanOrEqual(
      printed?.tolerance ?? 0,
    );
  });
});
