import { readFileSync } from 'node:fs';
import type { VickersOutput } from '@cupel/calculation';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { examinationTrial } from '../examination/examination-trial.ts';
import { reading, recorded, refusals } from '../laboratory-trial.ts';
import type { HardnessMeasuredBody } from './entries.ts';

let trial: Trial;
let blanks: readonly string[];
let free: readonly string[];
beforeEach(async () => {
  ({ trial, blanks, free } = await examinationTrial());
});

const indentation = (label: string, first: string, second = first) => ({
  label,
  first: reading(first, 'µm'),
  second: reading(second, 'µm'),
});

/** Diagonals of 143 µm at 4.903 N: 0.1891 × 4.903 / 0.143² is 45.3 HV. */
const sheet = (change: object = {}) => ({
  melt: 'M-1',
  blank: blanks[0],
  instrument: 'H-1',
  testForceNewtons: 4.903,
  spacingGroup: 'light metals, lead and tin',
  forceRelativeStandardUncertaintyPercent: 0.5,
  diagonalStandardUncertaintyMicrometres: 0.5,
  indentations: [indentation('A', '143.0'), indentation('B', '142.0', '144.0')],
  ...change,
});

const measureHardness = (change: object = {}, author = 'inspector') =>
  trial.do('measure-hardness', sheet(change), author);

const bodyOf = async (change: object = {}) =>
  recorded(await measureHardness(change))[0] as unknown as HardnessMeasuredBody;

const outputOf = ({ vickers }: HardnessMeasuredBody) => vickers.output as unknown as VickersOutput;

describe('the hardness of a blank', () => {
  it('is computed from its diagonals, each and together', async () => {
    const body = await bodyOf();
    const expected = (0.1891 * 4.903) / 0.143 ** 2;
    const output = outputOf(body);
    expect(output.indentations.map((one) => one.hardness)).toEqual([
      expect.closeTo(expected, 1),
      expect.closeTo(expected, 1),
    ]);
    expect(output.meanHardness).toBeCloseTo(expected, 1);
    expect(body.indentations[1]?.second).toEqual(reading('144.0', 'µm'));
  });

  // ISO 6507-4 prints 1854 for HV 10 at 0.100 mm, as remembered: reference/vickers/SOURCE.md.
  it('is that of the published table', async () => {
    const url = '../../../../../calculation/reference/vickers/values.json';
    const { cases } = JSON.parse(readFileSync(new URL(url, import.meta.url), 'utf8')) as {
      cases: { id: string; expected: { value: number; tolerance: number }[] }[];
    };
    const [printed] = cases.find(({ id }) => id === 'hv10-100')?.expected ?? [];
    const body = await bodyOf({
      testForceNewtons: 98.07,
      indentations: [
        {
          ...indentation('A', '0.100'),
          first: reading('0.100', 'mm'),
          second: reading('100', 'µm'),
        },
      ],
    });
    const away = Math.abs(outputOf(body).meanHardness - (printed?.value ?? 0));
    expect(away).toBeLessThanOrEqual(printed?.tolerance ?? 0);
  });

  it('is held to the limits of the piece standard', async () => {
    expect(await bodyOf()).toMatchObject({
      finding: 'inside',
      limits: { least: 35, greatest: 55, setBy: 'egret-31' },
    });
    // 0.1891 × 4.903 / 0.120² is 64.4 HV: above 55.
    const hard = await bodyOf({ indentations: [indentation('A', '120.0')] });
    expect(hard.finding).toBe('outside');
  });

  it('is held to those of the order where the standard sets none, and else only recorded', async () => {
    const where = { melt: 'M-2', blank: free[0] };
    expect(await bodyOf(where)).toMatchObject({ finding: 'no limits', limits: null });
    const orderedLimits = { least: 50, greatest: null, order: 'Order 17, annealed' };
    expect(await bodyOf({ ...where, orderedLimits })).toMatchObject({
      finding: 'outside',
      limits: { least: 50, greatest: null, setBy: 'Order 17, annealed' },
    });
    expect(refusals(await measureHardness({ orderedLimits }))).toEqual(['LimitsAlreadySet']);
  });

  it('tells of indentations too near to an edge, and of a blank too thin', async () => {
    const near = { ...indentation('A', '143.0'), edgeDistance: reading('0.4', 'mm') };
    const output = outputOf(await bodyOf({ indentations: [near] }));
    // Three diagonals are 0.429 mm.
    expect(output.indentations[0]).toMatchObject({ isFarFromEdge: false, isValid: false });
    expect(output.indentations[0]?.isThickEnough).toBe(true);
    expect(output.greatestForceNewtons).not.toBeNull();
  });

  it('stands with its melt', async () => {
    await bodyOf();
    const { examinations: rows } = (await trial.ask(
      'melt-examinations',
      { melt: 'M-1' },
      'auditor',
    )) as {
      examinations: object[];
    };
    expect(rows).toMatchObject([
      { quality: 'hardness', blank: blanks[0], instrument: 'H-1', finding: 'inside' },
    ]);
  });
});

describe('refusals of a hardness', () => {
  it('wants a blank of the sample and a hardness tester', async () => {
    expect(refusals(await measureHardness({ blank: 'M-9/1' }))).toEqual(['BlankNotDrawn']);
    expect(refusals(await measureHardness({ instrument: 'B-1' }))).toEqual(['InstrumentUnknown']);
    expect(refusals(await measureHardness({ melt: 'M-9' }))).toEqual(['MeltUnknown']);
  });

  it('wants diagonals that can be, each under its own label', async () => {
    const twice = [indentation('A', '143.0'), indentation('A', '143.0')];
    expect(refusals(await measureHardness({ indentations: twice }))).toEqual(['InputNotAccepted']);
    const great = await measureHardness({ indentations: [indentation('A', '20000')] });
    expect(refusals(great)).toEqual(['ReadingsNotAccepted', 'ReadingsNotAccepted']);
    expect(great).toMatchObject({ refusals: [{ field: 'indentations.0.first' }, {}] });
  });
});
