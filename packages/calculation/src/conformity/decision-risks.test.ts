import { describe, expect, it } from 'vitest';
import { acceptanceLimit, acceptanceLimitCalculation } from './acceptance-limit.ts';
import { bivariateNormal, owensT } from './bivariate-normal.ts';
import { decisionRisks, decisionRisksCalculation } from './decision-risks.ts';
import { finenessToBuy, finenessToBuyCalculation } from './fineness-to-buy.ts';
import { probabilityFromSamples } from './known-distribution.ts';
import { normalGlobalRisk } from './normal-global-risk.ts';

describe('risks of a decision rule', () => {
  const { example } = decisionRisksCalculation;

  it('share out all items', () => {
    const output = decisionRisks(example);
    const { processConformance, acceptedShare, consumerRisk, producerRisk } = output;
    expect(processConformance - producerRisk + consumerRisk).toBeCloseTo(acceptedShare, 13);
    expect(output.nonconformingShareOfAccepted).toBeCloseTo(consumerRisk / acceptedShare, 14);
  });

  it('are drawn for guard bands that leave something between the limits, however wide', () => {
    // 1499.8 + 0.2 and 1500.2 - 0.2 meet, though 0.2 is below half the difference of the doubles.
    const wide = { ...example, measuringStandardUncertainty: 0.4 };
    expect(decisionRisksCalculation.draw?.(wide, decisionRisks(wide))).toMatchObject([
      { kind: 'chart' },
    ]);
  });

  it('regard the process in the risk of one item', () => {
    // Posterior by hand: weights 0.12²/(0.12² + 0.04²) = 0.9; mean 1500.135, deviation 0.04·√0.9;
    // z = 0.065/0.037947 = 1.7129, Φ = 0.95664.
    const output = decisionRisks(example);
    expect(output.itemConformanceProbability).toBeCloseTo(0.9566, 4);
    expect(output.itemAccepted).toBe(true);
    expect(output.itemRisk).toBeCloseTo(0.0434, 4);
    const refused = decisionRisks({ ...example, guardBand: 0.08 });
    expect(refused.itemAccepted).toBe(false);
    expect(refused.itemRisk).toBeCloseTo(0.9566, 4);
    const none = decisionRisks({ ...example, measuredValue: null });
    expect(none).toMatchObject({ itemConformanceProbability: null, itemRisk: null });
  });

  it('refuse a guard band that leaves nothing, and a value that cannot be', () => {
    expect(() => decisionRisks({ ...example, guardBand: 0.2 })).toThrow(
      /guardBand is 0.2; accepted: a guard band below half the distance of the limits/,
    );
    const process = { kind: 'gamma', shape: 4, rate: 4 } as const;
    const gamma = { ...example, process, lowerLimit: null, upperLimit: 2 };
    expect(() => decisionRisks({ ...gamma, measuredValue: -5 })).toThrow(
      /measuredValue is -5; accepted: a value that the process can give/,
    );
    expect(() => decisionRisks({ ...gamma, upperLimit: -1 })).toThrow(/limits that enclose a part/);
    expect(() => decisionRisks({ ...example, lowerLimit: null, upperLimit: null })).toThrow(
      /at least one of a lower and an upper limit/,
    );
  });

  it('refuse what their closed form cannot take', () => {
    const options = {
      process: { mean: 0, standardDeviation: 1 },
      measuringStandardUncertainty: 1,
      limits: { lower: 0 },
      acceptance: { lower: 0 },
    };
    const flat = { mean: 0, standardDeviation: 0 };
    expect(() => normalGlobalRisk({ ...options, process: flat })).toThrow(/standardDeviation is 0/);
    expect(() => normalGlobalRisk({ ...options, measuringStandardUncertainty: 0 })).toThrow(
      /measuringStandardUncertainty is 0; accepted: a standard uncertainty above 0/,
    );
    expect(() => normalGlobalRisk({ ...options, limits: { lower: 1, upper: 0 } })).toThrow(
      /limits is 1 to 0; accepted: a lower limit below the upper limit/,
    );
    expect(() => bivariateNormal(0, 0, 1)).toThrow(
      /correlation is 1; accepted: a correlation above/,
    );
    expect(() => owensT(Number.NaN, 1)).toThrow(/accepted: numbers/);
    expect(() => probabilityFromSamples([], 0, 1)).toThrow(/at least 1 sample/);
  });
});

