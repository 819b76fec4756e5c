import { z } from 'zod';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { closedTrial, notSampled, type SampledMelt } from '../melt-facts.ts';
import { greatestDeterminations, resultStands } from '../run-facts.ts';
import { FurtherBlanksAsked } from './entries.ts';
import {
  type AskFacts,
  askFacts,
  causeOf,
  cutNotAssayed,
  leftForAssay,
  roundOnTheWay,
} from './need.ts';
import { furtherRefusals } from './refusals.ts';

const number = `a whole number from 1 to ${greatestDeterminations}`;

const askInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that is on trial.' }),
  pieces: z.int(number).min(1, number).max(greatestDeterminations, number).meta({
    title: 'Further blanks',
    description: 'How many; which ones is drawn.',
  }),
  reason: reasonSchema,
});

function waitingRefusals(sampled: SampledMelt, facts: AskFacts): readonly Refusal[] {
  const { melt } = sampled.melt;
  const open = roundOnTheWay(facts);
  if (open) {
    return [
      refuse(furtherRefusals, 'FurtherBlanksOnTheWay', {
        message: `${open.pieces} further blanks of melt ${melt} were asked for in entry ${open.askedEntry}.`,
        field: 'melt',
        figures: { melt, pieces: open.pieces, entry: open.askedEntry },
      }),
    ];
  }
  const left = leftForAssay(sampled);
  if (left.length > 0) {
    return [
      refuse(furtherRefusals, 'BlanksForAssayLeft', {
        message: `${left.join(', ')} of melt ${melt} ${left.length === 1 ? 'was drawn for assay and is' : 'were drawn for assay and are'} not cut.`,
        field: 'melt',
        figures: { melt, blanks: left },
      }),
    ];
  }
  const cut = cutNotAssayed(sampled, facts);
  if (cut.length === 0) return [];
  return [
    refuse(furtherRefusals, 'CutBlanksNotAssayed', {
      message: `${cut.join(', ')} of melt ${melt} ${cut.length === 1 ? 'is' : 'are'} cut and not assayed.`,
      field: 'melt',
      figures: { melt, blanks: cut },
    }),
  ];
}

function notNeeded(sampled: SampledMelt, facts: AskFacts): Refusal {
  const { melt } = sampled.melt;
  const valid = facts.determinations.filter(({ state }) => state === 'valid').length;
  return refuse(furtherRefusals, 'FurtherBlanksNotNeeded', {
    message: `Melt ${melt} has ${valid} valid determinations, and none was set aside; no verdict on it is undecided.`,
    field: 'melt',
    figures: { melt, determinationsValid: valid },
  });
}

/** A blank that no determination may be made of is not taken out of its drum. */
function tooMany(input: z.infer<typeof askInput>, facts: AskFacts): readonly Refusal[] {
  const valid = facts.determinations.filter(({ state }) => state === 'valid').length;
  const left = greatestDeterminations - valid;
  if (input.pieces <= left) return [];
  return [
    refuse(furtherRefusals, 'TooManyFurtherBlanks', {
      message: `Melt ${input.melt} has ${valid} valid determinations of at most ${greatestDeterminations}: ${left} more may be added, not ${input.pieces}.`,
      field: 'pieces',
      figures: {
        melt: input.melt,
        determinationsValid: valid,
        greatestDeterminations,
        pieces: input.pieces,
      },
    }),
  ];
}

function decideAsking(input: z.infer<typeof askInput>, facts: AskFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const closed = closedTrial(sampled.trial);
  const stands = closed.length > 0 ? closed : resultStands(sampled);
  if (stands.length > 0) return { refusals: stands };
  const waiting = waitingRefusals(sampled, facts);
  if (waiting.length > 0) return { refusals: waiting };
  const cause = causeOf(sampled, facts);
  if (!cause) return { refusals: [notNeeded(sampled, facts)] };
  const beyond = tooMany(input, facts);
  if (beyond.length > 0) return { refusals: beyond };
  const body = {
    melt: input.melt,
    consignment: sampled.melt.consignment,
    pieceStandard: sampled.standard.pieceStandard,
    round: facts.rounds.length + 1,
    pieces: input.pieces,
    cause,
    reason: input.reason,
  };
  return {
    entries: [draft(FurtherBlanksAsked, body)],
    answer: { melt: input.melt, round: body.round, pieces: input.pieces },
  };
}

/** Asks for further blanks of a melt, which are then drawn and taken at receiving. */
export const askFurtherBlanks = defineCommand({
  command: 'ask-further-blanks',
  station: 'laboratory',
  title: 'Ask for further blanks',
  input: askInput,
  roles: ['assayer', 'chief assayer'],
  signature: 'author',
  facts: askFacts,
  decide: decideAsking,
});
