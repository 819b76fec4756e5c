import { describe, expect, it } from 'vitest';
import { gaugeStudy, gaugeStudyCalculation } from './gauge-study.ts';

const { example } = gaugeStudyCalculation;
const cells = (value: (part: number, operator: number, repeat: number) => number) =>
  [0, 1, 2].flatMap((part) =>
    [0, 1].flatMap((operator) =>
      [0, 1].map((repeat) => ({
        part: `P${part}`,
        operator: `O${operator}`,
        value: value(part, operator, repeat),
      })),
    ),
  );

describe('a gauge study', () => {
  it('says in words what the gauge is worth', () => {
    expect(gaugeStudy(example).words).toBe(
      'The gauge scatters by 0.3024 mm (repeatability 0.1999, between operators 0.2268), 27.86 % of the whole variation. It takes 18.14 % of the tolerance of 10 mm. It tells the parts into 4 distinct categories. Operators do not differ from part to part: the interaction is joined to repeatability.',
    );
  });

  it('keeps the interaction where it is significant', () => {
    const output = gaugeStudy({
      ...example,
      readings: cells(
        (part, operator, repeat) => part + 3 * ((part + operator) % 2) + 0.01 * repeat,
      ),
    });
    expect(output.isInteractionPooled).toBe(false);
    expect(output.components.map((one) => one.source)).toContain('part-by-operator');
  });

  it('sets components that came out negative to 0 and names them', () => {
    const output = gaugeStudy({
      ...example,
      readings: cells((part, _, repeat) => part + (repeat === 0 ? 0.5 : -0.5)),
    });
    const operator = output.components.find((one) => one.source === 'operator');
    expect(operator?.estimate).toBeLessThan(0);
    expect(operator?.variance).toBe(0);
    expect(output.words).toContain('Came out negative and taken as 0: operator');
  });

  it('has intervals by Satterthwaite where asked, none for what came out negative', () => {
    const output = gaugeStudy({
      ...example,
      intervalMethod: 'satterthwaite',
      readings: cells((part, _, repeat) => part + (repeat === 0 ? 0.5 : -0.5)),
    });
    const of = (source: string) => output.components.find((one) => one.source === source);
    expect(of('operator')?.standardDeviationUpper).toBe(null);
    expect(of('part')?.standardDeviationUpper).toBeGreaterThan(of('part')?.standardDeviation ?? 0);
    expect(output.intervalMethod).toContain('Satterthwaite');
  });

  it('draws a nested study, and leaves averages and ranges to crossed ones', () => {
    const readings = cells(
      (part, operator, repeat) => part + 2 * operator + 0.1 * repeat * (part + 1),
    );
    const nested = {
      ...example,
      design: 'nested' as const,
      readings: readings.map((one) => ({ ...one, part: `${one.operator}${one.part}` })),
    };
    const output = gaugeStudy(nested);
    expect(output.rangeMethod).toBe(null);
    expect(gaugeStudyCalculation.draw?.(nested, output).length).toBe(2);
  });

  it('has no categories for a gauge without variation', () => {
    const output = gaugeStudy({ ...example, readings: cells((part) => part) });
    expect(output.distinctCategories).toBe(null);
    expect(output.distinctCategoriesWhole).toBe(null);
  });

  it('refuses what is not balanced, too small or all equal', () => {
    const readings = cells((part, operator, repeat) => part + operator + repeat);
    expect(() => gaugeStudy({ ...example, readings: readings.slice(1) })).toThrow(
      '1 to 2 readings per operator and part',
    );
    const one = readings.map((reading) => ({ ...reading, operator: 'O' }));
    expect(() => gaugeStudy({ ...example, readings: one })).toThrow('at least 2 operators');
    expect(() => gaugeStudy({ ...example, readings: cells(() => 7) })).toThrow(
      'readings that differ',
    );
  });
});
