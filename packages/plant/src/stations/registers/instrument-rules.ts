import { refuse } from '../../journal/refusal.ts';
import { defineCommand, draft } from '../../journal/station.ts';
import { calibrationBody } from './bodies.ts';
import { instruments } from './books.ts';
import { CalibrationRecorded, InstrumentRegistered } from './entries.ts';
import { instrumentSchema } from './instruments.ts';
import { registersRefusals } from './refusals.ts';
import { weighingSlips } from './weighing-slips.ts';

const station = 'registers';

export const registerInstrument = defineCommand({
  command: 'register-instrument',
  station,
  title: 'Register an instrument',
  input: instrumentSchema,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(instruments, input.instrument) }),
  decide: (input, { present }) => {
    if (!present) {
      const slips = weighingSlips(input);
      if (slips.length > 0) return { refusals: slips };
      return { entries: [draft(InstrumentRegistered, input)] };
    }
    const refusal = refuse(registersRefusals, 'InstrumentAlreadyRegistered', {
      message: `${input.instrument} is the id of ${present.title}, entry ${present.entry}.`,
      field: 'instrument',
      figures: { instrument: input.instrument, title: present.title, entry: present.entry },
    });
    return { refusals: [refusal] };
  },
});

export const recordCalibration = defineCommand({
  command: 'record-calibration',
  station,
  title: 'Record a calibration',
  input: calibrationBody,
  roles: ['chief assayer', 'assayer', 'inspector'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(instruments, input.instrument) }),
  decide: (input, { present }) => {
    if (!present) {
      const refusal = refuse(registersRefusals, 'InstrumentUnknown', {
        message: `${input.instrument} is not in the register of instruments.`,
        field: 'instrument',
        figures: { instrument: input.instrument },
      });
      return { refusals: [refusal] };
    }
    const isBalance = present.kind === 'balance';
    const { divisionGrams, repeatabilityGrams, gainRelative } = input;
    const figures = { divisionGrams, repeatabilityGrams, gainRelative };
    if (Object.values(figures).some((figure) => (figure !== null) !== isBalance)) {
      const refusal = refuse(registersRefusals, 'WeighingFiguresUnfit', {
        message: isBalance
          ? `${present.title} is a balance: its division, repeatability and gain are all stated.`
          : `${present.title} is a ${present.kind} and does not weigh: division, repeatability and gain are left empty.`,
        figures: { instrument: input.instrument, kind: present.kind, ...figures },
      });
      return { refusals: [refusal] };
    }
    const slips = weighingSlips(figures);
    if (slips.length > 0) return { refusals: slips };
    return {
      entries: [draft(CalibrationRecorded, input, { instrument: input.instrument })],
    };
  },
});
