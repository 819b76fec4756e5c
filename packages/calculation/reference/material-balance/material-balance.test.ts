import { describe, expect, it } from 'vitest';
import {
  alarmProbability,
  attributeDifference,
  type FineLot,
  fineMetal,
  metalBalance,
  type PieceNode,
  type PieceTransfer,
  pieceBalance,
  smallestLossFound,
} from '../../src/balance/metal-balance.ts';
import values from './values.json' with { type: 'json' };

interface Case<Inputs, Expected> {
  readonly id: string;
  readonly title: string;
  readonly inputs: Inputs;
  readonly expected: Expected;
  readonly tolerance: { readonly abs?: number; readonly rel?: number; readonly exact?: boolean };
}

function casesOf<Inputs, Expected>(kind: string): Case<Inputs, Expected>[] {
  const found = values.cases.filter((one) => one.kind === kind);
  if (found.length === 0) throw new Error(`no case of kind ${kind}`);
  return found as unknown as Case<Inputs, Expected>[];
}

type Tolerance = Case<unknown, unknown>['tolerance'];

function expectNear(actual: number | undefined, expected: number, tolerance: Tolerance): void {
  const allowed = (tolerance.abs ?? 0) + (tolerance.rel ?? 0) * Math.abs(expected);
  expect(Math.abs((actual ?? Number.NaN) - expected)).toBeLessThanOrEqual(allowed);
}

const factors = { warnFactor: 2, actFactor: 3 };

describe('balance of a shift', () => {
  type Inputs = { begin: number; additions: number[]; removals: number[]; end: number };
  for (const one of casesOf<Inputs, { mb: number }>('material_balance')) {
    it(one.title, () => {
      const { begin, additions, removals, end } = one.inputs;
      const entry = (label: string, sign: 1 | -1, massGrams: number) => ({
        label,
        sign,
        count: 1,
        massGrams,
        scale: 'A',
        randomStandardDeviationGrams: 0.1,
      });
      const output = metalBalance({
        ...factors,
        strata: [
          entry('begin', 1, begin),
          ...additions.map((mass, index) => entry(`addition ${index}`, 1, mass)),
          ...removals.map((mass, index) => entry(`removal ${index}`, -1, mass)),
          entry('end', -1, end),
        ],
        scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0 }],
      });
      expectNear(output.differenceGrossGrams, one.expected.mb, one.tolerance);
    });
  }
});

describe('standard uncertainty of a balance', () => {
  interface Inputs {
    readonly strata: readonly {
      readonly sign: 1 | -1;
      readonly count: number;
      readonly mass_g: number;
      readonly scale: string;
      readonly random_sd_g: number;
      readonly tare_group: string | null;
    }[];
    readonly gain_u: Readonly<Record<string, number>>;
    readonly tare_sd_g: Readonly<Record<string, number>>;
  }
  interface Expected {
    readonly mb: number;
    readonly var_random: number;
    readonly gain_lever_g: Readonly<Record<string, number>>;
    readonly gain_sd_g: Readonly<Record<string, number>>;
    readonly tare_sd_g: Readonly<Record<string, number>>;
    readonly sigma: number;
  }
  for (const one of casesOf<Inputs, Expected>('balance_sigma')) {
    it(one.title, () => {
      const output = metalBalance({
        ...factors,
        strata: one.inputs.strata.map((stratum, index) => ({
          label: `stratum ${index}`,
          sign: stratum.sign,
          count: stratum.count,
          massGrams: stratum.mass_g,
          scale: stratum.scale,
          randomStandardDeviationGrams: stratum.random_sd_g,
          ...(stratum.tare_group === null ? {} : { tareGroup: stratum.tare_group }),
        })),
        scales: Object.entries(one.inputs.gain_u).map(([scale, relative]) => ({
          scale,
          gainRelativeStandardUncertainty: relative,
        })),
        tareGroups: Object.entries(one.inputs.tare_sd_g).map(([tareGroup, deviation]) => ({
          tareGroup,
          standardDeviationGrams: deviation,
        })),
      });
      const source = (name: string) => output.contributions.find((part) => part.source === name);
      const near = (actual: number | null | undefined, expected: number) =>
        expectNear(actual ?? undefined, expected, one.tolerance);
      near(output.differenceGrossGrams, one.expected.mb);
      near((source('random')?.standardUncertaintyGrams ?? 0) ** 2, one.expected.var_random);
      for (const [scale, lever] of Object.entries(one.expected.gain_lever_g)) {
        near(source(`gain ${scale}`)?.lever, lever);
      }
      for (const [scale, deviation] of Object.entries(one.expected.gain_sd_g)) {
        near(source(`gain ${scale}`)?.standardUncertaintyGrams, deviation);
      }
      for (const [group, deviation] of Object.entries(one.expected.tare_sd_g)) {
        near(source(`tare ${group}`)?.standardUncertaintyGrams, deviation);
      }
      near(output.standardUncertaintyGrams, one.expected.sigma);
    });
  }
});

