import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { DomainError } from '../quantity/domain.ts';
import { type CupellationInput, cupellation, cupellationCalculation } from './cupellation.ts';

const example = cupellationCalculation.example;
const sampleA = { label: 'A', sampleMassMilligrams: 250, cornetMassMilligrams: 229.2 };
const proofs = [
  { label: 'P1', goldTakenMilligrams: 229, cornetMassMilligrams: 229.1 },
  { label: 'P2', goldTakenMilligrams: 229, cornetMassMilligrams: 229.1 },
];
const run: CupellationInput = {
  correction: 'absolute',
  proofs,
  samples: [sampleA],
  weighingStandardUncertaintyMilligrams: 0.01,
};

describe('cupellation', () => {
  it('does as its example says', () => {
    const output = cupellation({
      correction: 'absolute',
      weighingStandardUncertaintyMilligrams: 0.01,
      proofs: example.proofs,
      samples: example.samples,
    });
    expect(output.meanFinenessPerMille).toBeCloseTo(916.8999, 4);
  });

  it('calls proofs that came out heavy a positive surcharge', () => {
    const output = cupellation(run);
    expect(output.proofCorrectionMilligrams).toBeCloseTo(-0.1, 9);
    expect(output.surchargePerMille).toBeCloseTo(0.4, 9);
    expect(output.determinations[0]?.finenessPerMille).toBeCloseTo(916.4, 9);
  });

  it('agrees between the two corrections when proofs and samples hold the same gold', () => {
    const same = { ...run, samples: [{ ...sampleA, cornetMassMilligrams: 229.1 }] };
    const absolute = cupellation(same);
    const proportional = cupellation({ ...same, correction: 'proportional' });
    expect(absolute.meanFinenessPerMille).toBeCloseTo(916, 9);
    expect(proportional.meanFinenessPerMille).toBeCloseTo(916, 9);
    expect(proportional.standardUncertaintyPerMille).toBeCloseTo(
      absolute.standardUncertaintyPerMille,
      3,
    );
  });

  it('scales with the sample when the correction is proportional', () => {
    const half = { label: 'H', sampleMassMilligrams: 125, cornetMassMilligrams: 114.55 };
    const output = cupellation({ ...run, correction: 'proportional', samples: [half] });
    expect(output.meanFinenessPerMille).toBeCloseTo(916, 9);
  });

  it('gives the uncertainty that a hand calculation gives', () => {
    // One sample of 250 mg, two proofs, weighing 0.01 mg, repeatability 0.2 ‰ = 0.05 mg, proof gold
    // 0.03 ‰ of 229 mg. By hand, in ‰: sample 916.4/250·0.01, cornet 4·0.01, samples' repeatability
    // 0.2, proofs' weighing 4·0.01·√(4/4), proofs' repeatability 0.2/√2, proof gold 4·229·0.00003.
    const output = cupellation({
      ...run,
      repeatabilityStandardDeviationPerMille: 0.2,
      proofGoldStandardUncertaintyPerMille: 0.03,
    });
    const byHand = [0.036656, 0.04, 0.2, 0.04, 0.2 / Math.SQRT2, 0.02748];
    output.budget.forEach((line, index) => {
      expect(line.standardUncertaintyPerMille).toBeCloseTo(byHand[index] ?? 0, 9);
    });
    expect(output.standardUncertaintyPerMille).toBeCloseTo(Math.hypot(...byHand), 9);
    expect(output.effectiveDegreesOfFreedom).toBeNull();
  });

  it('does not average the shared proof correction down', () => {
    const many = Array.from({ length: 50 }, (_, i) => ({ ...sampleA, label: `S${i}` }));
    const output = cupellation({
      ...run,
      samples: many,
      repeatabilityStandardDeviationPerMille: 0.2,
    });
    const shared = output.budget.filter((line) => line.isShared);
    const single = cupellation({ ...run, repeatabilityStandardDeviationPerMille: 0.2 });
    shared.forEach((line, index) => {
      const alone = single.budget.filter((one) => one.isShared)[index];
      expect(line.standardUncertaintyPerMille).toBeCloseTo(
        alone?.standardUncertaintyPerMille ?? 0,
        12,
      );
    });
    expect(output.standardUncertaintyPerMille).toBeGreaterThan(0.2 / Math.SQRT2);
    const own = output.budget.filter((line) => !line.isShared);
    expect(own[2]?.standardUncertaintyPerMille).toBeCloseTo(0.2 / Math.sqrt(50), 9);
  });

  it('takes the repeatability from the proofs when none is given, with their degrees of freedom', () => {
    const spread = proofs.map((one, i) => ({ ...one, cornetMassMilligrams: 229.1 + 0.1 * i }));
    const output = cupellation({
      ...run,
      proofs: spread,
      weighingStandardUncertaintyMilligrams: 0,
    });
    // Losses −0.1 and −0.2 mg: standard deviation 0.1/√2 mg, 4 ‰/mg for 250 mg of sample.
    const one = (4 * 0.1) / Math.SQRT2;
    expect(output.standardUncertaintyPerMille).toBeCloseTo(one * Math.sqrt(1 + 1 / 2), 9);
    expect(output.effectiveDegreesOfFreedom).toBeCloseTo(1, 9);
  });

  it('has a budget whose shares add to 100 %', () => {
    const output = cupellation(example);
    const sum = output.budget.reduce((total, line) => total + line.sharePercent, 0);
    expect(sum).toBeCloseTo(100, 9);
  });

  it('accepts proofs exactly on their limit and tells when they lie beyond it', () => {
    // 229.2 − 229.3 and 229.35 − 229.4 differ by 0.05 mg exactly, by 0.04999999999998295 in doubles.
    const spread = [
      { label: 'P1', goldTakenMilligrams: 229.2, cornetMassMilligrams: 229.3 },
      { label: 'P2', goldTakenMilligrams: 229.35, cornetMassMilligrams: 229.4 },
    ];
    const within = (proofSpreadLimitMilligrams?: number) =>
      cupellation({
        ...run,
        proofs: spread,
        ...(proofSpreadLimitMilligrams === undefined ? {} : { proofSpreadLimitMilligrams }),
      }).proofsWithinLimit;
    expect([within(0.05), within(0.049), within()]).toEqual([true, false, null]);
  });

  it('reports scope by the unrounded mean', () => {
    const at = (cornetMassMilligrams: number) =>
      cupellation({
        ...run,
        proofs: proofs.map((one) => ({ ...one, cornetMassMilligrams: one.goldTakenMilligrams })),
        samples: [{ label: 'A', sampleMassMilligrams: 1000, cornetMassMilligrams }],
      }).scope;
    expect([at(99.9), at(100), at(999.5), at(999.6)]).toEqual([
      'outside',
      'inside',
      'inside',
      'outside',
    ]);
  });

  it('refuses a cornet and sample that were exchanged, and a correction larger than the cornet', () => {
    const exchanged = { label: 'A', sampleMassMilligrams: 229, cornetMassMilligrams: 250 };
    expect(() => cupellation({ ...run, samples: [exchanged] })).toThrow(DomainError);
    const tiny = { label: 'A', sampleMassMilligrams: 250, cornetMassMilligrams: 0.05 };
    expect(() => cupellation({ ...run, samples: [tiny] })).toThrow('stays above 0 mg');
  });

  it('draws the shares of its budget', () => {
    const [chart] = cupellationCalculation.draw?.(example, cupellation(example)) ?? [];
    expect(chart).toMatchObject({ kind: 'chart', xTitle: 'Contribution' });
  });
});

