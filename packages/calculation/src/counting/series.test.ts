import { describe, expect, it } from 'vitest';
import { boxAgainstTubesCalculation } from './box-against-tubes-entry.ts';
import { countOfSeries, countOfSeriesCalculation } from './count-of-series.ts';
import { oddEvidence, sharedFit } from './drift-evidence.ts';
import { meanMassDrift, meanMassDriftCalculation } from './mean-mass-drift.ts';
import { provableCount, provableCountCalculation } from './provable-count.ts';

const series = countOfSeriesCalculation.example;
const [first] = series.tubes;
const weighed = (...gross: number[]) =>
  gross.map((reading, index) => ({
    label: `T-${index + 1}`,
    bookedPieces: 20,
    grossReadingsGrams: [reading],
  }));

describe('countOfSeries', () => {
  it('proves what fits, and names the short tube', () => {
    const result = countOfSeries(series);
    expect(result.tubes.map(({ verdict }) => verdict)).toEqual([
      'proved',
      'proved',
      'proved',
      'differs',
      'proved',
    ]);
    expect(result.words).toContain('Open and count with a witness: T-4');
    expect(result.expectedWrongTubes).toBeCloseTo(1, 6);
  });

  it('learns the mean piece mass, so that the proof index rises along the series', () => {
    const index = countOfSeries({
      ...series,
      tubes: weighed(640.5, 640.4, 640.6, 640.5),
    }).tubes.map(({ proofIndex }) => proofIndex);
    expect([...index].sort((a, b) => a - b)).toEqual(index);
  });

  it('refuses a drift that no lot has', () => {
    expect(() => countOfSeries({ ...series, driftPerTubeGrams: 4 })).toThrow(
      'a drift from 0 g to a tenth of the reference mean',
    );
  });

  it('one light reading is weighed again, not opened', () => {
    const result = countOfSeries({ ...series, tubes: weighed(640.5, 609.4, 640.6) });
    expect(result.tubes[1]?.verdict).toBe('weigh-again');
    expect(result.words).toContain('weigh again: T-2');
  });

  it('a weighed tare takes the place of the stored one', () => {
    const tubes = [{ ...(first as (typeof series.tubes)[number]), tareReadingGrams: 18.6 }];
    const result = countOfSeries({ ...series, tubes });
    expect(result.tubes[0]?.netGrams).toBeCloseTo(622, 10);
  });

  it('a tube opened and counted anchors the mean and needs no verdict by weight', () => {
    const tubes = weighed(609.4, 640.5).map((tube, index) =>
      index === 0 ? { ...tube, countedPieces: 19 } : tube,
    );
    const result = countOfSeries({ ...series, tubes });
    expect(result.tubes[0]?.verdict).toBe('differs');
    expect(result.tubes[0]?.posterior.map(({ pieces }) => pieces)).toEqual([19]);
    expect(result.tubes[0]?.posterior[0]?.probability).toBeCloseTo(1, 12);
    expect(result.probabilityAllAsBooked).toBe(0);
    expect(result.meanPieceMassGrams).toBeCloseTo(31.124, 2);
    const right = weighed(640.5, 640.5).map((tube) => ({ ...tube, countedPieces: 20 }));
    expect(countOfSeries({ ...series, tubes: right }).tubes[0]?.verdict).toBe('counted');
  });

  it('with an estimated spread is a little less sure', () => {
    const tubes = weighed(640.5, 641.9, 640.2);
    const known = countOfSeries({ ...series, tubes });
    const estimated = countOfSeries({
      ...series,
      tubes,
      pieceSpread: { kind: 'estimated', degreesOfFreedom: 3 },
    });
    expect(estimated.pieceStandardDeviationGrams).toBeGreaterThan(0.05);
    expect(estimated.meanPieceMassStandardUncertaintyGrams).toBeGreaterThan(
      known.meanPieceMassStandardUncertaintyGrams,
    );
  });

  it('says when scale and pieces cannot prove such a count', () => {
    const coarse = { ...series, referenceMeanGrams: 0.5, tubes: weighed(28) };
    expect(countOfSeries(coarse).tubes[0]?.verdict).toBe('cannot-prove');
  });

  it.each([
    [
      {
        referenceMeanStandardUncertaintyGrams: 0,
        lotStandardDeviationGrams: 0,
        gainRelative: 0,
        tareMeanStandardUncertaintyGrams: 0,
      },
      'above 0 g of reference mean',
    ],
    [{ referenceMeanStandardUncertaintyGrams: 10_000 }, 'a better known mean piece mass'],
    [
      {
        divisionGrams: 5,
        tubes: [{ label: 'T', bookedPieces: 20, grossReadingsGrams: [640, 640] }],
      },
      'one reading for each tube',
    ],
  ])('refuses %j', (change, accepted) => {
    expect(() => countOfSeries({ ...series, ...change })).toThrow(accepted);
  });

  it('two tubes of one label are refused', () => {
    const tubes = [first, first] as typeof series.tubes;
    const parsed = countOfSeriesCalculation.input.safeParse({ ...series, tubes });
    expect(parsed.error?.issues[0]?.message).toBe('tubes with different labels');
  });
});

