import type { Outcome } from '../../journal/recorder.ts';
import type { Trial } from '../../journal/trial.ts';
import { accountStation } from '../account/station.ts';
import { recorded } from '../laboratory/laboratory-trial.ts';
import { pressRoomTrial, send, strikeRun } from '../press-room/press-room-trial.ts';
import { numberOf, weigh } from '../put-up/put-up-trial.ts';
import { putUpStation } from '../put-up/station.ts';
import { searchStation } from './station.ts';

/** Grams of a tube of 20 g with so many pieces of 8.01 g. */
export const tubeGrams = (pieces: number): number => 20 + pieces * 8.01;

/**
 * A plant with 47 struck pieces of 58 blanks, all 47 sent to put-up and two tubes of twenty filled;
 * one of them holds what `inSecondTube` says.
 */
export async function searchTrial(inSecondTube = 20): Promise<Trial> {
  const trial = await pressRoomTrial([putUpStation, accountStation, searchStation]);
  await strikeRun(trial, 47);
  const delivery = numberOf(await send(trial, 47));
  recorded(await trial.do('accept-delivery', { delivery, pieces: 47 }, 'custodian'));
  recorded(await weigh(trial, 'T-101', tubeGrams(20)));
  recorded(await weigh(trial, 'T-102', tubeGrams(inSecondTube)));
  return trial;
}

/** Tallies a place of the plant: pieces of the one standard, not weighed. */
export async function tallied(trial: Trial, place: string, pieces: number): Promise<void> {
  const line = { pieceStandard: 'lark-8', pieces, gross: null, instrument: null };
  recorded(await trial.do('tally-place', { place, lines: [line] }, 'storeman'));
}

/** Opens the search for the one standard and answers its name. */
export async function opened(trial: Trial): Promise<string> {
  const outcome: Outcome = await trial.do('open-search', { pieceStandard: 'lark-8' }, 'chief');
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
  return `S-${outcome.entries[0]?.number ?? 0}`;
}
