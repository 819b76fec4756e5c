import { describe, expect, it } from 'vitest';
import { acceptanceLimit } from '../../src/conformity/acceptance-limit.ts';
import { conformanceStatement } from '../../src/conformity/conformance-statement.ts';
import { decisionRisks } from '../../src/conformity/decision-risks.ts';
import { lowerTailQuantile } from '../../src/conformity/fineness-verdict.ts';
import { type GuardBandsInput, guardBands } from '../../src/conformity/guard-bands.ts';
import { normalGlobalRisk } from '../../src/conformity/normal-global-risk.ts';
import values from './values.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly title: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly {
    readonly name: string;
    readonly value: number;
    readonly tolerance: number;
  }[];
  readonly decisions?: Readonly<Record<string, string>>;
}

const cases = values.cases as unknown as readonly Case[];
const named = (prefix: string) => {
  const found = cases.filter((one) => one.id.startsWith(prefix));
  if (found.length === 0) throw new Error(`no case ${prefix}`);
  return found;
};

function expectValue(one: Case, name: string, found: number): void {
  const expected = one.expected.find((entry) => entry.name === name);
  if (expected === undefined) throw new Error(`${one.id}: no value ${name}`);
  expect(Math.abs(found - expected.value), `${one.id}: ${name}`).toBeLessThanOrEqual(
    expected.tolerance,
  );
}

describe('probability of conformity', () => {
  it.each(['jcgm106-zener', 'jcgm106-oil'])('agrees in %s', (id) => {
    for (const one of named(id)) {
      const output = conformanceStatement({
        unit: '1',
        lowerLimit: one.inputs.T_L === undefined ? null : Number(one.inputs.T_L),
        upperLimit: Number(one.inputs.T_U),
        knowledge: {
          kind: 'result',
          value: Number(one.inputs.y),
          standardUncertainty: Number(one.inputs.u),
          degreesOfFreedom: null,
        },
      });
      expectValue(one, 'p_c', output.conformanceProbability);
    }
  });
});

describe('decision rules on the least fineness', () => {
  const input = (one: Case): GuardBandsInput => ({
    unit: '‰',
    value: Number(one.inputs.y),
    standardUncertainty: Number(one.inputs.U) / 2,
    coverageFactor: 2,
    degreesOfFreedom: null,
    lowerLimit: Number(one.inputs.T_L),
    upperLimit: null,
    rule: { kind: 'guard band U' },
    burdenOfProof: 'seller',
  });

  it.each(named('fineness-decision-'))('agree under each rule: $id', (one) => {
    const binary = (verdict: string) => (verdict === 'passes' ? 'accept' : 'reject');
    const full = guardBands(input(one));
    const simple = guardBands({ ...input(one), rule: { kind: 'simple acceptance' } });
    const reduced = guardBands({ ...input(one), rule: { kind: 'share of U', share: 0.83 } });
    expect(binary(simple.verdict)).toBe(one.decisions?.['simple acceptance']);
    expect(binary(full.verdict)).toBe(one.decisions?.['binary, w = U']);
    expect(binary(reduced.verdict)).toBe(one.decisions?.['binary, w = 0.83 U']);
    expect(full.zone).toBe(one.decisions?.['non-binary, w = U']);
    expectValue(one, 'conformance probability', full.conformanceProbability);
    expectValue(one, 'acceptance limit w = U', full.acceptanceLower ?? Number.NaN);
    expectValue(one, 'acceptance limit w = 0.83 U', reduced.acceptanceLower ?? Number.NaN);
  });

  it.each(named('guard-band-r'))('bound the risk of what passes: $title', (one) => {
    const [base] = named('fineness-decision-a');
    const share = Number(one.inputs.r);
    const output = guardBands({
      ...input(base as Case),
      coverageFactor: Number(one.inputs.k),
      rule: { kind: 'share of U', share },
    });
    const name = 'upper bound of the specific false-accept probability';
    expectValue(one, name, output.greatestConsumerRisk);
  });

  it('give the guarded limit for a required probability, by both roads', () => {
    for (const one of named('guarded-limit-lower-p95')) {
      const [limit, u] = [Number(one.inputs.T_L), Number(one.inputs.u)];
      const probability = Number(one.inputs['required p_c']);
      const rule = guardBands({
        ...input(one),
        value: limit,
        lowerLimit: limit,
        standardUncertainty: u,
        rule: { kind: 'required probability', probability },
      });
      const solved = acceptanceLimit({
        unit: '‰',
        measuringStandardUncertainty: u,
        lowerLimit: limit,
        upperLimit: null,
        process: null,
        requirement: { kind: 'conformance of each accepted item', probability },
      });
      expectValue(one, 'A_L', rule.acceptanceLower ?? Number.NaN);
      expectValue(one, 'guard band', rule.guardBand);
      expectValue(one, 'A_L', solved.acceptanceLower ?? Number.NaN);
      expectValue(one, 'guard band', solved.guardBand ?? Number.NaN);
    }
  });

  it('let the buyer refuse only above the speed that proves the excess', () => {
    for (const one of named('jcgm106-speed')) {
      // The uncertainty is proportional to the measured speed: taken at the speed itself.
      const probability = Number(one.inputs['required probability of exceeding']);
      const expected = one.expected.find(({ name }) => name === 'v_max')?.value ?? Number.NaN;
      const measured = (value: number) =>
        guardBands({
          unit: 'km/h',
          value,
          standardUncertainty: Number(one.inputs['relative u']) * value,
          coverageFactor: 2,
          degreesOfFreedom: null,
          lowerLimit: null,
          upperLimit: Number(one.inputs.v0),
          rule: { kind: 'required probability', probability },
          burdenOfProof: 'buyer',
        }).verdict;
      expect(measured(expected - 0.5)).toBe('passes');
      expect(measured(expected)).toBe('fails');
    }
  });
});