describe('provableCount', () => {
  const example = provableCountCalculation.example;

  it('needs the reference that just proves the wanted count', () => {
    const input = { ...example, lotStandardDeviationGrams: 0.005, referencePieces: 10 };
    const needed = provableCount(input).referencePiecesNeeded as number;
    expect(provableCount({ ...input, referencePieces: needed }).wantedIsProvable).toBe(true);
    expect(provableCount({ ...input, referencePieces: needed - 1 }).wantedIsProvable).toBe(false);
  });

  it('shares add to the whole, and taking a source away helps', () => {
    const result = provableCount(example);
    const sum = result.budget.reduce((total, one) => total + one.sharePercent, 0);
    expect(sum).toBeCloseTo(100, 8);
    for (const one of result.budget) {
      expect(one.largestPiecesWithout as number).toBeGreaterThanOrEqual(result.largestPieces);
    }
    expect(result.words).toContain('comes from the lot');
  });
});

describe('box-against-tubes', () => {
  const { compute, draw, example } = boxAgainstTubesCalculation;

  it.each([
    [16_400, 'nothing left or entered'],
    [16_369, 'open it with a witness'],
    [16_408, 'weigh again'],
  ])('a box of %i g has words: %s', (boxGrossGrams, words) => {
    const input = { ...example, boxGrossGrams };
    const [rule] = draw?.(input, compute(input)) ?? [];
    expect(rule).toMatchObject({ kind: 'limit-rule', lowerLimit: -15.55 });
    expect((rule as { words: string }).words).toContain(words);
  });

  it('a box whose weighing cannot tell one piece says so', () => {
    const input = { ...example, pieceMassGrams: 3.11 };
    const [rule] = draw?.(input, compute(input)) ?? [];
    expect((rule as { words: string }).words).toContain('cannot tell one piece from none');
  });
});

