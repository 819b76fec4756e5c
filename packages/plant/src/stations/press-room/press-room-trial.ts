import type { Outcome } from '../../journal/recorder.ts';
import type { Station } from '../../journal/station.ts';
import type { Trial } from '../../journal/trial.ts';
import { checkedMelt, laboratoryTrial, reading, recorded } from '../laboratory/laboratory-trial.ts';
import { pressRoomStation } from './station.ts';

const photograph = (digit: string) => digit.repeat(64);

/** Photographs of both faces and the edge. */
const photographs = [
  { face: 'obverse', sha256: photograph('a') },
  { face: 'reverse', sha256: photograph('b') },
  { face: 'edge', sha256: photograph('c') },
];

/** A released melt of 58 blanks at receiving, a press and its tools. */
export async function pressRoomTrial(downstream: readonly Station[] = []): Promise<Trial> {
  const trial = await laboratoryTrial([pressRoomStation, ...downstream]);
  const must = async (command: string, input: unknown, author = 'chief', witness?: string) =>
    recorded(await trial.do(command, input, author, witness));
  const press = { title: 'Press', kind: 'press', place: 'press-room' };
  const nothing = { divisionGrams: null, repeatabilityGrams: null, gainRelative: null };
  const calibrationDue = '2026-12-31';
  for (const instrument of ['P-1', 'P-2']) {
    await must('register-instrument', { ...press, ...nothing, instrument, calibrationDue });
  }
  await must('register-instrument', {
    instrument: 'T-1',
    title: 'Tube balance',
    kind: 'balance',
    place: 'put-up',
    divisionGrams: 0.01,
    repeatabilityGrams: 0.01,
    gainRelative: 0.00001,
    calibrationDue,
  });
  for (const [die, part] of [
    ['O-1', 'obverse'],
    ['O-2', 'obverse'],
    ['R-1', 'reverse'],
    ['K-1', 'collar'],
  ]) {
    await must('receive-die', { die, part, pieceStandard: 'lark-8' }, 'dies', 'inspector');
  }
  await checkedMelt(trial, 'M-1', 917.4);
  await must('rule-melt', { melt: 'M-1', ruling: 'release', reason: 'It passes.' });
  return trial;
}

/** Pieces of 8.01 g each, as the balance shows them. */
export const grossOf = (pieces: number) => reading((pieces * 8.01).toFixed(2), 'g');

/** Takes blanks and opens a run on them. */
export async function openRun(trial: Trial, pieces: number, run = 'RUN-1'): Promise<void> {
  const gross = grossOf(pieces);
  const blanks = { melt: 'M-1', pieces, gross, instrument: 'B-1' };
  recorded(await trial.do('take-blanks', blanks, 'inspector', 'custodian'));
  const tools = { press: 'P-1', obverse: 'O-1', reverse: 'R-1', collar: 'K-1' };
  const input = { run, ...tools, melt: 'M-1', counterBefore: 1000 };
  recorded(await trial.do('open-run', input, 'inspector', 'custodian'));
}

/** Examines a strike: sound, or with a fault of that family. */
export function strike(
  trial: Trial,
  occasion: 'first' | 'roving' | 'last',
  strikeNumber: number,
  more: { family?: string; changes?: object } = {},
): Promise<Outcome> {
  const defect = more.family ? { family: more.family, words: 'Seen on the obverse.' } : null;
  const input = {
    run: 'RUN-1',
    occasion,
    strikeNumber,
    mass: reading('8.01', 'g'),
    diameter: reading('22.00', 'mm'),
    thickness: reading('1.50', 'mm'),
    instruments: { mass: 'B-1', diameter: 'M-1', thickness: 'M-1' },
    photographs,
    verdict: more.family ? 'fault' : 'approved',
    defect,
    ...more.changes,
  };
  return trial.do('record-strike', input, 'inspector');
}

/** Strikes and closes a run of so many pieces without a fault. */
export async function strikeRun(trial: Trial, pieces: number): Promise<void> {
  await openRun(trial, pieces);
  recorded(await strike(trial, 'first', 1));
  recorded(await strike(trial, 'last', pieces));
  const closing = { run: 'RUN-1', counterAfter: 1000 + pieces };
  recorded(await trial.do('close-run', closing, 'inspector', 'custodian'));
}

/** Sends pieces of the run to put-up. */
export function send(trial: Trial, pieces: number, changes: object = {}): Promise<Outcome> {
  const gross = grossOf(pieces);
  const input = { melt: 'M-1', run: 'RUN-1', pieces, gross, instrument: 'B-1', ...changes };
  return trial.do('deliver-pieces', input, 'inspector');
}
