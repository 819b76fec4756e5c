import { describe, expect, it } from 'vitest';
import {
  conformanceProbability,
  finenessVerdict,
  type GlobalRisk,
  globalRisk,
  guardedLimit,
  highestFinenessMark,
  lowerTail,
  lowerTailQuantile,
} from '../../src/conformity/fineness-verdict.ts';
import { verdictAtStatedRisk } from '../../src/conformity/verdict-at-stated-risk.ts';
import values from './values.json' with { type: 'json' };

interface Expected {
  readonly name: string;
  readonly value: number;
  readonly tolerance: number;
}

interface Case {
  readonly id: string;
  readonly title: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly Expected[];
  readonly decisions?: Readonly<Record<string, string>>;
}

const cases = values.cases as unknown as readonly Case[];

function casesNamed(prefix: string): readonly Case[] {
  const found = cases.filter((one) => one.id.startsWith(prefix));
  if (found.length === 0) throw new Error(`no case ${prefix}`);
  return found;
}

function expectValues(one: Case, actual: Readonly<Record<string, number>>): void {
  for (const { name, value, tolerance } of one.expected) {
    const found = actual[name];
    if (found === undefined) throw new Error(`${one.id}: nothing computed for ${name}`);
    expect(Math.abs(found - value), `${one.id}: ${name}`).toBeLessThanOrEqual(tolerance);
  }
}

describe('JCGM 106 examples', () => {
  it('give the probability that the breakdown voltage conforms', () => {
    for (const one of casesNamed('jcgm106-zener')) {
      const [value, standardUncertainty] = [Number(one.inputs.y), Number(one.inputs.u)];
      const upperLimit = Number(one.inputs.T_U);
      expectValues(one, {
        z: (upperLimit - value) / standardUncertainty,
        p_c: conformanceProbability({ value, standardUncertainty, upperLimit }),
      });
    }
  });

  it('give the probability that the viscosity lies between two limits', () => {
    for (const one of casesNamed('jcgm106-oil')) {
      expectValues(one, {
        p_c: conformanceProbability({
          value: Number(one.inputs.y),
          standardUncertainty: Number(one.inputs.u),
          lowerLimit: Number(one.inputs.T_L),
          upperLimit: Number(one.inputs.T_U),
        }),
      });
    }
  });

  it('give the speed from which exceeding the limit is sure enough', () => {
    for (const one of casesNamed('jcgm106-speed')) {
      const limit = Number(one.inputs.v0);
      const requiredProbability = Number(one.inputs['required probability of exceeding']);
      const speed = guardedLimit({
        limit,
        relativeStandardUncertainty: Number(one.inputs['relative u']),
        requiredProbability,
        conforms: 'above',
      });
      expectValues(one, {
        z: lowerTailQuantile(requiredProbability),
        v_max: speed,
        'guard band': speed - limit,
      });
    }
  });

  it('give the quantiles of table 1', () => {
    for (const [probability = 0, z = 0] of values.table.rows) {
      expect(Math.abs(lowerTailQuantile(probability) - z)).toBeLessThanOrEqual(0.005);
    }
  });
});

describe('guard bands as multiples of U', () => {
  for (const one of casesNamed('guard-band-r')) {
    it(`bound the risk of an accepted item: ${one.title}`, () => {
      const risk = lowerTail(-Number(one.inputs.r) * Number(one.inputs.k));
      expectValues(one, { 'upper bound of the specific false-accept probability': risk });
    });
  }
});

