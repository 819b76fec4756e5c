import { describe, expect, it } from 'vitest';
import { balanceCheck, balanceCheckCalculation } from './balance-check.ts';

const example = balanceCheckCalculation.example;

describe('balanceCheck', () => {
  it('judges the four checks of the example', () => {
    const output = balanceCheck(example);
    expect(output.repeatability?.rangeMilligrams).toBe(0.2);
    expect(output.repeatability?.passes).toBe(true);
    expect(output.cornerLoad).toEqual({
      differencesMilligrams: [0.1, -0.2, 0, 0.2],
      greatestDifferenceMilligrams: 0.2,
      passes: true,
    });
    expect(output.linearity?.errorsMilligrams).toEqual([0, 0.1, 0.1, 0.3]);
    expect(output.temperature?.passes).toBe(true);
    expect(output.passes).toBe(true);
    expect(output.words).toContain('The balance passes.');
  });

  it('lets a difference pass that is exactly on its limit', () => {
    const judge = (corner: number) =>
      balanceCheck({
        scaleIntervalMilligrams: 0.1,
        cornerLoad: {
          centreReadingGrams: 200,
          cornerReadingsGrams: [corner],
          limitMilligrams: 0.3,
        },
      }).passes;
    // 200.0003 − 200 is 0.00030000000000995 in doubles.
    expect(judge(200.0003)).toBe(true);
    expect(judge(199.9997)).toBe(true);
    expect(judge(200.0004)).toBe(false);
  });

  it('fails as a whole when one check fails, and says which', () => {
    const output = balanceCheck({
      ...example,
      repeatability: { readingsGrams: [100, 100.0009], limitMilligrams: 0.1 },
    });
    expect(output.passes).toBe(false);
    // Two readings 0.9 mg apart: 0.9/√2.
    expect(output.repeatability?.standardDeviationMilligrams).toBeCloseTo(0.9 / Math.SQRT2, 12);
    expect(output.words).toMatch(/do not weigh with it.*0.6364 mg against 0.1 mg does not pass/);
  });

  it('finds a pure sensitivity error and no departure from the line', () => {
    const output = balanceCheck({
      scaleIntervalMilligrams: 0.1,
      linearity: {
        points: [50, 100, 200].map((referenceGrams) => ({
          referenceGrams,
          readingGrams: referenceGrams * 1.000002,
        })),
        errorLimitMilligrams: 0.5,
        linearityLimitMilligrams: 0.01,
      },
    });
    expect(output.linearity?.sensitivityErrorPartsPerMillion).toBeCloseTo(2, 9);
    expect(output.linearity?.greatestDepartureMilligrams).toBeLessThan(1e-9);
    expect(output).toMatchObject({ repeatability: null, cornerLoad: null, temperature: null });
  });

  it('leaves linearity unjudged without a limit', () => {
    const { linearityLimitMilligrams: _, ...linearity } = example.linearity ?? {
      points: [],
      errorLimitMilligrams: 0,
    };
    expect(balanceCheck({ ...example, linearity }).linearity?.passesLinearity).toBeNull();
  });

  it('refuses readings at one temperature only', () => {
    expect(() =>
      balanceCheck({
        scaleIntervalMilligrams: 0.1,
        temperature: {
          referenceGrams: 200,
          points: [
            { temperatureCelsius: 20, readingGrams: 200 },
            { temperatureCelsius: 20, readingGrams: 200.0001 },
          ],
          limitPartsPerMillionPerKelvin: 1,
        },
      }),
    ).toThrow('accepted: readings at two different temperatures or more');
  });

  it('refuses an input without any check', () => {
    const parsed = balanceCheckCalculation.input.safeParse({ scaleIntervalMilligrams: 0.1 });
    expect(parsed.error?.issues[0]?.message).toContain('at least one of repeatability');
  });
});
