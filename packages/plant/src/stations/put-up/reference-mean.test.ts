import { describe, expect, it } from 'vitest';
import type { PieceStandard } from '../registers/index.ts';
import { referenceMeanOf } from './reference-mean.ts';

const standard = {
  massDeclaredMilligrams: 31_100,
  massLeastMilligrams: 31_100,
  massGreatestMilligrams: 31_200,
  pieceStandardDeviationMilligrams: 50,
  referencePieces: 50,
  priorMiscountProbability: 0.0002,
} as PieceStandard;

const balance = {
  instrument: 'B-1',
  title: 'Balance',
  calibrationDue: '2026-12-31',
  divisionGrams: 0.1,
  repeatabilityGrams: 0.05,
  gainRelative: 0.0001,
};

const delivery = (pieces: number, massGrams: number, more: object = {}) => ({
  entry: 7,
  pieces,
  grossMicrograms: Math.round(massGrams * 1e6),
  balance,
  ...more,
});

const declared = {
  origin: 'declared mass',
  referencePieces: 50,
  meanGrams: 31.1,
  meanStandardUncertaintyGrams: null,
  deliveries: [],
};

describe('the mean piece mass of a count by weight', () => {
  it('is that of the delivered pieces once they are twenty tubes or more', () => {
    const mean = referenceMeanOf(standard, [delivery(400, 12_452)], 20);
    expect(mean).toMatchObject({
      origin: 'delivered pieces',
      referencePieces: 400,
      deliveries: [7],
    });
    expect(mean.meanGrams).toBeCloseTo(31.13, 12);
    // By hand: 400 × 0.05² = 1; 0.05² + 0.1²/12 = 0.003333; 2 × 0.0002 × 31.13² = 0.387631;
    // (12 452 × 0.0001)² = 1.550523; root of the sum 2.941487 over 400 pieces.
    expect(mean.meanStandardUncertaintyGrams).toBeCloseTo(Math.sqrt(2.941487) / 400, 8);
  });

  it('adds the span of the balance linearly over several deliveries', () => {
    const halves = [delivery(200, 6226), delivery(200, 6226, { entry: 9 })];
    const mean = referenceMeanOf(standard, halves, 20);
    expect(mean.deliveries).toEqual([7, 9]);
    // Twice repeatability and miscount, the span as for one delivery: 1 + 0.006667 + 0.775262 + 1.550523.
    expect(mean.meanStandardUncertaintyGrams).toBeCloseTo(Math.sqrt(3.332452) / 400, 8);
  });

  it('is the declared one while a miscounted piece would weigh in the mean', () => {
    expect(referenceMeanOf(standard, [delivery(399, 12_420.87)], 20)).toEqual(declared);
    expect(referenceMeanOf(standard, [], 20)).toEqual(declared);
  });

  it('never takes a short delivery for a light piece', () => {
    // Nineteen pieces booked as twenty: their own mean would prove the tube of nineteen.
    expect(referenceMeanOf(standard, [delivery(20, 19 * 31.13)], 20)).toEqual(declared);
  });

  it('is the declared one where the delivered mean lies outside the limits of the piece', () => {
    expect(referenceMeanOf(standard, [delivery(400, 400 * 31.09)], 20)).toEqual(declared);
    expect(referenceMeanOf(standard, [delivery(400, 400 * 31.21)], 20)).toEqual(declared);
  });

  it('is the declared one where the balance of a delivery is no longer known', () => {
    expect(referenceMeanOf(standard, [delivery(400, 12_452, { balance: undefined })], 20)).toEqual(
      declared,
    );
  });
});
