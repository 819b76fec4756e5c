import fc from 'fast-check';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import type { HistoryEvent } from '../src/sampling/severity-history.ts';
import { afterEvent, beginningUnder } from '../src/sampling/severity-machine.ts';
import { switchingScheme } from '../src/sampling/switching-scheme.ts';

const plans = {
  normal: { kind: 'single', sampleSizePieces: 50, acceptanceNumber: 3 },
  tightened: { kind: 'single', sampleSizePieces: 50, acceptanceNumber: 2 },
  basis: 'binomial',
} as const;

function pointAt(percent: number) {
  const [point] = switchingScheme({ ...plans, qualitiesPercent: [percent] }).points;
  if (!point) throw new Error('no point');
  return point;
}

/**
 * The rules as a chain of states: under normal inspection the lots since the last rejected one (0 for
 * four or more), under tightened inspection the lots accepted in a row. Its steady shares, by
 * repeated steps.
 */
function steadyShare(normal: number, tightened: number): number {
  let shares = new Array<number>(10).fill(0.1);
  for (let step = 0; step < 20_000; step += 1) {
    const next = new Array<number>(10).fill(0);
    const add = (state: number, chance: number) => {
      next[state] = (next[state] ?? 0) + chance;
    };
    for (const [state, share] of shares.entries()) {
      if (state < 5) {
        // Clean: a rejected lot starts the count; within the next four another one tightens.
        add(state === 0 ? 0 : (state + 1) % 5, share * normal);
        add(state === 0 ? 1 : 5, share * (1 - normal));
      } else {
        add(state === 9 ? 0 : state + 1, share * tightened);
        add(5, share * (1 - tightened));
      }
    }
    shares = next;
  }
  return shares.slice(5).reduce((sum, share) => sum + share, 0);
}

describe('switching in the long run', () => {
  it.each([1, 3, 5, 8])('has the steady shares of the chain of its states at %d %%', (percent) => {
    const point = pointAt(percent);
    const share = steadyShare(point.acceptedUnderNormal, point.acceptedUnderTightened);
    expect(Math.abs(point.tightenedShare - share)).toBeLessThan(1e-9);
  });

  it('is what the switching rules themselves do, lot after lot', () => {
    const point = pointAt(5);
    const generator = xoroshiro128plus(1967);
    const setting = { edition: 'MIL-STD-105E', acceptanceQualityLimitPercent: 4 } as const;
    const count = 30_000;
    let standing = beginningUnder('normal', false);
    let tightened = 0;
    let ended = 0;
    let stays = 0;
    for (let index = 0; index < count; index += 1) {
      if (standing.severity === 'discontinued') {
        ended += 1;
        standing = afterEvent(standing, { event: 'inspection resumed' }, '', setting);
      }
      const isTight = standing.severity === 'tightened';
      if (isTight) tightened += 1;
      const chance = isTight ? point.acceptedUnderTightened : point.acceptedUnderNormal;
      const event: HistoryEvent = {
        event: 'lot judged',
        lot: String(index),
        presented: 'first time',
        result: {
          sampling: 'single',
          sampleSizePieces: 50,
          acceptanceNumber: 3,
          rejectionNumber: 4,
          nonconformingPieces: uniformFloat64(generator) < chance ? 0 : 4,
        },
      };
      const after = afterEvent(standing, event, '', setting);
      if (isTight && after.severity !== 'tightened') stays += 1;
      standing = after;
    }
    // Lots of one stay hang together: the standard error is about that of the stays, some thousands.
    expect(stays).toBeGreaterThan(500);
    expect(Math.abs(tightened / count - point.tightenedShare)).toBeLessThan(0.02);
    expect(Math.abs(ended / stays - point.discontinuedShare)).toBeLessThan(
      4 * Math.sqrt((point.discontinuedShare * (1 - point.discontinuedShare)) / stays),
    );
  });

  it('lies between its two plans, and nearer to the tightened one the worse the lots', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (percent, more) => {
          const better = pointAt(percent);
          const worse = pointAt(percent + more);
          expect(better.acceptanceProbability).toBeLessThanOrEqual(
            better.acceptedUnderNormal + 1e-12,
          );
          expect(better.acceptanceProbability).toBeGreaterThanOrEqual(
            better.acceptedUnderTightened - 1e-12,
          );
          expect(worse.tightenedShare).toBeGreaterThanOrEqual(better.tightenedShare - 1e-12);
          expect(better.averageSamplePieces).toBeCloseTo(50, 9);
        },
      ),
      { seed: 23, numRuns: 200 },
    );
  });

  it('never leaves normal inspection with faultless lots, nor tightened with hopeless ones', () => {
    expect(pointAt(0)).toMatchObject({ tightenedShare: 0, normalLots: null, tightenedLots: 5 });
    expect(pointAt(100)).toMatchObject({
      tightenedShare: 1,
      tightenedLots: null,
      discontinuedShare: 1,
      acceptanceProbability: 0,
    });
  });
});
