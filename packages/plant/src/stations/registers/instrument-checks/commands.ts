import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { defineCommand, draft } from '../../../journal/station.ts';
import { type InstrumentRow, instruments } from '../books.ts';
import { reasonSchema } from '../identity.ts';
import { instrumentId } from '../instruments.ts';
import { registersRefusals } from '../refusals.ts';
import { checkSchema } from './bodies.ts';
import { instrumentChecks, type SuspectIntervalRow, suspectIntervals } from './books.ts';
import { CalibrationDoubted, InstrumentChecked } from './entries.ts';
import { judgeCheck, wordsOfCheck } from './judge.ts';
import { instrumentCheckRefusals } from './refusals.ts';
import { wideLimit } from './wide-limit.ts';

const instrumentUnknown = (instrument: string): Refusal =>
  refuse(registersRefusals, 'InstrumentUnknown', {
    message: `${instrument} is not in the register of instruments.`,
    field: 'instrument',
    figures: { instrument },
  });

/** Records a check of an instrument between its calibrations. */
const recordInstrumentCheck = defineCommand({
  command: 'record-instrument-check',
  station: 'registers',
  title: 'Record instrument check',
  input: z.strictObject({
    instrument: instrumentId,
    check: checkSchema,
    reason: reasonSchema.optional().meta({
      title: 'Why the limit is so wide',
      description: 'Only where it is far beyond what the balance shows.',
    }),
  }),
  roles: ['chief assayer', 'assayer', 'inspector', 'custodian'],
  signature: 'none',
  facts: async (books, input) => {
    const newest = { prefix: [input.instrument], descending: true, limit: 1 };
    const [last] = await books.select(instrumentChecks, newest);
    return { row: await books.get(instruments, input.instrument), earlier: last?.limit };
  },
  decide: ({ instrument, check, reason }, { row, earlier }) => {
    if (!row) return { refusals: [instrumentUnknown(instrument)] };
    if ((row.kind === 'balance') !== (check.kind === 'weights')) {
      const accepted = row.kind === 'balance' ? 'weights' : 'values';
      const refusal = refuse(instrumentCheckRefusals, 'CheckUnfit', {
        message: `${row.title} is a ${row.kind}: it is checked with ${accepted}.`,
        field: 'check.kind',
        figures: { instrument, kind: row.kind, accepted },
      });
      return { refusals: [refusal] };
    }
    const judged = judgeCheck(check, row);
    // What fails even so is recorded: the balance stops.
    const known = { reason, earlierMilligrams: earlier };
    const wide = judged.passes ? wideLimit(check, row, known) : [];
    if (wide.length > 0) return { refusals: wide };
    const lastGood = row.lastGood ?? row.entry;
    const words = `${judged.passes ? 'Passes.' : `${row.title} does not pass and is stopped.`} ${wordsOfCheck(judged)}`;
    return {
      entries: [
        draft(
          InstrumentChecked,
          { instrument, check, ...judged, lastGood },
          { instrument, ...(reason === undefined ? {} : { reason }) },
        ),
      ],
      answer: { instrument, passes: judged.passes, words },
    };
  },
});

interface DoubtFacts {
  readonly row: InstrumentRow | undefined;
  /** The doubt of the present calibration; nothing where nobody has stated one. */
  readonly doubted: SuspectIntervalRow | undefined;
}

async function doubtFacts(
  books: BookReader,
  { instrument }: { readonly instrument: string },
): Promise<DoubtFacts> {
  const row = await books.get(instruments, instrument);
  const intervals = await books.select(suspectIntervals, { prefix: [instrument] });
  return {
    row,
    doubted: intervals.find(({ cause, from }) => cause === 'calibration' && from === row?.entry),
  };
}

/** Says that the calibration by which an instrument was used is wrong. */
const doubtCalibration = defineCommand({
  command: 'doubt-calibration',
  station: 'registers',
  title: 'State a wrong calibration',
  input: z.strictObject({
    instrument: instrumentId,
    reason: reasonSchema.meta({ title: 'Reason', description: 'What was found, and how.' }),
  }),
  roles: ['chief assayer'],
  signature: 'author',
  facts: doubtFacts,
  decide: ({ instrument, reason }, { row, doubted }) => {
    if (!row) return { refusals: [instrumentUnknown(instrument)] };
    if (doubted) {
      const refusal = refuse(instrumentCheckRefusals, 'CalibrationAlreadyDoubted', {
        message: `The calibration of ${row.title} was found wrong in entry ${doubted.through}.`,
        field: 'instrument',
        figures: { instrument, entry: doubted.through, calibration: row.entry },
      });
      return { refusals: [refusal] };
    }
    const body = { instrument, calibration: row.entry, reason };
    return {
      entries: [draft(CalibrationDoubted, body, { instrument })],
      answer: { instrument, words: `${row.title} is stopped; what it gave since is in doubt.` },
    };
  },
});

export const instrumentCheckCommands = [recordInstrumentCheck, doubtCalibration] as const;
