import { expect, it } from 'vitest';
import { reading, recorded } from '../laboratory-trial.ts';
import { examinationDocket } from './docket.ts';
import { examinationTrial } from './examination-trial.ts';

it('a finding outside its limits waits on the docket until the melt is ruled on', async () => {
  const { trial, blanks } = await examinationTrial();
  const sheet = (diagonal: string) => ({
    melt: 'M-1',
    blank: blanks[0],
    instrument: 'H-1',
    testForceNewtons: 4.903,
    spacingGroup: 'light metals, lead and tin',
    forceRelativeStandardUncertaintyPercent: 0.5,
    diagonalStandardUncertaintyMicrometres: 0.5,
    indentations: [{ label: 'A', first: reading(diagonal, 'µm'), second: reading(diagonal, 'µm') }],
  });
  // 45 HV is inside of 35 to 55 HV, 64 HV outside.
  recorded(await trial.do('measure-hardness', sheet('143.0'), 'inspector'));
  expect(await examinationDocket(trial.books)).toEqual([]);
  recorded(await trial.do('measure-hardness', sheet('120.0'), 'inspector'));
  expect(await examinationDocket(trial.books)).toMatchObject([
    { what: `The hardness of blank ${blanks[0]} lies outside its limits.`, weight: 'look' },
  ]);
  const ruling = { melt: 'M-1', ruling: 'refuse', reason: 'Too hard to strike.' };
  recorded(await trial.do('rule-melt', ruling, 'chief'));
  expect(await examinationDocket(trial.books)).toEqual([]);
});
