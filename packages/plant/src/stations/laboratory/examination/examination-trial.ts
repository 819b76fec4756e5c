import type { Trial } from '../../../journal/trial.ts';
import {
  heron,
  instrument,
  laboratoryTrial,
  measure,
  recorded,
  sampleMelt,
} from '../laboratory-trial.ts';

/** The egret of this trial: a silver piece whose metal has a hardness and a grain. */
const egret = {
  ...heron,
  pieceStandard: 'egret-31',
  title: 'Egret 31 g',
  hardnessLeastVickers: 35,
  hardnessGreatestVickers: 55,
  grainSizeLeast: 5,
  grainSizeGreatest: 8,
};

/** A laboratory with a hardness tester and a microscope, and two melts: one of set limits, one without. */
export async function examinationTrial(): Promise<{
  readonly trial: Trial;
  /** Blanks of M-1, whose piece standard sets limits; measured. */
  readonly blanks: readonly string[];
  /** Blanks of M-2, whose piece standard sets none. */
  readonly free: readonly string[];
}> {
  const trial = await laboratoryTrial();
  recorded(await trial.do('register-piece-standard', egret, 'chief'));
  for (const [id, kind] of [
    ['H-1', 'hardness tester'],
    ['X-1', 'microscope'],
  ] as const) {
    recorded(await trial.do('register-instrument', instrument(id, kind), 'chief'));
  }
  const { all } = await sampleMelt(trial, 'M-1', 'egret-31');
  recorded(await measure(trial, 'M-1', all, { pieceStandard: 'egret-31' }));
  const free = await sampleMelt(trial, 'M-2', 'heron-31');
  return { trial, blanks: all, free: free.all };
}
