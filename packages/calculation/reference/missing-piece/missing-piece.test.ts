import { describe, expect, it } from 'vitest';
import { hypergeometricAcceptance } from '../../src/sampling/acceptance-probability.ts';
import { gramRatio, weighingRatio } from '../../src/search/container-evidence.ts';
import type { FaultModel } from '../../src/search/fault-model.ts';
import { faultPosterior } from '../../src/search/fault-posterior.ts';
import { afterVainLook, meanWeighingsByHalves, searchOrder } from '../../src/search/looking.ts';
import values from './values.json' with { type: 'json' };

interface Case<Inputs, Expected> {
  readonly id: string;
  readonly title: string;
  readonly inputs: Inputs;
  readonly expected: Expected;
  readonly tolerance: { readonly abs?: number; readonly rel?: number };
}

function casesOf<Inputs, Expected>(kind: string): Case<Inputs, Expected>[] {
  const found = values.cases.filter((one) => one.kind === kind);
  if (found.length === 0) throw new Error(`no case of kind ${kind}`);
  return found as unknown as Case<Inputs, Expected>[];
}

function expectNear(
  actual: number | undefined,
  expected: number,
  tolerance: { readonly abs?: number; readonly rel?: number },
): void {
  const allowed = (tolerance.abs ?? 0) + (tolerance.rel ?? 0) * Math.abs(expected);
  expect(Math.abs((actual ?? Number.NaN) - expected)).toBeLessThanOrEqual(allowed);
}

describe('the weight of a weighing', () => {
  type Inputs = {
    dev_g: number;
    shift_pieces: number;
    mu: number;
    s: number;
    eps: number;
    broad_g: number;
  };
  for (const one of casesOf<Inputs, { lr: number }>('mixture_lr')) {
    it(`${one.id}: ${one.title}`, () => {
      const { dev_g, shift_pieces, mu, s, eps, broad_g } = one.inputs;
      const ratio = weighingRatio(
        { deviationGrams: dev_g, predictedGrams: 0, standardUncertaintyGrams: s },
        { pieces: shift_pieces, pieceMassGrams: mu },
        { probability: eps, spreadGrams: broad_g },
      );
      expectNear(ratio, one.expected.lr, one.tolerance);
    });
  }

  type Grams = { mb_g: number; sigma_g: number; piece_g: number };
  for (const one of casesOf<Grams, { lr: number }>('gram_evidence')) {
    it(`${one.id}: ${one.title}`, () => {
      const { mb_g, sigma_g, piece_g } = one.inputs;
      const balance = { missingGrams: mb_g, standardUncertaintyGrams: sigma_g };
      expectNear(gramRatio(balance, piece_g), one.expected.lr, one.tolerance);
    });
  }
});

describe('the posterior of faults', () => {
  type Expected = { p_no_fault: number; marginals: Record<string, number> };
  for (const one of casesOf<FaultModel, Expected>('lattice_posterior')) {
    it(`${one.id}: ${one.title}`, () => {
      const output = faultPosterior(one.inputs);
      expectNear(output.noFaultProbability, one.expected.p_no_fault, one.tolerance);
      for (const [key, probability] of Object.entries(one.expected.marginals)) {
        const [name, value] = key.split(' ');
        const found = output.faults.find(
          (fault) => fault.name === name && fault.value === Number(value),
        );
        expectNear(found?.probability ?? 0, probability, one.tolerance);
      }
    });
  }

  type Hypotheses = { hypotheses: { name: string; prior: number; lr: number }[] };
  for (const one of casesOf<Hypotheses, { posterior: Record<string, number> }>(
    'hypothesis_posterior',
  )) {
    it(`${one.id}: ${one.title}`, () => {
      // Stories that exclude one another are the options of one variable.
      const options = one.inputs.hypotheses.map(({ prior, lr }, at) => ({
        value: at + 1,
        weight: prior * lr,
        signature: [1],
      }));
      const { faults } = faultPosterior({ residual: [1], variables: [{ name: 'story', options }] });
      for (const [at, { name }] of one.inputs.hypotheses.entries()) {
        const fault = faults.find(({ value }) => value === at + 1);
        expectNear(fault?.probability, one.expected.posterior[name] ?? Number.NaN, one.tolerance);
      }
    });
  }

  type Cancelling = { p_each: number; tubes: number };
  type Hidden = { p_hidden_given_zero: number; p_total_zero: number };
  for (const one of casesOf<Cancelling, Hidden>('cancelling_faults')) {
    it(`${one.id}: ${one.title}`, () => {
      const { p_each, tubes } = one.inputs;
      // The rate of either error is per tube, and a tube is right with 1 - 2p.
      const weight = p_each / (1 - 2 * p_each);
      const variables = Array.from({ length: tubes }, (_, at) => ({
        name: `tube ${at}`,
        options: [
          { value: -1, weight, signature: [-1] },
          { value: 1, weight, signature: [1] },
        ],
      }));
      const output = faultPosterior({ residual: [0], variables });
      expectNear(1 - output.noFaultProbability, one.expected.p_hidden_given_zero, one.tolerance);
      const total = Math.exp((output.evidenceLogarithm ?? 0) + tubes * Math.log1p(-2 * p_each));
      expectNear(total, one.expected.p_total_zero, one.tolerance);
    });
  }
});

