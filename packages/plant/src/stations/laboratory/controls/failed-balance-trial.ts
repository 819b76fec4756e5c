import type { Trial } from '../../../journal/trial.ts';
import { instrument, reading, recorded } from '../laboratory-trial.ts';
import type { Hold } from './holds.ts';

/** Lets the balance B-1 fail a check, and answers the hold that follows. */
export async function failBalance(trial: Trial): Promise<string> {
  const check = {
    kind: 'weights',
    points: [
      {
        checkStandard: 'W-1',
        nominal: reading('20.00000', 'g'),
        reading: reading('20.00100', 'g'),
      },
    ],
    limit: reading('0.5', 'mg'),
  };
  const input = { instrument: 'B-1', check };
  recorded(await trial.do('record-instrument-check', input, 'inspector'));
  const [hold] = (await trial.ask('holds', {}, 'chief')) as unknown as Hold[];
  return hold?.hold ?? '';
}

/** Puts a titre in doubt by its balance; the balance B-2 serves from then on. */
export async function doubtTitre(
  trial: Trial,
  assayRun: string,
): Promise<{ readonly hold: string; readonly entry: number }> {
  const hold = await failBalance(trial);
  recorded(await trial.do('register-instrument', instrument('B-2', 'balance'), 'chief'));
  const answer = (await trial.ask('results-hold', { hold }, 'chief')) as unknown as {
    readonly held: readonly { readonly entry: number; readonly assayRun: string | null }[];
  };
  const entry = answer.held.find((one) => one.assayRun === assayRun)?.entry ?? 0;
  return { hold, entry };
}
