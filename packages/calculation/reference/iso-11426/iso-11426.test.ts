import { describe, expect, it } from 'vitest';
import { cupellation } from '../../src/assay/cupellation.ts';
import values from './values.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly title: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly { name: string; value: number; tolerance: number }[];
}

const cases = values.cases as unknown as readonly Case[];

function expectValues(one: Case, actual: Readonly<Record<string, number | undefined>>): void {
  for (const { name, value, tolerance } of one.expected) {
    const found = actual[name];
    if (found === undefined) throw new Error(`${one.id}: nothing computed for ${name}`);
    expect(Math.abs(found - value), `${one.id}: ${name}`).toBeLessThanOrEqual(tolerance);
  }
}

describe('cupellation with the absolute proof correction', () => {
  for (const one of cases.filter((candidate) => candidate.id.startsWith('cupel-'))) {
    it(one.title, () => {
      const taken = one.inputs['proof gold taken'] as number[];
      const cornets = one.inputs['proof cornets'] as number[];
      const output = cupellation({
        correction: 'absolute',
        proofs: taken.map((goldTakenMilligrams, index) => ({
          label: `P${index + 1}`,
          goldTakenMilligrams,
          cornetMassMilligrams: cornets[index] ?? 0,
        })),
        samples: [
          {
            label: 'A',
            sampleMassMilligrams: Number(one.inputs['m1 sample']),
            cornetMassMilligrams: Number(one.inputs['m2 cornet']),
          },
        ],
        weighingStandardUncertaintyMilligrams: 0.01,
      });
      expectValues(one, {
        D: output.proofCorrectionMilligrams,
        uncorrected: output.determinations[0]?.uncorrectedPerMille,
        W_Au: output.meanFinenessPerMille,
        'W_Au, rounded to 0.1': output.meanFinenessPerMille,
      });
      expect(output.scope).toBe(one.id === 'cupel-9995-plus' ? 'outside' : 'inside');
    });
  }

  it('gives the classical reading less surcharge for the half-gram assay', () => {
    const one = cases.find((candidate) => candidate.id === 'surcharge-half-gram');
    if (!one) throw new Error('no case surcharge-half-gram');
    const sampleMassMilligrams = Number(one.inputs['assay piece']);
    const cornetMassMilligrams =
      (Number(one.inputs['cornet reading on assay weights']) / 1000) * sampleMassMilligrams;
    const surcharge = Number(one.inputs['mean surcharge of proofs']);
    const gain = (surcharge / 1000) * sampleMassMilligrams;
    const output = cupellation({
      correction: 'absolute',
      proofs: ['P1', 'P2'].map((label) => ({
        label,
        goldTakenMilligrams: 458,
        cornetMassMilligrams: 458 + gain,
      })),
      samples: [{ label: 'A', sampleMassMilligrams, cornetMassMilligrams }],
      weighingStandardUncertaintyMilligrams: 0.01,
    });
    expect(output.surchargePerMille).toBeCloseTo(surcharge, 9);
    expectValues(one, {
      fineness: output.meanFinenessPerMille,
      'cornet mass': cornetMassMilligrams,
      'surcharge in mg': -output.proofCorrectionMilligrams,
      'same by mass equation': output.meanFinenessPerMille,
    });
  });
});
