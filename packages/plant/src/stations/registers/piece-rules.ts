import { refuse } from '../../journal/refusal.ts';
import { defineCommand, draft } from '../../journal/station.ts';
import { dieBody } from './bodies.ts';
import { dies, pieceStandards } from './books.ts';
import { DieReceived, PieceStandardRegistered } from './entries.ts';
import { finenessSlip } from './fineness-slips.ts';
import { impurityLimitSlips } from './impurity-limit-slips.ts';
import { pieceStandardSchema } from './piece-standard.ts';
import { registersRefusals } from './refusals.ts';

const station = 'registers';

export const registerPieceStandard = defineCommand({
  command: 'register-piece-standard',
  station,
  title: 'Register a piece standard',
  input: pieceStandardSchema,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({
    present: await books.get(pieceStandards, input.pieceStandard),
  }),
  decide: (input, { present }) => {
    if (!present) {
      const refusals = [
        ...finenessSlip({
          of: input.pieceStandard,
          field: 'finenessDeclaredPartsPerMillion',
          finenessPerMille: input.finenessDeclaredPartsPerMillion / 1000,
        }),
        ...impurityLimitSlips(input),
      ];
      if (refusals.length > 0) return { refusals };
      return { entries: [draft(PieceStandardRegistered, input)] };
    }
    const refusal = refuse(registersRefusals, 'PieceStandardAlreadyRegistered', {
      message: `${input.pieceStandard} is the id of ${present.title}, entry ${present.entry}.`,
      field: 'pieceStandard',
      figures: {
        pieceStandard: input.pieceStandard,
        title: present.title,
        entry: present.entry,
      },
    });
    return { refusals: [refusal] };
  },
});

export const receiveDie = defineCommand({
  command: 'receive-die',
  station,
  title: 'Receive a die',
  input: dieBody,
  roles: ['die keeper'],
  signature: 'author and witness',
  facts: async (books, input) => ({
    present: await books.get(dies, input.die),
    standard: await books.get(pieceStandards, input.pieceStandard),
  }),
  decide: (input, { present, standard }) => {
    if (present) {
      const refusal = refuse(registersRefusals, 'DieAlreadyReceived', {
        message: `${input.die} is the ${present.part} received in entry ${present.entry} for ${present.pieceStandard}.`,
        field: 'die',
        figures: { die: input.die, part: present.part, entry: present.entry },
      });
      return { refusals: [refusal] };
    }
    if (!standard) {
      const refusal = refuse(registersRefusals, 'PieceStandardUnknown', {
        message: `${input.pieceStandard} is not in the register of piece standards.`,
        field: 'pieceStandard',
        figures: { pieceStandard: input.pieceStandard },
      });
      return { refusals: [refusal] };
    }
    return { entries: [draft(DieReceived, input)] };
  },
});