describe('the acceptance limit', () => {
  const { example } = acceptanceLimitCalculation;
  const withProcess = {
    ...example,
    process: { kind: 'normal', mean: 999.93, standardDeviation: 0.02 },
  } as const;

  it('keeps the global risk that was required', () => {
    for (const kind of ['global consumer risk', 'nonconforming share of the accepted'] as const) {
      const requirement = { kind, probability: 0.01 };
      const output = acceptanceLimit({ ...withProcess, requirement });
      const check = decisionRisks({
        unit: '‰',
        process: withProcess.process,
        measuringStandardUncertainty: example.measuringStandardUncertainty,
        lowerLimit: example.lowerLimit,
        upperLimit: null,
        guardBand: output.guardBand ?? Number.NaN,
        measuredValue: null,
      });
      const reached =
        kind === 'global consumer risk' ? check.consumerRisk : check.nonconformingShareOfAccepted;
      expect(reached).toBeCloseTo(0.01, 9);
    }
  });

  it('lies lower when the process is known to be good', () => {
    const alone = acceptanceLimit(example);
    const known = acceptanceLimit(withProcess);
    expect(known.acceptanceLower ?? 0).toBeLessThan(alone.acceptanceLower ?? 0);
    expect(known.edgeConformanceProbability).toBeCloseTo(0.95, 9);
  });

  it('is not needed where the process keeps the requirement by itself', () => {
    const output = acceptanceLimit({
      ...withProcess,
      process: { kind: 'normal', mean: 999.98, standardDeviation: 0.005 },
      requirement: { kind: 'global consumer risk', probability: 0.01 },
    });
    expect(output).toMatchObject({ isNeeded: false, guardBand: null, acceptanceLower: null });
    expect(output.words).toMatch(/no acceptance limit is needed/);
  });

  it('refuses a requirement without the process it needs, or out of reach', () => {
    const requirement = { kind: 'global consumer risk', probability: 0.01 } as const;
    expect(() => acceptanceLimit({ ...example, requirement })).toThrow(
      /process is none; accepted: a process, which this requirement needs/,
    );
    expect(() =>
      acceptanceLimit({ ...example, upperLimit: 999.92, measuringStandardUncertainty: 0.02 }),
    ).toThrow(/requirement.probability is 0.95; accepted: at most 0.38/);
  });
});

describe('the fineness to buy', () => {
  const { example } = finenessToBuyCalculation;

  it('follows its formula by hand', () => {
    // 916.6 + 2 · 0.15 + 1.644854 · √(0.01 + 0.0225) = 917.196531; 0.596531 ‰ of 5 t are 2982.65 g.
    const output = finenessToBuy(example);
    expect(output.now.meanFinenessPerMille).toBeCloseTo(917.196531, 5);
    expect(output.now.excessFineMassGrams).toBeCloseTo(2982.65, 1);
    expect(output.savedPrice).toBeCloseTo(80 * output.savedFineMassGrams, 8);
    expect(output.words).toMatch(/That saves 1129 g/);
  });

  it('says what a larger uncertainty costs', () => {
    const output = finenessToBuy({ ...example, improvedStandardUncertaintyPerMille: 0.2 });
    expect(output.savedFineMassGrams).toBeLessThan(0);
    expect(output.words).toMatch(/That costs .* more/);
  });

  it('refuses a mean above pure metal', () => {
    expect(() => finenessToBuy({ ...example, limitPerMille: 999.9 })).toThrow(
      /standardUncertaintyPerMille is 0.15; accepted: .* a mean fineness of at most 1000 ‰/,
    );
  });
});
