import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { cupellation } from './cupellation.ts';
import { cupellationCharge, cupellationChargeCalculation } from './cupellation-charge.ts';
import {
  type CupellationRunInput,
  cupellationRun,
  cupellationRunCalculation,
} from './cupellation-run.ts';
import { gradientOf, proofShares } from './muffle-position.ts';

const example = cupellationRunCalculation.example;
const at = (row: number, column: number) => ({ row, column });
const corners = [at(1, 1), at(1, 5), at(5, 1), at(5, 5)];

describe('proofShares', () => {
  it('gives every proof alike under the mean', () => {
    expect(proofShares('mean', corners, at(2, 2))).toEqual([0.25, 0.25, 0.25, 0.25]);
  });

  it('weights by 1/distance² and takes a proof at its own place alone', () => {
    // Distances² from (1, 2): 1, 9, 17, 25.
    const shares = proofShares('inverse distance', corners, at(1, 2));
    const total = 1 + 1 / 9 + 1 / 17 + 1 / 25;
    [1, 1 / 9, 1 / 17, 1 / 25].forEach((weight, i) => {
      expect(shares[i]).toBeCloseTo(weight / total, 12);
    });
    expect(proofShares('inverse distance', corners, at(5, 1))).toEqual([0, 0, 1, 0]);
  });

  it('carries a plane exactly, and its gradient', () => {
    const loss = ({ row, column }: { row: number; column: number }) =>
      0.1 + 0.02 * row - 0.01 * column;
    const losses = corners.map(loss);
    const shares = proofShares('plane', corners, at(2, 4));
    expect(shares.reduce((sum, share, i) => sum + share * (losses[i] ?? 0), 0)).toBeCloseTo(
      loss(at(2, 4)),
      12,
    );
    expect(gradientOf(corners, losses)).toMatchObject({
      perRow: expect.closeTo(0.02, 12),
      perColumn: expect.closeTo(-0.01, 12),
    });
    expect(gradientOf([at(1, 1), at(2, 2), at(3, 3)], [1, 2, 3])).toBeNull();
  });

  it('refuses a plane through proofs on one line', () => {
    expect(() => proofShares('plane', [at(1, 1), at(1, 2), at(1, 3)], at(2, 2))).toThrow(
      'do not lie on one line',
    );
  });
});

