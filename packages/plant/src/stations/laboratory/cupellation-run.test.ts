import { cupellation } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import type { Reading } from '../../journal/reading.ts';
import type { Instrument, PieceStandard } from '../registers/index.ts';
import {
  cupellationInputOf,
  determinationsOfRun,
  proofSpreadLimitMilligrams,
  repeatabilityPerMille,
  weighingStandardUncertaintyMilligrams,
} from './cupellation-run.ts';

const milligrams = (text: string): Reading => ({ text, unit: 'mg', typed: false });

/** Masses chosen under the equation of ISO 11426 as remembered; 916.900 ‰ and D = −0.1150 mg. */
const worksheet = {
  correction: 'absolute' as const,
  proofs: [
    { label: 'P1', goldTaken: milligrams('229.20'), cornet: milligrams('229.32') },
    { label: 'P2', goldTaken: milligrams('229.35'), cornet: milligrams('229.46') },
  ],
  samples: [
    { label: 'A', blank: 'M-1/1', sample: milligrams('250.12'), cornet: milligrams('229.45') },
    { label: 'B', blank: 'M-1/2', sample: milligrams('125.06'), cornet: milligrams('114.79') },
  ],
  proofGoldStandardUncertaintyPerMille: 0.02,
};

const standard = { duplicateLimitPerMille: 0.5 } as PieceStandard;
const balance = { divisionGrams: 0.00001, repeatabilityGrams: 0.00001 } as Instrument;
const input = cupellationInputOf(worksheet, standard, balance);
const output = cupellation(input);

describe('a cupellation run', () => {
  it('gives the fineness of the worked example of ISO 11426', () => {
    expect(output.determinations[0]?.finenessPerMille).toBeCloseTo(916.9, 3);
    expect(output.proofCorrectionMilligrams).toBeCloseTo(-0.115, 4);
  });

  it('takes the repeatability from the duplicate limit as ISO 5725-6 does, limit / 2.8', () => {
    expect(repeatabilityPerMille(standard)).toBeCloseTo(0.5 / 2.8, 12);
  });

  it('lets the proofs spread as far as as many samples might', () => {
    // Two: 0.5 ‰ of 229.275 mg; three: 3.3/2.8 of it (ISO 5725-6:1994, Table 1, from memory).
    expect(proofSpreadLimitMilligrams(standard, [229.2, 229.35])).toBeCloseTo(0.1146375, 9);
    expect(proofSpreadLimitMilligrams(standard, [229.2, 229.35, 229.275])).toBeCloseTo(
      (0.1146375 * 3.3) / 2.8,
      9,
    );
    // Five results: f(5) = 3.9 in the same table.
    const five = proofSpreadLimitMilligrams(standard, [200, 200, 200, 200, 200]);
    expect((five * 2.8) / 0.1).toBeCloseTo(3.9, 1);
  });

  it('takes the uncertainty of a weighing from repeatability and division of the balance', () => {
    // √(0.01² + 0.01²/12) mg, by hand from JCGM 100:2008, 4.3.7.
    expect(weighingStandardUncertaintyMilligrams(balance)).toBeCloseTo(0.0104083, 6);
  });

  it('parts the uncertainty of each determination without losing or adding any', () => {
    const found = determinationsOfRun(input, output, ['M-1/1', 'M-1/2']);
    for (const [index, one] of found.entries()) {
      const sample = input.samples[index];
      const alone = cupellation({ ...input, samples: sample ? [sample] : [] });
      const together = Math.hypot(
        one.ownStandardUncertaintyPerMille,
        one.runStandardUncertaintyPerMille,
        one.methodStandardUncertaintyPerMille,
      );
      expect(together).toBeCloseTo(alone.standardUncertaintyPerMille, 12);
      expect(one.finenessPerMille).toBe(output.determinations[index]?.finenessPerMille);
    }
    expect(found.map(({ label, blank }) => [label, blank])).toEqual([
      ['A', 'M-1/1'],
      ['B', 'M-1/2'],
    ]);
    // The proof gold's 0.02 ‰ acts on a sample in proportion to its gold over its mass.
    expect(found[0]?.methodStandardUncertaintyPerMille).toBeCloseTo((0.02 * 229.275) / 250.12, 9);
  });

  it('has no part for the proof gold where its certificate states none', () => {
    const { proofGoldStandardUncertaintyPerMille: _, ...unstated } = worksheet;
    const plain = cupellationInputOf(unstated, standard, balance);
    expect('proofGoldStandardUncertaintyPerMille' in plain).toBe(false);
    const [first] = determinationsOfRun(plain, cupellation(plain), ['M-1/1', 'M-1/2']);
    expect(first?.methodStandardUncertaintyPerMille).toBe(0);
  });
});
