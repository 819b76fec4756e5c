import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type MetalBalanceInput,
  metalBalance,
  metalBalanceCalculation,
} from '../src/balance/metal-balance.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const trials = 40_000;
const tolerance = 4 / Math.sqrt(2 * trials);

/** One shift with every error drawn: the error of the gross and of the fine difference. */
function simulatedErrors(input: MetalBalanceInput, normal: () => number) {
  const draw = <Entry>(
    entries: readonly Entry[] | undefined,
    name: (entry: Entry) => string,
    deviation: (entry: Entry) => number,
  ) => new Map((entries ?? []).map((entry) => [name(entry), deviation(entry) * normal()]));
  const gains = draw(
    input.scales,
    (one) => one.scale,
    (one) => one.gainRelativeStandardUncertainty,
  );
  const tares = draw(
    input.tareGroups,
    (one) => one.tareGroup,
    (one) => one.standardDeviationGrams,
  );
  const zeros = draw(
    input.zeroings,
    (one) => one.zeroing,
    (one) => one.standardDeviationGrams,
  );
  const biases = draw(
    input.assayMethods,
    (one) => one.assayMethod,
    (one) => one.biasStandardUncertaintyPerMille,
  );
  const assays = draw(
    input.lots,
    (one) => one.lot,
    (one) => one.standardUncertaintyPerMille,
  );
  const finenesses = new Map((input.lots ?? []).map((lot) => [lot.lot, lot]));
  let gross = 0;
  let fine = 0;
  for (const stratum of input.strata) {
    const lot = finenesses.get(stratum.lot ?? '');
    const assayed =
      (lot?.finenessPerMille ?? 0) +
      (assays.get(stratum.lot ?? '') ?? 0) +
      (biases.get(lot?.assayMethod ?? '') ?? 0);
    for (let reading = 0; reading < stratum.count; reading += 1) {
      const shared =
        (tares.get(stratum.tareGroup ?? '') ?? 0) + (zeros.get(stratum.zeroing ?? '') ?? 0);
      const read =
        stratum.massGrams * (1 + (gains.get(stratum.scale) ?? 0)) +
        shared +
        stratum.randomStandardDeviationGrams * normal();
      gross += stratum.sign * (read - stratum.massGrams);
      const trueFine = (stratum.massGrams * (lot?.finenessPerMille ?? 0)) / 1000;
      fine += stratum.sign * ((read * assayed) / 1000 - trueFine);
    }
  }
  return { gross, fine };
}

const fineShift: MetalBalanceInput = {
  strata: [
    {
      label: 'bars',
      sign: 1,
      count: 2,
      massGrams: 12_400,
      scale: 'V',
      randomStandardDeviationGrams: 0.05,
      zeroing: 'noon',
      lot: 'bar',
    },
    {
      label: 'bins',
      sign: 1,
      count: 5,
      massGrams: 3000,
      scale: 'R',
      randomStandardDeviationGrams: 0.2,
      tareGroup: 'bin',
      lot: 'old',
    },
    {
      label: 'boxes',
      sign: -1,
      count: 6,
      massGrams: 6200,
      scale: 'V',
      randomStandardDeviationGrams: 0.1,
      zeroing: 'noon',
      lot: 'bar',
    },
    {
      label: 'sweeps',
      sign: -1,
      count: 1,
      massGrams: 800,
      scale: 'R',
      randomStandardDeviationGrams: 1,
      lot: 'sweeps',
    },
  ],
  scales: [
    { scale: 'V', gainRelativeStandardUncertainty: 2e-5 },
    { scale: 'R', gainRelativeStandardUncertainty: 5e-5 },
  ],
  tareGroups: [{ tareGroup: 'bin', standardDeviationGrams: 0.3 }],
  zeroings: [{ zeroing: 'noon', standardDeviationGrams: 0.1 }],
  lots: [
    { lot: 'bar', finenessPerMille: 999.9, standardUncertaintyPerMille: 0.05, assayMethod: 'fire' },
    { lot: 'old', finenessPerMille: 999.5, standardUncertaintyPerMille: 0.05, assayMethod: 'fire' },
    { lot: 'sweeps', finenessPerMille: 350, standardUncertaintyPerMille: 2 },
  ],
  assayMethods: [{ assayMethod: 'fire', biasStandardUncertaintyPerMille: 0.04 }],
  warnFactor: 2,
  actFactor: 3,
};