describe('global risks', () => {
  const check = (one: Case, output: ReturnType<typeof decisionRisks>) => {
    expectValue(one, 'p_c of the process', output.processConformance);
    expectValue(one, "consumer's risk R_C", output.consumerRisk);
    expectValue(one, "producer's risk R_P", output.producerRisk);
  };

  it.each(named('global-risk-resistor'))('agree in closed form: $id', (one) => {
    const [lower = 0, upper = 0] = one.inputs.T as number[];
    const [accepted = 0] = one.inputs.A as number[];
    const output = decisionRisks({
      unit: 'Ω',
      process: {
        kind: 'normal',
        mean: Number(one.inputs['process mean']),
        standardDeviation: Number(one.inputs.u0),
      },
      measuringStandardUncertainty: Number(one.inputs.u_m),
      lowerLimit: lower,
      upperLimit: upper,
      guardBand: accepted - lower,
      measuredValue: null,
    });
    check(one, output);
  });

  it.each(named('global-risk-bearing'))('agree by quadrature: $id', (one) => {
    const { shape, rate } = one.inputs.process as { shape: number; rate: number };
    const upper = Number(one.inputs.T_U);
    const output = decisionRisks({
      unit: 'µm',
      process: { kind: 'gamma', shape, rate },
      measuringStandardUncertainty: Number(one.inputs.u_m),
      lowerLimit: null,
      upperLimit: upper,
      guardBand: upper - Number(one.inputs.A_U),
      measuredValue: null,
    });
    check(one, output);
  });

  it('agree with the table of a centred process by ratio of tolerance to uncertainty', () => {
    for (const [conforming = 0, ratio = 1, consumer, producer] of values.globalRiskTable.rows) {
      const risk = normalGlobalRisk({
        process: { mean: 0, standardDeviation: 1 / lowerTailQuantile((1 + conforming) / 2) },
        measuringStandardUncertainty: 1 / ratio / 2,
        limits: { lower: -1, upper: 1 },
        acceptance: { lower: -1, upper: 1 },
      });
      expect(100 * risk.consumerRisk).toBeCloseTo(consumer ?? Number.NaN, 3);
      expect(100 * risk.producerRisk).toBeCloseTo(producer ?? Number.NaN, 3);
    }
  });
});