describe('cupellationRun', () => {
  it.each([
    ['absolute', true],
    ['absolute', false],
    ['proportional', true],
    ['proportional', false],
  ] as const)(
    'is cupellation with one mean correction (%s, repeatability stated: %s)',
    (correction, isStated) => {
      const { repeatabilityStandardDeviationPerMille, ...rest } = example;
      const repeatability = isStated ? { repeatabilityStandardDeviationPerMille } : {};
      const run = cupellationRun({
        ...rest,
        ...repeatability,
        correction,
        interpolation: 'mean',
      } as CupellationRunInput);
      const plain = cupellation({
        correction,
        proofs: example.proofs.map(({ label, goldTakenMilligrams, cornetMassMilligrams }) => ({
          label,
          goldTakenMilligrams,
          cornetMassMilligrams,
        })),
        samples: example.samples.map(({ label, sampleMassMilligrams, cornetMassMilligrams }) => ({
          label,
          sampleMassMilligrams,
          cornetMassMilligrams,
        })),
        weighingStandardUncertaintyMilligrams: 0.01,
        proofGoldStandardUncertaintyPerMille: 0.02,
        ...repeatability,
      } as Parameters<typeof cupellation>[0]);
      const [melt] = run.melts;
      expect(melt?.meanFinenessPerMille).toBeCloseTo(plain.meanFinenessPerMille, 10);
      expect(melt?.standardUncertaintyPerMille).toBeCloseTo(plain.standardUncertaintyPerMille, 10);
      run.determinations.forEach((one, i) => {
        const { standardUncertaintyPerMille } = plain.determinations[i] ?? {};
        expect(one.standardUncertaintyPerMille).toBeCloseTo(standardUncertaintyPerMille ?? 0, 10);
      });
    },
  );

  it('takes a gradient out that one mean would leave in', () => {
    // The loss rises by 0.05 mg a row; every sample holds 229 mg of gold in 250 mg.
    const loss = (row: number) => 0.05 * row;
    const proofs = corners.map((place, i) => ({
      label: `P${i}`,
      ...place,
      goldTakenMilligrams: 229,
      cornetMassMilligrams: 229 - loss(place.row),
    }));
    const samples = [2, 3, 4].map((row) => ({
      label: `A${row}`,
      melt: 'A',
      row,
      column: 3,
      sampleMassMilligrams: 250,
      cornetMassMilligrams: 229 - loss(row),
    }));
    const input = { ...example, proofs, samples };
    const plane = cupellationRun({ ...input, interpolation: 'plane' });
    for (const one of plane.determinations) expect(one.finenessPerMille).toBeCloseTo(916, 9);
    const mean = cupellationRun({ ...input, interpolation: 'mean' });
    expect(mean.melts[0]?.rangePerMille).toBeCloseTo((1000 * 0.1) / 250, 9);
    expect(mean.words).toContain('which one mean correction does not follow');
    expect(plane.gradient?.perRowMilligrams).toBeCloseTo(0.05, 12);
  });

  it('is less sure far from the proofs under a plane', () => {
    const near = { ...example.samples[0], row: 2, column: 3 };
    const far = { ...example.samples[0], label: 'B', row: 20, column: 3 };
    const run = cupellationRun({
      ...example,
      interpolation: 'plane',
      samples: [near, far] as never,
    });
    const [one, two] = run.determinations;
    expect(two?.runStandardUncertaintyPerMille).toBeGreaterThan(
      3 * (one?.runStandardUncertaintyPerMille ?? 0),
    );
  });

  it('judges duplicates by the stated limit, or by the remembered one and says so', () => {
    const { duplicateLimitPerMille, ...rest } = example;
    expect(duplicateLimitPerMille).toBe(0.5);
    const spread = example.samples.map((one, i) => ({
      ...one,
      sampleMassMilligrams: 250,
      // 0.15 mg apart in 250 mg: 0.6 ‰ apart.
      cornetMassMilligrams: 229.4 + 0.15 * i,
    }));
    const input = { ...rest, interpolation: 'mean' as const, samples: spread };
    const remembered = cupellationRun(input);
    expect(remembered.melts[0]?.duplicatesAgree).toBe(false);
    expect(remembered.duplicateLimitBasis).toBe('remembered, to be confirmed');
    expect(remembered.words).toContain('confirmed against the purchased standard');
    expect(cupellationRun({ ...input, alloy: 'white' }).melts[0]?.duplicatesAgree).toBe(true);
    // Exactly on the limit, though 0.6 is not a double.
    const own = cupellationRun({ ...input, duplicateLimitPerMille: 0.6 });
    expect(own.melts[0]?.duplicatesAgree).toBe(true);
  });

  it('takes the scope of the method version and keeps melts apart', () => {
    const [first, second] = example.samples as [
      CupellationRunInput['samples'][number],
      CupellationRunInput['samples'][number],
    ];
    const run = cupellationRun({
      ...example,
      samples: [first, { ...second, melt: 'B', cornetMassMilligrams: 200 }],
      scope: { lowestPerMille: 333, highestPerMille: 900 },
    });
    expect(run.melts.map((one) => one.scope)).toEqual(['outside', 'inside']);
    expect(run.melts.map((one) => one.rangePerMille)).toEqual([null, null]);
  });

  it('refuses an exchanged cornet and a plane that leaves no spread', () => {
    const samples = [{ ...example.samples[0], cornetMassMilligrams: 260 }] as never;
    expect(() => cupellationRun({ ...example, samples })).toThrow('by more than 1 %');
    const { repeatabilityStandardDeviationPerMille, ...rest } = example;
    expect(repeatabilityStandardDeviationPerMille).toBe(0.15);
    expect(() => cupellationRun({ ...rest, interpolation: 'plane' })).toThrow(
      'a plane through three proofs leaves no spread',
    );
  });

  it('refuses two things in one place', () => {
    const samples = example.samples.map((one) => ({ ...one, row: 1, column: 1 }));
    const result = runCalculation(cupellationRunCalculation as unknown as Calculation, {
      ...example,
      samples,
    });
    expect(result).toMatchObject({
      outcome: 'refused',
      problems: [{ field: 'samples.0.row' }, {}],
    });
  });
});

describe('cupellationCharge', () => {
  const charge = cupellationChargeCalculation.example;

  it('never takes silver away and needs none where the alloy holds enough', () => {
    const rich = cupellationCharge({
      ...charge,
      goldFinenessPerMille: 200,
      silverFinenessPerMille: 700,
    });
    expect(rich.silverToAddMilligrams).toBe(0);
  });

  it('takes more lead for base alloys, nickel and large samples', () => {
    // D'Arcet: 26 parts at 500 ‰, so 6.5 g for 250 mg against 6 g of the clause.
    const base = { ...charge, goldFinenessPerMille: 500, silverFinenessPerMille: 0 };
    expect(cupellationCharge(base).leadToTakeGrams).toBeCloseTo(6.5, 12);
    expect(cupellationCharge({ ...charge, isNickelWhiteGold: true }).leastLeadGrams).toBe(10);
    expect(cupellationCharge({ ...charge, sampleMassMilligrams: 500 }).leastLeadGrams).toBeNull();
    expect(
      cupellationCharge({ ...charge, goldFinenessPerMille: 0, silverFinenessPerMille: 0 })
        .leadByFinenessGrams,
    ).toBeCloseTo(8.5, 12);
  });

  it('warns of a ratio outside the clause and refuses more than the whole', () => {
    expect(cupellationCharge({ ...charge, silverToGoldRatio: 4 }).words).toContain(
      'the cornet breaks',
    );
    expect(() => cupellationCharge({ ...charge, silverFinenessPerMille: 100 })).toThrow(
      'at most 83.39',
    );
  });
});
