import { describe, expect, it } from 'vitest';
import { fineMass, statedTroyOunces, statedWeightGiveaway } from '../../src/mass/fine-mass.ts';
import values from './values.json' with { type: 'json' };

type Case = (typeof values.cases)[number];

function caseById(id: string): Case {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return found;
}

function expectValue(one: Case, name: string, actual: string | number): void {
  const expected = one.expected.find((value) => value.name === name);
  if (!expected) throw new Error(`no value ${name} in ${one.id}`);
  // The tolerance is half a unit of the last printed place; a midway value lies on it.
  const slack = 1e-9;
  expect(Math.abs(Number(actual) - expected.value)).toBeLessThanOrEqual(expected.tolerance + slack);
}

const partsPerMillion = (perMille: unknown) => Math.round(Number(perMille) * 1000);

describe('bars of the good-delivery rules', () => {
  for (const id of ['gd-fine-401.125', 'gd-fine-399.975']) {
    it(`gives the fine ounces of ${id}`, () => {
      const one = caseById(id);
      const inputs = one.inputs as Record<string, unknown>;
      const output = fineMass({
        grossTroyOunces: Number(inputs.gross),
        finenessPartsPerMillion: partsPerMillion(inputs.assay),
        roundingRule: 'half-even',
      });
      expect(output.fineTroyOunces).toBe(one.expected[0]?.printed);
    });
  }

  for (const id of ['gd-metric-a', 'gd-metric-b']) {
    it(`converts, steps down and refines the kilograms of ${id}`, () => {
      const one = caseById(id);
      const inputs = one.inputs as Record<string, unknown>;
      const output = fineMass({
        grossMicrograms: Math.round(Number(inputs.mass) * 1e9),
        finenessPartsPerMillion: partsPerMillion(inputs.assay),
        roundingRule: 'half-even',
      });
      expectValue(one, 'troy ounces', output.grossTroyOunces);
      expect(output.goldStatedGrossTroyOunces).toBe(one.expected[1]?.printed);
      expectValue(one, 'fine ounces', output.goldStatedFineTroyOunces);
      expectValue(one, 'fine ounces', output.goldStatedFineTroyOuncesUnrounded);
    });
  }

  for (const id of ['gd-turn-scale-a', 'gd-turn-scale-c']) {
    it(`lets the scale turn as ${id} says`, () => {
      const one = caseById(id);
      const inputs = one.inputs as Record<string, unknown>;
      const output = fineMass({
        grossTroyOunces: Number(inputs['dead weight']),
        finenessPartsPerMillion: 1_000_000,
        roundingRule: 'half-even',
      });
      expect(output.goldTurnOfScaleGrossTroyOunces).toBe(one.expected[0]?.printed);
    });
  }

  it('lists the silver bar to 0.1 ounce and its fine ounces', () => {
    const one = caseById('gd-silver-1164.9');
    const output = fineMass({
      grossTroyOunces: '1164.9',
      finenessPartsPerMillion: 999_000,
      roundingRule: 'half-even',
    });
    expect(output.silverStatedGrossTroyOunces).toBe(one.expected[0]?.printed);
    expect(output.fineTroyOunces).toBe(one.expected[1]?.printed);
  });
});

describe('coins', () => {
  it('gives the fine gold of the 31.21 g piece and its surplus over one ounce', () => {
    const one = caseById('proclamation-fine-content');
    const output = fineMass({
      grossMicrograms: 31_210_000,
      finenessPartsPerMillion: 999_900,
      roundingRule: 'half-even',
    });
    expectValue(one, 'fine gold', output.fineGrams);
    expectValue(one, 'surplus over 1 ozt', Number(output.fineGrams) - 31.1034768);
  });

  it('gives the fine ounces of a sovereign, and differs from the misprinted grams as recorded', () => {
    const one = caseById('sovereign-fine-gold');
    const output = fineMass({
      grossMicrograms: 7_988_050,
      finenessPartsPerMillion: 916_667,
      roundingRule: 'half-even',
    });
    const [, grams, ounces] = one.expected;
    expect(Math.abs(Number(output.fineTroyOunces) - (ounces?.value ?? 0))).toBeLessThan(5e-4);
    expect(Number(output.fineGrams)).toBeCloseTo(7.32238, 5);
    expect(Number(output.fineGrams) - (grams?.value ?? 0)).toBeCloseTo(3.2e-5, 5);
  });
});

describe('the rule of steps with the turn of the scale', () => {
  for (const bar of values.bars.filter((one) => one.kind === 'gold_bar_rounding')) {
    const { dead_weight_oz, step_oz, turn_oz } = bar.inputs;
    it(`states a bar of ${dead_weight_oz} ounces as printed`, () => {
      const stated = statedTroyOunces(dead_weight_oz ?? 0, {
        stepTroyOunces: step_oz,
        turnTroyOunces: turn_oz,
      });
      expect(Number(stated)).toBeCloseTo(bar.expected.stated_oz ?? 0, 9);
    });
  }

  it('gives away the mean and spread that follow from the rule', () => {
    const bias = values.bars.find((one) => one.kind === 'gold_bar_bias');
    if (!bias) throw new Error('no gold_bar_bias case');
    const giveaway = statedWeightGiveaway({
      stepTroyOunces: bias.inputs.step_oz,
      turnTroyOunces: bias.inputs.turn_oz,
    });
    const relative = (actual: number, expected = 0) => Math.abs(actual / expected - 1);
    expect(relative(giveaway.meanTroyOunces, bias.expected.mean_oz)).toBeLessThan(1e-6);
    expect(relative(giveaway.standardDeviationTroyOunces, bias.expected.sd_oz)).toBeLessThan(1e-6);
    expect(relative(giveaway.meanGrams, bias.expected.mean_g)).toBeLessThan(1e-6);
  });
});

describe('agreed fine content of small bars', () => {
  type Gross = { grossMicrograms: number } | { grossTroyOunces: number };
  const bars = values.agreedFineContent.rows.flatMap((row): [string, Gross][] => {
    const [size, unit] = String(row[0]).split(' ');
    if (unit === 'g') return [[String(row[0]), { grossMicrograms: Number(size) * 1_000_000 }]];
    return unit === 'ozt' ? [[String(row[0]), { grossTroyOunces: Number(size) }]] : [];
  });

  it('gives the direct figure of every bar in grams and ounces, half up to 0.001 ounce', () => {
    let compared = 0;
    for (const [name, gross] of bars) {
      const row = values.agreedFineContent.rows.find((one) => one[0] === name) ?? [];
      for (const [index, finenessPartsPerMillion] of [995_000, 999_000, 999_900].entries()) {
        const output = fineMass({ ...gross, finenessPartsPerMillion, roundingRule: 'half-up' });
        expect(Number(output.fineTroyOunces), name).toBe(row[4 + index]);
        compared += 1;
      }
    }
    expect(compared).toBe(45);
  });
});