describe('standard uncertainty of a balance', () => {
  it('is the spread of simulated shifts on two scales, seed 40', () => {
    const normal = seededNormal(40);
    const input = metalBalanceCalculation.example;
    const errors = Array.from({ length: trials }, () => simulatedErrors(input, normal).gross);
    const claimed = metalBalance(input).standardUncertaintyGrams;
    expect(Math.abs(standardDeviation(errors) / claimed - 1)).toBeLessThan(tolerance);
  });

  it('is the spread of simulated shifts, gross and fine, with every kind of shared error, seed 41', () => {
    const normal = seededNormal(41);
    const errors = Array.from({ length: trials }, () => simulatedErrors(fineShift, normal));
    const output = metalBalance(fineShift);
    const gross = standardDeviation(errors.map((one) => one.gross));
    const fine = standardDeviation(errors.map((one) => one.fine));
    expect(Math.abs(gross / output.standardUncertaintyGrams - 1)).toBeLessThan(tolerance);
    const claimed = output.fine?.standardUncertaintyGrams ?? Number.NaN;
    expect(Math.abs(fine / claimed - 1)).toBeLessThan(tolerance);
  });

  it('splits a difference as simulated shifts do on average, seed 42', () => {
    // Regression of the part of one source on the whole difference has the source's share as slope.
    const normal = seededNormal(42);
    const output = metalBalance(metalBalanceCalculation.example);
    const gain = output.contributions.find((one) => one.source === 'gain R');
    const others = output.contributions.filter((one) => one !== gain);
    let product = 0;
    let square = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const part = (gain?.standardUncertaintyGrams ?? 0) * normal();
      const rest = others.reduce((sum, one) => sum + one.standardUncertaintyGrams * normal(), 0);
      product += part * (part + rest);
      square += (part + rest) ** 2;
    }
    expect(product / square).toBeCloseTo((gain?.sharePercent ?? 0) / 100, 2);
  });
});

const stratum = fc.record({
  sign: fc.constantFrom(1 as const, -1 as const),
  count: fc.integer({ min: 1, max: 20 }),
  massGrams: fc.integer({ min: 0, max: 40_000_000 }).map((milligrams) => milligrams / 1000),
  scale: fc.constantFrom('A', 'B'),
  randomStandardDeviationGrams: fc.double({ min: 0, max: 1, noNaN: true }),
});
const shift = fc.array(stratum, { minLength: 1, maxLength: 12 }).map(
  (strata): MetalBalanceInput => ({
    strata: strata.map((one, index) => ({ ...one, label: `stratum ${index}` })),
    scales: [
      { scale: 'A', gainRelativeStandardUncertainty: 5e-5 },
      { scale: 'B', gainRelativeStandardUncertainty: 1e-5 },
    ],
    warnFactor: 2,
    actFactor: 3,
  }),
);

describe('laws of the balance', () => {
  it('adds milligrams exactly', () => {
    fc.assert(
      fc.property(shift, (input) => {
        const milligrams = input.strata.reduce(
          (sum, one) =>
            sum + BigInt(one.sign * one.count) * BigInt(Math.round(one.massGrams * 1000)),
          0n,
        );
        expect(metalBalance(input).differenceGrossGrams).toBe(Number(milligrams) / 1000);
      }),
      { seed: 43, numRuns: 200 },
    );
  });

  it('turns its sign with all strata and keeps its uncertainty', () => {
    fc.assert(
      fc.property(shift, (input) => {
        const turned = {
          ...input,
          strata: input.strata.map((one) => ({
            ...one,
            sign: one.sign === 1 ? (-1 as const) : (1 as const),
          })),
        };
        const [plain, mirrored] = [metalBalance(input), metalBalance(turned)];
        expect(mirrored.differenceGrossGrams + plain.differenceGrossGrams).toBe(0);
        expect(mirrored.standardUncertaintyGrams).toBeCloseTo(plain.standardUncertaintyGrams, 9);
        expect(mirrored.state).toBe(plain.state);
      }),
      { seed: 44, numRuns: 200 },
    );
  });

  it('has shares that add to 100 % and parts that add to the difference', () => {
    fc.assert(
      fc.property(shift, (input) => {
        const output = metalBalance(input);
        if (output.standardUncertaintyGrams === 0) return;
        const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);
        expect(sum(output.contributions.map((one) => one.sharePercent))).toBeCloseTo(100, 9);
        const parts = sum(output.contributions.map((one) => one.expectedPartGrams));
        const scale = Math.max(1, Math.abs(output.differenceGrossGrams));
        expect(Math.abs(parts - output.differenceGrossGrams) / scale).toBeLessThan(1e-12);
      }),
      { seed: 45, numRuns: 200 },
    );
  });
});
