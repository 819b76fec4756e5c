import type { Outcome } from '../../journal/recorder.ts';
import type { Trial } from '../../journal/trial.ts';
import { reading, recorded } from '../laboratory/laboratory-trial.ts';
import {
  openRun,
  pressRoomTrial,
  send,
  strike,
  strikeRun,
} from '../press-room/press-room-trial.ts';
import { putUpStation } from './station.ts';

/** The number of the entry that sent pieces. */
export function numberOf(outcome: Outcome): number {
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
  return outcome.entries[0]?.number ?? 0;
}

/** A plant down to put-up, with a second balance there that is too coarse for these pieces. */
export async function putUpTrial(): Promise<Trial> {
  const trial = await pressRoomTrial([putUpStation]);
  const coarse = {
    instrument: 'T-COARSE',
    title: 'Platform balance',
    kind: 'balance',
    place: 'put-up',
    divisionGrams: 5,
    repeatabilityGrams: 3,
    gainRelative: 0.0001,
    calibrationDue: '2026-12-31',
  };
  recorded(await trial.do('register-instrument', coarse, 'chief'));
  return trial;
}

/** Forty-seven pieces of melt M-1 lie loose in put-up. */
export async function deliveredTrial(): Promise<Trial> {
  const trial = await putUpTrial();
  await strikeRun(trial, 47);
  const delivery = numberOf(await send(trial, 47));
  recorded(await trial.do('accept-delivery', { delivery, pieces: 47 }, 'custodian'));
  return trial;
}

/** Ten of twenty struck pieces lie in put-up, and then a fault of that family is seen. */
export async function faultAfterDelivery(family: string): Promise<Trial> {
  const trial = await putUpTrial();
  await openRun(trial, 20);
  recorded(await strike(trial, 'first', 1));
  recorded(await strike(trial, 'roving', 10));
  const delivery = numberOf(await send(trial, 10));
  recorded(await trial.do('accept-delivery', { delivery, pieces: 10 }, 'custodian'));
  recorded(await strike(trial, 'roving', 15, { family }));
  return trial;
}

/** A tube on the balance; its tare is the 20 g of the piece standard. */
export const tubeInput = (tube: string, grossGrams: number, changes: object = {}) => ({
  tube,
  melt: 'M-1',
  pieces: 20,
  gross: reading(grossGrams.toFixed(2), 'g'),
  tare: null,
  instrument: 'T-1',
  ...changes,
});

export const weigh = (trial: Trial, tube: string, grossGrams: number, changes: object = {}) =>
  trial.do('weigh-tube', tubeInput(tube, grossGrams, changes), 'custodian');

/** Twenty pieces of 8.01 g in a tube of 20 g. */
export const fullTubeGrams = 180.2;

/** A box of two full tubes on the balance; its tare is the 800 g of the piece standard. */
export const boxInput = (changes: object = {}) => ({
  box: 'BOX-1',
  tubes: ['T-101', 'T-102'],
  gross: reading('1160.40', 'g'),
  tare: null,
  seal: 'SEAL-1',
  instrument: 'T-1',
  ...changes,
});

export const pack = (trial: Trial, changes: object = {}) =>
  trial.do('pack-box', boxInput(changes), 'custodian', 'storeman');

/** Two proved tubes of twenty pieces, ready to be packed. */
export async function filledTrial(): Promise<Trial> {
  const trial = await deliveredTrial();
  for (const tube of ['T-101', 'T-102']) recorded(await weigh(trial, tube, fullTubeGrams));
  return trial;
}

/** Lets the balance T-1 fail a check, sets T-2 beside it, and answers the hold that follows. */
export async function failTubeBalance(trial: Trial): Promise<string> {
  const nominal = reading('200.00', 'g');
  const points = [{ checkStandard: 'W-1', nominal, reading: reading('209.00', 'g') }];
  const check = { kind: 'weights', points, limit: reading('0.05', 'g') };
  recorded(await trial.do('record-instrument-check', { instrument: 'T-1', check }, 'custodian'));
  const second = {
    instrument: 'T-2',
    title: 'Second balance',
    kind: 'balance',
    place: 'put-up',
    divisionGrams: 0.01,
    repeatabilityGrams: 0.01,
    gainRelative: 0.00001,
    calibrationDue: '2026-12-31',
  };
  recorded(await trial.do('register-instrument', second, 'chief'));
  const [hold] = (await trial.ask('holds', {}, 'chief')) as unknown as { hold: string }[];
  return hold?.hold ?? '';
}

/** The entries of the tube weighings that a hold keeps in doubt. */
export async function heldTubes(trial: Trial, hold: string): Promise<readonly number[]> {
  const shown = (await trial.ask('results-hold', { hold }, 'chief')) as unknown as {
    readonly held: readonly { readonly entry: number; readonly of: { readonly thing: string } }[];
  };
  return shown.held.filter(({ of }) => of.thing === 'tube').map(({ entry }) => entry);
}