describe('the cupellation calculation', () => {
  const calculation = cupellationCalculation as unknown as Calculation;
  const refused: [string, string, object][] = [
    ['one proof', 'proofs', { proofs: [proofs[0]] }],
    ['two proofs of one label', 'proofs', { proofs: [proofs[0], proofs[0]] }],
    ['no sample', 'samples', { samples: [] }],
    [
      'a mass of 0',
      'samples.0.cornetMassMilligrams',
      { samples: [{ ...sampleA, cornetMassMilligrams: 0 }] },
    ],
    ['an empty label', 'samples.0.label', { samples: [{ ...sampleA, label: '' }] }],
    [
      'an infinite mass',
      'samples.0.sampleMassMilligrams',
      { samples: [{ ...sampleA, sampleMassMilligrams: Infinity }] },
    ],
    [
      'a negative uncertainty',
      'weighingStandardUncertaintyMilligrams',
      { weighingStandardUncertaintyMilligrams: -0.01 },
    ],
    ['an unknown correction', 'correction', { correction: 'relative' }],
    ['text for a limit', 'proofSpreadLimitMilligrams', { proofSpreadLimitMilligrams: '0.1' }],
  ];
  for (const [name, field, change] of refused) {
    it(`refuses ${name} and names the field`, () => {
      const result = runCalculation(calculation, { ...run, ...change });
      expect(result).toMatchObject({ outcome: 'refused', problems: [{ field }] });
    });
  }

  it('computes its example to an output that its schema accepts and shows the cautions', () => {
    const result = runCalculation(calculation, example);
    expect(result.outcome).toBe('computed');
    if (result.outcome === 'computed') cupellationCalculation.output.parse(result.output);
    expect(() => z.toJSONSchema(cupellationCalculation.input)).not.toThrow();
    expect(() => z.toJSONSchema(cupellationCalculation.output)).not.toThrow();
    expect(cupellationCalculation.cautions?.join(' ')).toMatch(/furnace.*lead.*[Nn]itric acid/s);
  });
});
