import type { DimensionConformityOutput } from '@cupel/calculation';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { examinationTrial } from '../examination/examination-trial.ts';
import { reading, recorded, refusals } from '../laboratory-trial.ts';
import type { EdgeMeasuredBody } from './entries.ts';

let trial: Trial;
let blanks: readonly string[];
beforeEach(async () => {
  ({ trial, blanks } = await examinationTrial());
});

const height = (change: object = {}) => ({
  label: 'Edge height',
  readings: ['3.21', '3.22', '3.20'].map((text) => reading(text, 'mm')),
  leastMillimetres: 3.1,
  greatestMillimetres: 3.3,
  ...change,
});

const sheet = (change: object = {}) => ({
  melt: 'M-1',
  blank: blanks[0],
  instrument: 'M-1',
  rule: 'expanded uncertainty',
  limitsSetBy: 'Drawing EG-31/4',
  gaugeStandardUncertaintyMicrometres: 5,
  dimensions: [height()],
  ...change,
});

const measureEdge = (change: object = {}) => trial.do('measure-edge', sheet(change), 'inspector');
const bodyOf = async (change: object = {}) =>
  recorded(await measureEdge(change))[0] as unknown as EdgeMeasuredBody;

describe('the edge of a blank', () => {
  it('keeps its limits where every reading does, its uncertainty counted', async () => {
    const body = await bodyOf();
    expect(body).toMatchObject({ finding: 'inside', limitsSetBy: 'Drawing EG-31/4' });
    expect(body.dimensions[0]?.readings).toEqual(height().readings);
    const { dimensions } = body.conformity.output as unknown as DimensionConformityOutput;
    expect(dimensions[0]).toMatchObject({ smallestMillimetres: 3.2, largestMillimetres: 3.22 });
  });

  it('is undecided within twice the uncertainty of a limit, and outside beyond it', async () => {
    const width = (text: string) => ({
      label: 'Edge width',
      readings: [reading(text, 'µm')],
      leastMillimetres: null,
      greatestMillimetres: 1.2,
    });
    const finding = async (text: string) => (await bodyOf({ dimensions: [width(text)] })).finding;
    // U = 2 × 0.005 mm: proven up to 1.190 mm, disproven above 1.210 mm.
    expect(await finding('1190')).toBe('inside');
    expect(await finding('1195')).toBe('undecided');
    expect(await finding('1211')).toBe('outside');
  });

  it('stands with its melt', async () => {
    await bodyOf();
    expect(await trial.ask('melt-examinations', { melt: 'M-1' }, 'auditor')).toMatchObject({
      examinations: [{ quality: 'edge', finding: 'inside' }],
    });
  });
});

describe('refusals of an edge', () => {
  it('wants limits, each below the other', async () => {
    const none = height({ leastMillimetres: null, greatestMillimetres: null });
    const outcome = await measureEdge({ dimensions: [none] });
    expect(refusals(outcome)).toEqual(['ReadingsNotAccepted']);
    expect(outcome).toMatchObject({ refusals: [{ field: 'dimensions.0.leastMillimetres' }] });
    const turned = height({ leastMillimetres: 3.4 });
    expect(refusals(await measureEdge({ dimensions: [turned] }))).toEqual(['ReadingsNotAccepted']);
  });

  it('wants a gauge', async () => {
    expect(refusals(await measureEdge({ instrument: 'B-1' }))).toEqual(['InstrumentUnknown']);
  });
});