describe('decisions against the least fineness', () => {
  // The words of the non-binary statement for the three states of the verdict.
  const verdicts: Readonly<Record<string, string>> = {
    pass: 'passes',
    'conditional pass': 'undecided',
    'conditional fail': 'undecided',
    fail: 'fails',
  };
  for (const one of casesNamed('fineness-decision-')) {
    it(`follow every rule of ${one.id}`, () => {
      const base = {
        finenessPerMille: Number(one.inputs.y),
        standardUncertaintyPerMille: Number(one.inputs.U) / 2,
        limitPerMille: Number(one.inputs.T_L),
        requiredConformanceProbability: 0.95,
      };
      const simple = finenessVerdict({ ...base, guardFactor: 0 });
      const full = finenessVerdict({ ...base, guardFactor: 2 });
      const reduced = finenessVerdict({ ...base, guardFactor: 1.66 });
      expectValues(one, {
        'conformance probability': full.conformanceProbability,
        'acceptance limit w = U': full.acceptanceLimitPerMille,
        'acceptance limit w = 0.83 U': reduced.acceptanceLimitPerMille,
      });
      const binary = (verdict: string) => (verdict === 'passes' ? 'accept' : 'reject');
      expect(binary(simple.verdict)).toBe(one.decisions?.['simple acceptance']);
      expect(binary(full.verdict)).toBe(one.decisions?.['binary, w = U']);
      expect(binary(reduced.verdict)).toBe(one.decisions?.['binary, w = 0.83 U']);
      expect(full.verdict).toBe(verdicts[one.decisions?.['non-binary, w = U'] ?? '']);
    });
  }

  it('find the fineness that must be shown for a required probability', () => {
    for (const one of casesNamed('guarded-limit-lower-p95')) {
      const limitPerMille = Number(one.inputs.T_L);
      const output = finenessVerdict({
        finenessPerMille: limitPerMille,
        standardUncertaintyPerMille: Number(one.inputs.u),
        limitPerMille,
        guardFactor: 0,
        requiredConformanceProbability: Number(one.inputs['required p_c']),
      });
      expectValues(one, {
        'guard band': output.finenessToBuyPerMille - limitPerMille,
        A_L: output.finenessToBuyPerMille,
      });
    }
  });

  it('put the acceptance limit where a required probability is shown', () => {
    for (const one of casesNamed('guarded-limit-lower-p95')) {
      const limitPerMille = Number(one.inputs.T_L);
      const output = verdictAtStatedRisk({
        finenessPerMille: limitPerMille,
        standardUncertaintyPerMille: Number(one.inputs.u),
        limitPerMille,
        degreesOfFreedom: null,
        requiredConformanceProbability: Number(one.inputs['required p_c']),
      });
      expectValues(one, {
        'guard band': output.guardBandPerMille,
        A_L: output.acceptanceLimitPerMille,
      });
    }
  });

  it('are the same at a stated risk as with the guard band that it stands for', () => {
    for (const one of casesNamed('fineness-decision-')) {
      // A guard band of U with k = 2 is a required probability of 0.97725 (Φ(2)).
      const output = verdictAtStatedRisk({
        finenessPerMille: Number(one.inputs.y),
        standardUncertaintyPerMille: Number(one.inputs.U) / 2,
        limitPerMille: Number(one.inputs.T_L),
        degreesOfFreedom: null,
        requiredConformanceProbability: lowerTail(2),
      });
      expect(output.verdict).toBe(verdicts[one.decisions?.['non-binary, w = U'] ?? '']);
      expectValues(
        { ...one, expected: one.expected.slice(0, 2) },
        {
          'conformance probability': output.conformanceProbability,
          'acceptance limit w = U': output.acceptanceLimitPerMille,
        },
      );
    }
  });

  it('find the mark that an article may carry', () => {
    for (const one of casesNamed('fineness-mark-fi-')) {
      const mark = highestFinenessMark(
        Number(one.inputs.fineness),
        one.inputs.standards as readonly number[],
      );
      expectValues(one, { 'highest standard that may be marked': mark ?? Number.NaN });
    }
  });
});

describe('global risks', () => {
  const named = (risk: GlobalRisk) => ({
    'p_c of the process': risk.processConformance,
    "consumer's risk R_C": risk.consumerRisk,
    "producer's risk R_P": risk.producerRisk,
  });

  it('of the resistors, without and with a guard band', () => {
    for (const one of casesNamed('global-risk-resistor')) {
      const [lower = 0, upper = 0] = one.inputs.T as number[];
      const [acceptLower = 0, acceptUpper = 0] = one.inputs.A as number[];
      const risk = globalRisk({
        process: {
          kind: 'normal',
          mean: Number(one.inputs['process mean']),
          standardDeviation: Number(one.inputs.u0),
        },
        measuringStandardUncertainty: Number(one.inputs.u_m),
        limits: { lower, upper },
        acceptance: { lower: acceptLower, upper: acceptUpper },
      });
      expectValues(one, named(risk));
    }
  });

  it('of the bearings, whose error is positive', () => {
    for (const one of casesNamed('global-risk-bearing')) {
      const { shape, rate } = one.inputs.process as { shape: number; rate: number };
      const risk = globalRisk({
        process: { kind: 'gamma', shape, rate },
        measuringStandardUncertainty: Number(one.inputs.u_m),
        limits: { upper: Number(one.inputs.T_U) },
        acceptance: { upper: Number(one.inputs.A_U) },
      });
      expectValues(one, named(risk));
    }
  });

  it('of a centred process under simple acceptance, by test uncertainty ratio', () => {
    for (const [conforming = 0, ratio = 1, consumer, producer] of values.globalRiskTable.rows) {
      const standardDeviation = 1 / lowerTailQuantile((1 + conforming) / 2);
      const risk = globalRisk({
        process: { kind: 'normal', mean: 0, standardDeviation },
        measuringStandardUncertainty: 1 / ratio / 2,
        limits: { lower: -1, upper: 1 },
        acceptance: { lower: -1, upper: 1 },
      });
      expect(100 * risk.consumerRisk).toBeCloseTo(consumer ?? Number.NaN, 3);
      expect(100 * risk.producerRisk).toBeCloseTo(producer ?? Number.NaN, 3);
    }
  });
});
