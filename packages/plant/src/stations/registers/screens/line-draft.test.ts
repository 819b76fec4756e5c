import { describe, expect, it } from 'vitest';
import { type Dialect, decodeLine } from '../../../ports/instrument-dialect.ts';
import { instrumentConnected } from '../lines/bodies.ts';
import {
  decodedWords,
  exampleLine,
  type LineDraft,
  lineDraftOf,
  lineInputOf,
  usualLine,
  usualTitrator,
} from './line-draft.ts';

const serial: LineDraft = { ...usualLine, path: '/dev/ttyUSB0', asks: 'READ' };
const socket: LineDraft = {
  ...usualLine,
  kind: 'tcp',
  host: 'bench',
  port: '4001',
  shape: 'number alone',
  decimalSign: 'comma',
  unit: 'mm',
};

describe('the settings of a line', () => {
  it.each<[string, LineDraft]>([
    ['serial', serial],
    ['network', socket],
    ['unit when stable', { ...serial, shape: 'unit when stable', asks: '' }],
    ['without net and gross', { ...serial, net: '', gross: '' }],
  ])('as typed for %s are what the register takes, and come back into the form', (_what, draft) => {
    const input = instrumentConnected.parse(lineInputOf('BAL-1', draft));
    expect(lineInputOf('BAL-1', lineDraftOf(input))).toEqual(input);
  });

  it('typed wrong go as they stand', () => {
    const input = lineInputOf('BAL-1', { ...socket, port: 'first' });
    expect(input).toMatchObject({ line: { port: 'first' } });
  });

  it.each<LineDraft>([serial, socket, { ...serial, shape: 'unit when stable' }])(
    'are shown by an example that is understood as stable',
    (draft) => {
      const { dialect } = lineInputOf('BAL-1', draft);
      const decoded = decodeLine(exampleLine(draft), dialect as Dialect);
      expect(decoded).toMatchObject({ says: 'stable', text: '12.3456' });
      expect(decodedWords(exampleLine(draft), draft)).toMatch(/^Stable: 12\.3456 (g|mm)\.$/);
    },
  );

  it.each(['semicolon', 'comma', 'tab', 'blanks'])(
    'of a titrator parted by %s are shown by an example that is a point',
    (partedBy) => {
      const draft: LineDraft = { ...usualTitrator, path: '/dev/ttyUSB1', partedBy };
      const input = instrumentConnected.parse(lineInputOf('BUR-1', draft));
      expect(lineInputOf('BUR-1', lineDraftOf(input))).toEqual(input);
      const decoded = decodeLine(exampleLine(draft), input.dialect as Dialect);
      expect(decoded).toEqual({ says: 'point', volume: '12.3456', potential: '-123.4' });
      expect(decodedWords(exampleLine(draft), draft)).toBe('A point at 12.3456 mL: -123.4 mV.');
    },
  );

  it('say in words what a line is', () => {
    expect(decodedWords('ST,NT,+1.5 g', serial)).toBe('Stable: 1.5 g, net of a tare.');
    expect(decodedWords('US,+1.5 g', serial)).toBe('Not stable: no reading.');
    expect(decodedWords('OL', serial)).toBe('Out of range: no reading.');
    expect(decodedWords('hello', serial)).toBe('Not understood: hello is no status that is set.');
  });
});
