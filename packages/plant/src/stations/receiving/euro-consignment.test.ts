import { readFileSync } from 'node:fs';
import type { CountByWeightOutput } from '@cupel/calculation';
import { beforeAll, describe, expect, it } from 'vitest';
import { calculate } from '../../journal/calculated.ts';
import { balances } from '../../journal/core-books.ts';
import { makeTrial, type Trial } from '../../journal/trial.ts';
import type { Instrument } from '../registers/instruments.ts';
import type { PieceStandard } from '../registers/piece-standard.ts';
import { registersStation } from '../registers/station.ts';
import { goldPiece } from '../registers/trial-registers.ts';
import { blanksOfMelt, drumsOfMelt, samplingOrderOf } from './index.ts';
import { receivingStation } from './station.ts';
import { grams } from './trial-receiving.ts';

/**
 * The weights of 2000 one-euro coins in eight packages of 250, received as eight drums. Source of
 * weights and figures: calculation/reference/euro-coin-weights/SOURCE.md.
 */
const reference = new URL('../../../../calculation/reference/euro-coin-weights/', import.meta.url);

interface Figures {
  readonly all: { readonly mean: number; readonly sd: number };
  readonly per_package: Readonly<
    Record<
      string,
      { readonly n: number; readonly mean: number; readonly min: number; readonly max: number }
    >
  >;
  readonly anova: { readonly ms_between: number; readonly ms_within: number };
  readonly total_mass_per_package_g: Readonly<Record<string, number>>;
  readonly 'count_outside_7.5_plus_minus_0.1': number;
}

const figures = JSON.parse(readFileSync(new URL('figures.json', reference), 'utf8')) as Figures;