describe('where to look', () => {
  type Places = { places: { name: string; p: number; cost: number; q: number }[] };
  type Order = { order: string[]; expected_cost: number; p_found: number };
  for (const one of casesOf<Places, Order>('search_order')) {
    it(`${one.id}: ${one.title}`, () => {
      const places = one.inputs.places.map(({ name, p, cost, q }) => ({
        name,
        probability: p,
        minutes: cost,
        seenIfThere: q,
      }));
      const output = searchOrder({ places, looks: 0 });
      expect(output.order.map(({ name }) => name)).toEqual(one.expected.order);
      expectNear(output.expectedMinutes, one.expected.expected_cost, one.tolerance);
      expectNear(output.foundProbability, one.expected.p_found, one.tolerance);
    });
  }

  type Repeat = {
    places: { name: string; p: number; overlook: number; cost: number }[];
    steps: number;
  };
  for (const one of casesOf<Repeat, { sequence: string[]; p_found: number }>('search_repeat')) {
    it(`${one.id}: ${one.title}`, () => {
      const places = one.inputs.places.map(({ name, p, overlook, cost }) => ({
        name,
        probability: p,
        minutes: cost,
        seenIfThere: 1 - overlook,
      }));
      const output = searchOrder({ places, looks: one.inputs.steps });
      expect(output.order.map(({ name }) => name)).toEqual(one.expected.sequence);
      expectNear(output.foundProbability, one.expected.p_found, one.tolerance);
    });
  }

  type Update = { posterior: Record<string, number>; looked: string; q: number };
  for (const one of casesOf<Update, { posterior: Record<string, number> }>('search_update')) {
    it(`${one.id}: ${one.title}`, () => {
      const names = Object.keys(one.inputs.posterior);
      // The probabilities are printed with six digits and sum to 0.99999; the result sums to 1.
      const printed = Object.values(one.inputs.posterior);
      const sum = printed.reduce((total, value) => total + value, 0);
      const after = afterVainLook(
        printed.map((value) => value / sum),
        {
          at: names.indexOf(one.inputs.looked),
          seenIfThere: one.inputs.q,
        },
      );
      for (const [at, name] of names.entries()) {
        expectNear(after[at], one.expected.posterior[name] ?? Number.NaN, one.tolerance);
      }
    });
  }

  for (const one of casesOf<{ N: number }, { mean_weighings: number }>('bisect')) {
    it(`${one.id}: ${one.title}`, () => {
      expectNear(meanWeighingsByHalves(one.inputs.N), one.expected.mean_weighings, one.tolerance);
    });
  }

  type Sample = { N: number; defects: number; n: number };
  for (const one of casesOf<Sample, { p_detect: number }>('attribute_sampling')) {
    it(`${one.id}: ${one.title}`, () => {
      const { N, defects, n } = one.inputs;
      const missed = hypergeometricAcceptance(
        { sampleSizePieces: n, acceptanceNumber: 0 },
        { lotSizePieces: N, nonconformingPieces: defects },
      );
      expectNear(1 - missed, one.expected.p_detect, one.tolerance);
    });
  }
});
