import { expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { announceMelt, laboratoryTrial, recorded } from '../laboratory-trial.ts';
import { laboratoryStation } from '../station.ts';
import { failBalance } from './failed-balance-trial.ts';

const papers = async (trial: Trial) =>
  ((await laboratoryStation.docket?.(trial.books, '')) ?? []).filter(({ paper }) =>
    paper.startsWith('laboratory/set-aside/'),
  );

/** A drum that was counted by a weighing on a balance that failed afterwards. */
async function doubtfulDrum() {
  const trial = await laboratoryTrial();
  await announceMelt(trial, 'M-1');
  const hold = await failBalance(trial);
  const { held } = (await trial.ask('results-hold', { hold }, 'chief')) as unknown as {
    readonly held: readonly { readonly entry: number }[];
  };
  const entries = held.map(({ entry }) => entry);
  const answer = async (finding: string) => {
    const input = { hold, entries, finding, reason: 'The pan was out of level.' };
    recorded(await trial.do('answer-hold', input, 'chief'));
  };
  return { trial, answer };
}

it('a weighing of a drum that was set aside leaves a paper until the drum is counted by hand', async () => {
  const { trial, answer } = await doubtfulDrum();
  expect(await papers(trial)).toEqual([]);
  await answer('set aside');
  expect(await papers(trial)).toMatchObject([
    {
      what: 'The weighing of drum D-M-1, counted with 60 pieces of melt M-1, was set aside.',
      why: 'The pan was out of level.',
      act: 'Tally the drum',
      path: '/receiving/consignments/C-M-1',
      weight: 'look',
    },
  ]);
  const tally = { drum: 'D-M-1', piecesFound: 60 };
  recorded(await trial.do('tally-drum', tally, 'custodian', 'inspector'));
  expect(await papers(trial)).toEqual([]);
});

it('a weighing that stands leaves none, nor does one of which the sample has been ordered', async () => {
  const standing = await doubtfulDrum();
  await standing.answer('stands');
  expect(await papers(standing.trial)).toEqual([]);
  const late = await doubtfulDrum();
  await late.answer('set aside');
  recorded(await late.trial.do('order-samples', { consignment: 'C-M-1' }, 'inspector'));
  expect(await papers(late.trial)).toEqual([]);
});
