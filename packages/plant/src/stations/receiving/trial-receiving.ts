import type { Reading } from '../../journal/reading.ts';
import type { Refusal } from '../../journal/refusal.ts';
import { makeTrial, type Trial } from '../../journal/trial.ts';
import { registersStation } from '../registers/station.ts';
import { registerForTrial } from '../registers/trial-registers.ts';
import { receivingStation } from './station.ts';

/** A reading as a balance sends it. */
export const grams = (text: string): Reading => ({ text, unit: 'g', typed: false });

const documented = (text: string): Reading => ({ text, unit: 'kg', typed: true });

/** An invented delivery: 600 blanks of one melt in two drums, 200 of another in one. */
export const delivery = {
  consignment: 'C-1',
  supplier: 'NORTH',
  document: 'Delivery note 4711',
  pieceStandard: 'GOLD-10',
  melts: [
    { melt: 'M-1', supplierFinenessPerMille: 999.93 },
    { melt: 'M-2', supplierFinenessPerMille: null },
  ],
  drums: [
    {
      drum: 'D-1',
      melt: 'M-1',
      pieces: 300,
      gross: documented('5.0100'),
      tare: documented('2.0'),
      seal: 'S-1',
    },
    {
      drum: 'D-2',
      melt: 'M-1',
      pieces: 300,
      gross: documented('5.0000'),
      tare: documented('2.0'),
      seal: 'S-2',
    },
    {
      drum: 'D-3',
      melt: 'M-2',
      pieces: 200,
      gross: documented('4.0000'),
      tare: documented('2.0'),
      seal: 'S-3',
    },
  ],
};

/** A drum weighed as documented, to within what the count needs. */
export const weighings = {
  'D-1': { drum: 'D-1', sealFound: 'S-1', gross: grams('5001.0'), tare: grams('2000.0') },
  'D-2': { drum: 'D-2', sealFound: 'S-2', gross: grams('5000.5'), tare: grams('2000.0') },
  'D-3': { drum: 'D-3', sealFound: 'S-3', gross: grams('4000.2'), tare: grams('2000.0') },
} as const;

const balance = { instrument: 'BALANCE-1' };

/** A trial of registers and receiving, with shorthands for what was recorded and what was refused. */
export interface ReceivingTrial extends Trial {
  /** Kinds, bodies and postings of what the command recorded. */
  recorded(
    command: string,
    input: unknown,
    author: string,
    witness?: string,
  ): Promise<readonly { kind: string; body: unknown; postings: readonly unknown[] }[]>;
  refused(
    command: string,
    input: unknown,
    author: string,
    witness?: string,
  ): Promise<readonly Refusal[]>;
  weigh(drum: keyof typeof weighings): Promise<void>;
}

/** A plant with registers filled; nothing is announced yet. */
export async function makeReceivingTrial(): Promise<ReceivingTrial> {
  const trial = await makeTrial([registersStation, receivingStation]);
  await registerForTrial(trial);
  const run = async (command: string, input: unknown, author: string, witness?: string) =>
    trial.do(command, input, author, witness);
  const recorded: ReceivingTrial['recorded'] = async (...request) => {
    const outcome = await run(...request);
    if (outcome.outcome === 'refused') throw new Error(JSON.stringify(outcome.refusals));
    return outcome.entries.map(({ kind, body, postings }) => ({ kind, body, postings }));
  };
  const refused: ReceivingTrial['refused'] = async (...request) => {
    const outcome = await run(...request);
    if (outcome.outcome === 'recorded') throw new Error(`${request[0]} was recorded`);
    return outcome.refusals;
  };
  const weigh: ReceivingTrial['weigh'] = async (drum) => {
    await recorded('weigh-drum', { ...weighings[drum], ...balance }, 'custodian');
  };
  return Object.assign(trial, { recorded, refused, weigh });
}

/** The same plant with the delivery announced. */
export async function makeAnnouncedTrial(): Promise<ReceivingTrial> {
  const trial = await makeReceivingTrial();
  await trial.recorded('announce-consignment', delivery, 'custodian');
  return trial;
}

/** The same plant with every drum weighed and counted. */
export async function makeWeighedTrial(): Promise<ReceivingTrial> {
  const trial = await makeAnnouncedTrial();
  for (const drum of ['D-1', 'D-2', 'D-3'] as const) await trial.weigh(drum);
  return trial;
}

/** The same plant with the samples of both melts ordered. */
export async function makeOrderedTrial(): Promise<ReceivingTrial> {
  const trial = await makeWeighedTrial();
  await trial.recorded('order-samples', { consignment: 'C-1' }, 'inspector');
  return trial;
}
