import { describe, expect, it } from 'vitest';
import {
  cupellationCharge,
  cupellationChargeCalculation,
} from '../../src/assay/cupellation-charge.ts';
import { cupellationRun, cupellationRunCalculation } from '../../src/assay/cupellation-run.ts';
import values from './values.json' with { type: 'json' };

const caseOf = (id: string) => {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return { inputs: found.inputs as Record<string, unknown>, expected: found.expected };
};
const example = cupellationChargeCalculation.example;

describe('charge of a cupellation', () => {
  it.each(['inquartation-a', 'inquartation-b'])('gives %s', (id) => {
    const { inputs, expected } = caseOf(id);
    const charge = (countsSilverOfTheAlloy: boolean) =>
      cupellationCharge({
        ...example,
        countsSilverOfTheAlloy,
        sampleMassMilligrams: inputs['sample'] as number,
        goldFinenessPerMille: inputs['gold'] as number,
        silverFinenessPerMille: inputs['silver present'] as number,
        silverToGoldRatio: inputs['ratio Ag:Au'] as number,
      });
    const actual: Readonly<Record<string, number>> = {
      'fine gold': charge(true).goldMilligrams,
      'silver already present': charge(true).silverPresentMilligrams,
      'silver to add if the ratio counts the silver already there':
        charge(true).silverToAddMilligrams,
      'silver to add if the ratio is applied to the gold alone':
        charge(false).silverToAddMilligrams,
    };
    expect(expected).toHaveLength(4);
    for (const { name, value, tolerance } of expected) {
      expect(Math.abs((actual[name] ?? Number.NaN) - value), name).toBeLessThanOrEqual(tolerance);
    }
  });

  it.each(['lead-foil-a', 'lead-foil-c'])('asks for the least lead of %s', (id) => {
    const { inputs, expected } = caseOf(id);
    const { leastLeadGrams } = cupellationCharge({
      ...example,
      sampleMassMilligrams: inputs['sample'] as number,
    });
    expect(leastLeadGrams).toBe(expected[0]?.value);
  });

  it.each([
    ['gold-duplicates-a', 'yellow or red', true],
    ['gold-duplicates-c', '990 ‰ and above', false],
  ] as const)('judges %s by the remembered limit', (id, alloy, agrees) => {
    const { inputs } = caseOf(id);
    const { duplicateLimitPerMille, ...run } = cupellationRunCalculation.example;
    expect(duplicateLimitPerMille).toBeDefined();
    // Proofs that lose nothing, samples of 1000 mg: the cornet in mg is the result in ‰.
    const proofs = run.proofs.map((one) => ({
      ...one,
      cornetMassMilligrams: one.goldTakenMilligrams,
    }));
    const samples = (inputs['results'] as number[]).map((result, i) => ({
      label: `A${i}`,
      melt: 'A',
      row: 10,
      column: i + 1,
      sampleMassMilligrams: 1000,
      cornetMassMilligrams: result,
    }));
    const output = cupellationRun({ ...run, alloy, proofs, samples });
    const [range, mean] = caseOf(id).expected;
    expect(output.melts[0]?.rangePerMille).toBeCloseTo(range?.value ?? 0, 9);
    expect(output.melts[0]?.meanFinenessPerMille).toBeCloseTo(mean?.value ?? 0, 9);
    expect(output.duplicateLimitPerMille).toBe(inputs['limit']);
    expect(output.melts[0]?.duplicatesAgree).toBe(agrees);
  });
});