/** Whole milligrams of every coin by package, in the order of the file: exact, from the digits. */
const packages = new Map<string, number[]>();
for (const line of readFileSync(new URL('values.csv', reference), 'utf8')
  .trim()
  .split('\n')
  .slice(1)) {
  const [, name = '', mass = ''] = line.split(',');
  packages.set(name, [...(packages.get(name) ?? []), Number(mass.replace('.', ''))]);
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const gramsText = (milligrams: number) => (milligrams / 1000).toFixed(3);

const { ms_within: within, ms_between: between } = figures.anova;
const pieceDeviationGrams = Math.sqrt(within);
const lotDeviationGrams = Math.sqrt((between - within) / 250);

/**
 * A stand-in so that the open data set can go through the plant: the metal is not that of the coin,
 * and its fineness is the least that a standard may declare.
 */
const standIn: PieceStandard = {
  ...goldPiece,
  pieceStandard: 'OPEN-DATA-1',
  title: 'Stand-in for an open data set: one-euro coins',
  metal: 'silver',
  finenessDeclaredPartsPerMillion: 100_000,
  finenessLimitPerMille: 100,
  massDeclaredMilligrams: figures.all.mean * 1000,
  massLeastMilligrams: 7400,
  massGreatestMilligrams: 7600,
  pieceStandardDeviationMilligrams: pieceDeviationGrams * 1000,
  lotStandardDeviationMilligrams: lotDeviationGrams * 1000,
  referencePieces: 2000,
  acceptanceQualityLimitPercent: 1.5,
};

const scale: Instrument = {
  instrument: 'SCALE-1',
  title: 'Scale of one milligram',
  kind: 'balance',
  place: 'receiving',
  divisionGrams: 0.001,
  repeatabilityGrams: 0.002,
  gainRelative: 0.000001,
  calibrationDue: '2026-12-31',
};

const tareMilligrams = 500_000;
const names = [...packages.keys()];
const drumOf = (name: string) => `PACKAGE-${name}`;

const delivery = {
  consignment: 'OPEN-DATA',
  supplier: 'NORTH',
  document: 'Open data set of coin weights',
  pieceStandard: 'OPEN-DATA-1',
  melts: [{ melt: 'EURO', supplierFinenessPerMille: null }],
  drums: names.map((name) => ({
    drum: drumOf(name),
    melt: 'EURO',
    pieces: 250,
    gross: grams(gramsText(Math.round(250 * 7521.2325) + tareMilligrams)),
    tare: grams(gramsText(tareMilligrams)),
    seal: `SEAL-${name}`,
  })),
};

async function record(trial: Trial, command: string, input: unknown, ...who: [string, string?]) {
  const outcome = await trial.do(command, input, ...who);
  if (outcome.outcome === 'refused') throw new Error(JSON.stringify(outcome.refusals));
}

let trial: Trial;

beforeAll(async () => {
  trial = await makeTrial([registersStation, receivingStation]);
  const supplier = { supplier: 'NORTH', name: 'North', approvedUntil: '2026-12-31' };
  await record(trial, 'register-supplier', supplier, 'chief');
  await record(trial, 'register-piece-standard', standIn, 'chief');
  await record(trial, 'register-instrument', scale, 'chief');
  await record(trial, 'announce-consignment', delivery, 'custodian');
  for (const name of names) {
    const weighing = {
      drum: drumOf(name),
      sealFound: `SEAL-${name}`,
      gross: grams(gramsText(sum(packages.get(name) ?? []) + tareMilligrams)),
      tare: grams(gramsText(tareMilligrams)),
      instrument: 'SCALE-1',
    };
    await record(trial, 'weigh-drum', weighing, 'custodian');
  }
});

describe('eight packages of 250 coins received as eight drums', () => {
  it('are weighed in with the masses computed elsewhere', async () => {
    const drums = await drumsOfMelt(trial.books, 'EURO');
    const net = Object.fromEntries(
      drums.map(({ drum, netMicrograms }) => [drum.slice(-1), Number(netMicrograms) / 1e6]),
    );
    expect(net).toEqual(figures.total_mass_per_package_g);
    const totalMicrograms = Math.round(sum(Object.values(figures.total_mass_per_package_g)) * 1e6);
    expect(
      await trial.books.get(balances, 'receiving', 'silver', 'OPEN-DATA-1', 'EURO'),
    ).toMatchObject({ pieces: 2000, grossMicrograms: totalMicrograms });
  });

  it('cannot be counted by weight, since packages differ too much, and the record says so', async () => {
    for (const drum of await drumsOfMelt(trial.books, 'EURO')) {
      const output = drum.count?.output as unknown as CountByWeightOutput;
      const { mean } = figures.per_package[drum.drum.slice(-1)] as { mean: number };
      expect(output.verdict).toBe('cannot-prove');
      expect(output.residualGrams).toBeCloseTo(250 * (mean - figures.all.mean), 6);
      expect(drum.state).toBe('needs tally');
    }
  });

  it('could be counted up to the number that the formula gives', async () => {
    const [drum] = await drumsOfMelt(trial.books, 'EURO');
    const output = drum?.count?.output as unknown as CountByWeightOutput;
    // Half a piece is z standard uncertainties: A n² + B n + C = 0, z of a two-sided risk of 0.001.
    const z = 3.2905267314919;
    const a = lotDeviationGrams ** 2 + within / 2000 + (figures.all.mean * 0.000001) ** 2;
    const c = 0.002 ** 2 + (2 * 0.001 ** 2) / 12 - (figures.all.mean / 2 / z) ** 2;
    const greatest = (-within + Math.sqrt(within ** 2 - 4 * a * c)) / (2 * a);
    expect(output.largestProvableCount.atRiskOneInThousand).toBe(Math.floor(greatest));
    expect(greatest).toBeGreaterThan(100);
    expect(greatest).toBeLessThan(250);
  });

  it('are tallied, sampled by letter K, and drawn from all packages alike', async () => {
    for (const name of names) {
      const tally = { drum: drumOf(name), piecesFound: packages.get(name)?.length };
      await record(trial, 'tally-drum', tally, 'custodian', 'inspector');
    }
    await record(trial, 'order-samples', { consignment: 'OPEN-DATA' }, 'inspector');
    const order = await samplingOrderOf(trial.books, 'EURO');
    // MIL-STD-105E, Tables I and II-A: 2000 pieces, level II, limit 1.5 %: letter K, 125, 5/6.
    expect(order).toMatchObject({
      pieces: 2000,
      samplePieces: 125,
      acceptanceNumber: 5,
      rejectionNumber: 6,
      plan: { output: { codeLetter: 'K' } },
    });
    const shares = names.map(
      (name) => order?.blanks.filter(({ drum }) => drum === drumOf(name)).length,
    );
    // 125 over eight equal drums: 15 each, and the five left over by lot.
    expect([...shares].sort()).toEqual([15, 15, 15, 16, 16, 16, 16, 16]);
    const places = order?.blanks.map(({ drum, position }) => `${drum} ${position}`);
    expect(new Set(places).size).toBe(125);
  });

  it('give a sample whose coins are those at the drawn places, and it is accepted', async () => {
    const blanks = await blanksOfMelt(trial.books, 'EURO');
    const sample = blanks.map(({ drum, position }) => {
      const name = drum.slice(-1);
      const milligrams = packages.get(name)?.[position - 1] ?? Number.NaN;
      const { min, max } = figures.per_package[name] as { min: number; max: number };
      expect(milligrams).toBeGreaterThanOrEqual(Math.round(min * 1000));
      expect(milligrams).toBeLessThanOrEqual(Math.round(max * 1000));
      return milligrams;
    });
    const gross = grams(gramsText(sum(sample)));
    await record(trial, 'record-draw', { melt: 'EURO', gross, instrument: 'SCALE-1' }, 'inspector');
    const { output } = calculate<{ meanGrams: number; countPieces: number }>('weight-statistics', {
      massesGrams: sample.map((milligrams) => milligrams / 1000),
    });
    expect(output.countPieces).toBe(125);
    const standardError = figures.all.sd / Math.sqrt(125);
    expect(Math.abs(output.meanGrams - figures.all.mean)).toBeLessThan(4 * standardError);
    // 19 of the 2000 lie outside 7.4 g to 7.6 g, so that 1.2 are expected here.
    const outside = sample.filter((milligrams) => milligrams < 7400 || milligrams > 7600).length;
    expect(outside).toBeLessThanOrEqual(5);
    const all = [...packages.values()].flat();
    expect(all.filter((milligrams) => milligrams < 7400 || milligrams > 7600)).toHaveLength(
      figures['count_outside_7.5_plus_minus_0.1'],
    );
  });

  it('leave the rest in receiving, to the microgram', async () => {
    const laboratory = await trial.books.get(
      balances,
      'laboratory',
      'silver',
      'OPEN-DATA-1',
      'EURO',
    );
    const receiving = await trial.books.get(balances, 'receiving', 'silver', 'OPEN-DATA-1', 'EURO');
    expect([receiving?.pieces, laboratory?.pieces]).toEqual([1875, 125]);
    expect(Number(receiving?.grossMicrograms) + Number(laboratory?.grossMicrograms)).toBe(
      sum([...packages.values()].flat()) * 1000,
    );
  });
});