describe('power of a balance', () => {
  type AlarmInputs = { loss_g: number; sigma_g: number; z: number; side: 'one' | 'two' };
  for (const one of casesOf<AlarmInputs, { p: number }>('alarm_power')) {
    it(one.title, () => {
      const probability = alarmProbability({
        lossGrams: one.inputs.loss_g,
        standardUncertaintyGrams: one.inputs.sigma_g,
        factor: one.inputs.z,
        sides: one.inputs.side,
      });
      expectNear(probability, one.expected.p, one.tolerance);
    });
  }

  type LossInputs = { alpha: number; beta: number; sigma_g: number; side: 'one' | 'two' };
  for (const one of casesOf<LossInputs, { loss_g: number }>('min_detectable')) {
    it(one.title, () => {
      const loss = smallestLossFound({
        standardUncertaintyGrams: one.inputs.sigma_g,
        falseAlarmProbability: one.inputs.alpha,
        missProbability: one.inputs.beta,
        sides: one.inputs.side,
      });
      expectNear(loss, one.expected.loss_g, one.tolerance);
    });
  }
});

describe('split of a difference', () => {
  type Inputs = { mb_g: number; source_sd_g: Record<string, number> };
  type Expected = {
    sigma_g: number;
    share: Record<string, number>;
    expected_g: Record<string, number>;
  };
  for (const one of casesOf<Inputs, Expected>('attribution')) {
    it(one.title, () => {
      const sources = Object.entries(one.inputs.source_sd_g).map(([source, deviation]) => ({
        source,
        standardUncertaintyGrams: deviation,
      }));
      const parts = attributeDifference(one.inputs.mb_g, sources);
      const variance = parts.reduce((sum, part) => sum + part.standardUncertaintyGrams ** 2, 0);
      expectNear(Math.sqrt(variance), one.expected.sigma_g, one.tolerance);
      for (const part of parts) {
        expectNear(part.share, one.expected.share[part.source] ?? Number.NaN, one.tolerance);
        const expectedPart = one.expected.expected_g[part.source] ?? Number.NaN;
        expectNear(part.expectedPartGrams, expectedPart, one.tolerance);
      }
    });
  }
});

describe('fine metal', () => {
  interface Inputs {
    readonly lots: readonly {
      readonly mass_g: number;
      readonly u_mass_g: number;
      readonly fineness: number;
      readonly u_fineness: number;
    }[];
    readonly u_assay_bias: number;
    readonly gain_u: number;
  }
  for (const one of casesOf<Inputs, { fine_g: number; u_g: number }>('fine_metal')) {
    it(`${one.title}: by the sum over lots`, () => {
      const lots = one.inputs.lots.map(
        (lot): FineLot => ({
          massGrams: lot.mass_g,
          massStandardUncertaintyGrams: lot.u_mass_g,
          fineness: lot.fineness,
          finenessStandardUncertainty: lot.u_fineness,
        }),
      );
      const { u_assay_bias: assayBias, gain_u: gain } = one.inputs;
      const fine = fineMetal(lots, { assayBias, gain });
      expectNear(fine.fineGrams, one.expected.fine_g, one.tolerance);
      expectNear(fine.standardUncertaintyGrams, one.expected.u_g, one.tolerance);
    });

    it(`${one.title}: by the levers of the balance`, () => {
      const output = metalBalance({
        ...factors,
        strata: one.inputs.lots.map((lot, index) => ({
          label: `lot ${index}`,
          sign: 1,
          count: 1,
          massGrams: lot.mass_g,
          scale: 'A',
          randomStandardDeviationGrams: lot.u_mass_g,
          lot: `lot ${index}`,
        })),
        scales: [{ scale: 'A', gainRelativeStandardUncertainty: one.inputs.gain_u }],
        lots: one.inputs.lots.map((lot, index) => ({
          lot: `lot ${index}`,
          finenessPerMille: lot.fineness * 1000,
          standardUncertaintyPerMille: lot.u_fineness * 1000,
          assayMethod: 'assay',
        })),
        assayMethods: [
          {
            assayMethod: 'assay',
            biasStandardUncertaintyPerMille: one.inputs.u_assay_bias * 1000,
          },
        ],
      });
      expectNear(output.fine?.differenceFineGrams, one.expected.fine_g, one.tolerance);
      expectNear(output.fine?.standardUncertaintyGrams, one.expected.u_g, one.tolerance);
    });
  }
});