describe('meanMassDrift', () => {
  const example = meanMassDriftCalculation.example;
  const steady = [622.1, 621.8, 622.2, 622, 621.9, 622.1, 621.8, 622, 621.9, 622.2];
  const causeOf = (change: (net: number, place: number) => number) =>
    meanMassDrift({
      ...example,
      tubes: example.tubes.map((tube, place) => ({
        ...tube,
        netGrams: change(steady[place] as number, place),
      })),
    });

  it.each([
    ['steady', (net: number) => net],
    ['mean-step', (net: number, place: number) => (place >= 5 ? net + 1.5 : net)],
    ['mean-drift', (net: number, place: number) => net + 0.2 * place],
    ['wrong-counts', (net: number, place: number) => (place === 4 ? net - 31.1 : net)],
    ['count-shift', (net: number, place: number) => (place >= 5 ? net - 31.1 : net)],
    ['bad-weighings', (net: number, place: number) => (place === 2 ? net + 14 : net)],
  ] as const)('finds %s', (cause, change) => {
    const result = causeOf(change);
    expect(result.mostProbable).toBe(cause);
    const sum = result.probabilities.reduce((total, { probability }) => total + probability, 0);
    expect(sum).toBeCloseTo(1, 12);
  });

  it('names place and size of a step, of a drift and of a shift of the counts', () => {
    const step = causeOf((net, place) => (place >= 5 ? net + 1.5 : net)).step;
    expect(step.fromLabel).toBe('T-6');
    expect(step.sizeGrams).toBeCloseTo(0.075, 2);
    expect(causeOf((net, place) => net + 0.2 * place).drift.perTubeGrams).toBeCloseTo(0.01, 2);
    const shift = causeOf((net, place) => (place >= 5 ? net - 31.1 : net));
    expect(shift.countShift).toMatchObject({ fromPlace: 6, pieces: -1 });
    expect(shift.tubes[8]?.probabilityMiscounted).toBeGreaterThan(0.999);
    expect(shift.tubes[3]?.probabilityMiscounted).toBeLessThan(0.001);
  });

  it('refuses probabilities beforehand that leave nothing steady', () => {
    expect(() =>
      meanMassDrift({
        ...example,
        priorMassChangeProbability: 0.25,
        priorCountShiftProbability: 0.25,
        priorMiscountProbability: 0.25,
        badWeighingProbability: 0.25 * 2,
      }),
    ).toThrow('leave some for a steady line');
  });
});

describe('the evidence for a change', () => {
  const tubes = [0.3, -0.2, 0.5, 0.1].map((residual) => ({ pieces: 2, residual, variance: 0.04 }));

  it('in closed form is that of quadrature over both shared terms', () => {
    const terms = [
      { weights: [2, 2, 2, 2], variance: 0.01 },
      { weights: [0, 0, 2, 2], variance: 0.02 },
    ] as const;
    const density = (value: number, variance: number) =>
      Math.exp(-0.5 * (value ** 2 / variance)) / Math.sqrt(2 * Math.PI * variance);
    const step = 0.01;
    let [sum, first] = [0, 0];
    for (let a = -1; a <= 1; a += step) {
      for (let b = -1.4; b <= 1.4; b += step) {
        const value = tubes.reduce(
          (product, tube, index) =>
            product * density(tube.residual - 2 * a - (index >= 2 ? 2 * b : 0), tube.variance),
          density(a, 0.01) * density(b, 0.02) * step ** 2,
        );
        sum += value;
        first += value * b;
      }
    }
    const closed = sharedFit(tubes, terms);
    expect(closed.logEvidence).toBeCloseTo(Math.log(sum), 9);
    expect(closed.estimate).toBeCloseTo(first / sum, 9);
  });

  it('of odd tubes is the sum over all cases', () => {
    const odd = { pieceMass: 0.5, miscount: 0.05, badWeighing: 0.1, badVariance: 1 };
    const density = (value: number, variance: number) =>
      Math.exp(-0.5 * (value ** 2 / variance)) / Math.sqrt(2 * Math.PI * variance);
    let [clean, badOnly, wrong] = [0, 0, 0];
    // Each tube in order, one less, one more, or badly weighed: 4⁴ cases.
    for (let code = 0; code < 256; code += 1) {
      const states = tubes.map((_, index) => Math.floor(code / 4 ** index) % 4);
      const product = tubes.reduce((all, tube, index) => {
        const state = states[index] as number;
        if (state === 3) return all * 0.1 * density(tube.residual, 1.04);
        const off = state === 0 ? 0 : state === 1 ? 0.5 : -0.5;
        return all * (state === 0 ? 0.8 : 0.05) * density(tube.residual + off, tube.variance);
      }, 1);
      if (states.every((state) => state === 0)) clean += product;
      else if (states.every((state) => state === 0 || state === 3)) badOnly += product;
      else wrong += product;
    }
    const found = oddEvidence(tubes, 0, odd);
    expect(found.clean).toBeCloseTo(Math.log(clean), 10);
    expect(found.badOnly).toBeCloseTo(Math.log(badOnly), 10);
    expect(found.wrongCount).toBeCloseTo(Math.log(wrong), 10);
  });
});
