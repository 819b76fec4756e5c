import { describe, expect, it } from 'vitest';
import { askedControls, rowAnswers } from './asked-controls.ts';
import { readText, tableOf } from './result-trial.ts';

const table = tableOf(
  readText(
    [
      'Sample;Cu ppm;Pb ppm',
      'Drift;50;20',
      'Blank;0.2;',
      'Blank;0.4;',
      'B1;300;60',
      'RM;300;60',
      'Drift;50;20',
    ].join('\n'),
  ),
);
const asks = {
  referenceMaterials: [{ by: 'kind' as const, name: 'fine silver', perRun: 1 }],
  blanks: ['Cu', 'Pb'].map((quantity) => ({ quantity, unit: 'mg/kg', greatest: 0.5 })),
};
const kinds = new Map([['RM-1', 'fine silver']]);

describe('the controls that a method asks', () => {
  it('are answered by rows of the file, or say what is wanted', () => {
    const asked = askedControls(asks, { table, materials: {}, kinds });
    expect(asked).toEqual([
      {
        asked: '1 × reference material fine silver',
        lines: [],
        isAnswered: false,
        words: 'say which sample is of it: 1 more',
      },
      {
        asked: 'a blank of Cu, at most 0.5 mg/kg',
        lines: [3, 4],
        isAnswered: true,
        words: '0.3 mg/kg',
      },
      {
        asked: 'a blank of Pb, at most 0.5 mg/kg',
        lines: [],
        isAnswered: false,
        words: 'no row of the file is a reagent blank of it',
      },
      { asked: 'the drift standard before the samples', lines: [2], isAnswered: true, words: '' },
      { asked: 'the drift standard after the samples', lines: [7], isAnswered: true, words: '' },
    ]);
  });

  it('mark the rows that answer them', () => {
    const asked = askedControls(asks, { table, materials: { RM: 'RM-1' }, kinds });
    expect(asked[0]).toMatchObject({ lines: [6], isAnswered: true, words: 'RM' });
    expect(rowAnswers(table, asked).map((row) => [row.line, row.readAs, row.answers])).toEqual([
      [2, 'drift standard', 'the drift standard before the samples'],
      [3, 'reagent blank', 'a blank of Cu, at most 0.5 mg/kg'],
      [4, 'reagent blank', 'a blank of Cu, at most 0.5 mg/kg'],
      [5, 'sample', ''],
      [6, 'sample', '1 × reference material fine silver'],
      [7, 'drift standard', 'the drift standard after the samples'],
    ]);
  });

  it('are the drift standard alone where no method is stated, wanted on both sides', () => {
    const open = tableOf(readText('Sample;Cu;Pb\nB1;1;2\nDrift;5;5\nB1;1;2'));
    const asked = askedControls(null, { table: open, materials: {}, kinds });
    expect(asked.map(({ isAnswered }) => isAnswered)).toEqual([false, false]);
    const signals = tableOf(readText('Sample;Cu cps;Pb cps\nB1;1;2\nBlank;5;5\nB1;1;2'));
    const blank = askedControls(asks, { table: signals, materials: {}, kinds })[1];
    expect(blank).toMatchObject({ isAnswered: true, words: 'found from its signals' });
  });
});