describe('pieces', () => {
  type Inputs = { nodes: Record<string, PieceNode>; transfers: PieceTransfer[] };
  type Expected = {
    residual: Record<string, number>;
    internal_gap: number;
    plant_balance: number;
  };
  for (const one of casesOf<Inputs, Expected>('piece_nodes')) {
    it(one.title, () => {
      expect(pieceBalance(one.inputs.nodes, one.inputs.transfers)).toEqual({
        residualByNode: one.expected.residual,
        internalGap: one.expected.internal_gap,
        plantBalance: one.expected.plant_balance,
      });
    });
  }
});

describe('melt of scrap', () => {
  interface Part {
    readonly mass_g: number;
    readonly u_mass_g: number;
    readonly fineness: number;
    readonly u_fineness: number;
  }
  type Inputs = { inputs: Part[]; outputs: Part[]; u_assay_bias: number };
  interface Expected {
    readonly gross_loss_g: number;
    readonly fine_loss_g: number;
    readonly fine_loss_permille: number;
    readonly u_fine_loss_g: number;
  }
  for (const one of casesOf<Inputs, Expected>('melt_balance')) {
    it(one.title, () => {
      const parts = [
        ...one.inputs.inputs.map((part) => ({ ...part, sign: 1 as const })),
        ...one.inputs.outputs.map((part) => ({ ...part, sign: -1 as const })),
      ];
      const output = metalBalance({
        ...factors,
        strata: parts.map((part, index) => ({
          label: `part ${index}`,
          sign: part.sign,
          count: 1,
          massGrams: part.mass_g,
          scale: 'A',
          randomStandardDeviationGrams: part.u_mass_g,
          lot: `lot ${index}`,
        })),
        scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0 }],
        lots: parts.map((part, index) => ({
          lot: `lot ${index}`,
          finenessPerMille: part.fineness * 1000,
          standardUncertaintyPerMille: part.u_fineness * 1000,
          assayMethod: 'assay',
        })),
        assayMethods: [
          { assayMethod: 'assay', biasStandardUncertaintyPerMille: one.inputs.u_assay_bias * 1000 },
        ],
      });
      const { fine } = output;
      const fineIn = one.inputs.inputs.reduce((sum, part) => sum + part.mass_g * part.fineness, 0);
      const lost = fine?.differenceFineGrams ?? Number.NaN;
      expectNear(output.differenceGrossGrams, one.expected.gross_loss_g, one.tolerance);
      expectNear(lost, one.expected.fine_loss_g, one.tolerance);
      expectNear((1000 * lost) / fineIn, one.expected.fine_loss_permille, one.tolerance);
      expectNear(fine?.standardUncertaintyGrams, one.expected.u_fine_loss_g, one.tolerance);
    });
  }
});

describe('a difference that was closed', () => {
  type Inputs = { parts_oz: number[]; throughput_fraction: number };
  type Expected = { total_oz: number; implied_throughput_oz: number };
  for (const one of casesOf<Inputs, Expected>('published_sum')) {
    it(`${one.title}: the parts found leave nothing open`, () => {
      const gramsPerOunce = 31.1034768;
      const entry = (sign: 1 | -1, ounces: number, index = 0) => ({
        label: `part ${index}`,
        sign,
        count: 1,
        massGrams: ounces * gramsPerOunce,
        scale: 'A',
        randomStandardDeviationGrams: 0,
      });
      const { total_oz, implied_throughput_oz } = one.expected;
      const output = metalBalance({
        ...factors,
        strata: [
          entry(1, total_oz),
          ...one.inputs.parts_oz.map((part, index) => entry(-1, part, index + 1)),
        ],
        scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0 }],
      });
      expectNear(output.differenceGrossGrams, 0, one.tolerance);
      const throughput = total_oz / one.inputs.throughput_fraction;
      expectNear(throughput, implied_throughput_oz, one.tolerance);
    });
  }
});
