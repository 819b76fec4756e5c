import { z } from 'zod';
import { refuse } from '../../../journal/refusal.ts';
import { defineCommand, draft } from '../../../journal/station.ts';
import { instruments } from '../books.ts';
import { instrumentId } from '../instruments.ts';
import { registersRefusals } from '../refusals.ts';
import { checkSchema } from './bodies.ts';
import { InstrumentChecked } from './entries.ts';
import { judgeCheck, wordsOfCheck } from './judge.ts';
import { instrumentCheckRefusals } from './refusals.ts';

/** Records a check of an instrument between its calibrations. */
export const recordInstrumentCheck = defineCommand({
  command: 'record-instrument-check',
  station: 'registers',
  title: 'Record instrument check',
  input: z.strictObject({ instrument: instrumentId, check: checkSchema }),
  roles: ['chief assayer', 'assayer', 'inspector', 'custodian'],
  signature: 'none',
  facts: async (books, input) => books.get(instruments, input.instrument),
  decide: ({ instrument, check }, row) => {
    if (!row) {
      const refusal = refuse(registersRefusals, 'InstrumentUnknown', {
        message: `${instrument} is not in the register of instruments.`,
        field: 'instrument',
        figures: { instrument },
      });
      return { refusals: [refusal] };
    }
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
    const lastGood = row.lastGood ?? row.entry;
    const words = `${judged.passes ? 'Passes.' : `${row.title} does not pass and is stopped.`} ${wordsOfCheck(judged)}`;
    return {
      entries: [
        draft(InstrumentChecked, { instrument, check, ...judged, lastGood }, { instrument }),
      ],
      answer: { instrument, passes: judged.passes, words },
    };
  },
});

export const instrumentCheckCommands = [recordInstrumentCheck] as const;
