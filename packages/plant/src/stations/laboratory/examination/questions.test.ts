import { expect, it } from 'vitest';
import { examinationTrial } from './examination-trial.ts';

it('a desk learns what a further examination is held to', async () => {
  const { trial, blanks } = await examinationTrial();
  const ask = (melt: string) => trial.ask('melt-examinations', { melt }, 'inspector');
  expect(await ask('M-1')).toMatchObject({
    isOpen: true,
    hardness: { least: 35, greatest: 55 },
    grainSize: { least: 5, greatest: 8 },
    blanks: blanks.map((blank) => ({ blank, isCut: false, thicknessMillimetres: 3 })),
    examinations: [],
  });
  expect(await ask('M-2')).toMatchObject({ hardness: null, grainSize: null });
  expect(await ask('M-9')).toBeNull();
});
