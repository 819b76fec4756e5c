import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, pieceStandardOf, reasonSchema, titleSchema } from '../registers/index.ts';
import type { DrumState } from './bodies.ts';
import { type Consignment, consignments, type Drum, drums } from './books.ts';
import { drumUnknown, orderedRefusal, stateRefusal } from './drum-refusals.ts';
import { DrumAdmitted, DrumReturned, DrumStopped, DrumTallied } from './entries.ts';
import { receivingRefusals } from './refusals.ts';
import { sealHolder, sealWords } from './seal-use.ts';
import { tallyRefusals } from './tally-refusals.ts';

const station = 'receiving';
const drumField = idSchema.meta({ title: 'Drum', description: 'Scan the label of the drum.' });

interface DrumFacts {
  readonly drum: Drum | undefined;
  readonly consignment: Consignment | undefined;
}

async function drumFacts(books: BookReader, input: { drum: string }): Promise<DrumFacts> {
  const drum = await books.get(drums, input.drum);
  return { drum, consignment: drum && (await books.get(consignments, drum.consignment)) };
}

/** The drum and its consignment when the act can be done with them, or the reason why not. */
function openDrum(
  facts: DrumFacts,
  asked: { drum: string; accepted: readonly DrumState[]; act: string },
): { drum: Drum; consignment: Consignment } | { refusals: readonly Refusal[] } {
  const { drum, consignment } = facts;
  if (!drum || !consignment) return { refusals: [drumUnknown(asked.drum)] };
  const refusal = orderedRefusal(consignment) ?? stateRefusal(drum, asked.accepted, asked.act);
  return refusal ? { refusals: [refusal] } : { drum, consignment };
}

const fieldsOfDrum = ({ drum, melt, consignment }: Drum) => ({ consignment, melt, drum });

const fieldsOfMetal = (consignment: Consignment) => ({
  pieceStandard: consignment.pieceStandard,
  metal: consignment.metal,
  finenessDeclaredPartsPerMillion: consignment.finenessDeclaredPartsPerMillion,
});

const found = 'a whole number of pieces from 0 to 100000';

export const tallyDrum = defineCommand({
  command: 'tally-drum',
  station,
  title: 'Tally a drum',
  input: z.strictObject({
    drum: drumField,
    piecesFound: z
      .int(found)
      .min(0, found)
      .max(100_000, found)
      .meta({ title: 'Pieces found', description: 'Counted one by one by two people.' }),
    reason: reasonSchema.optional().meta({
      title: 'Why you are sure of the count',
      description: 'Only where neither document nor weight bears it out.',
    }),
  }),
  roles: ['custodian', 'inspector'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant', 'chief assayer'],
  facts: async (books, input) => {
    const facts = await drumFacts(books, input);
    const { consignment } = facts;
    const standard = consignment && (await pieceStandardOf(books, consignment.pieceStandard));
    return { ...facts, standard };
  },
  decide: (input, facts): Decision => {
    const accepted = ['needs tally', 'counted'] as const;
    const open = openDrum(facts, { drum: input.drum, accepted, act: 'tallied' });
    if ('refusals' in open) return open;
    const refusals = facts.standard ? tallyRefusals(input, open.drum, facts.standard) : [];
    if (refusals.length > 0) return { refusals };
    const { reason } = input;
    const body = {
      ...fieldsOfDrum(open.drum),
      ...fieldsOfMetal(open.consignment),
      piecesDocumented: open.drum.piecesDocumented,
      piecesBooked: open.drum.pieces,
      piecesFound: input.piecesFound,
    };
    const differencePieces = input.piecesFound - open.drum.piecesDocumented;
    return {
      entries: [draft(DrumTallied, body, reason === undefined ? {} : { reason })],
      answer: { drum: input.drum, state: 'tallied', differencePieces },
    };
  },
});

export const stopDrum = defineCommand({
  command: 'stop-drum',
  station,
  title: 'Stop a drum',
  input: z.strictObject({
    drum: drumField,
    sealFound: idSchema
      .nullable()
      .meta({ title: 'Seal found', description: 'Nothing when it bears none.' }),
    reason: reasonSchema,
  }),
  roles: ['custodian', 'inspector', 'chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant', 'chief assayer'],
  facts: drumFacts,
  decide: (input, facts): Decision => {
    const accepted = ['announced', 'weigh again', 'needs tally', 'counted', 'tallied'] as const;
    const open = openDrum(facts, { drum: input.drum, accepted, act: 'stopped' });
    if ('refusals' in open) return open;
    const { sealFound, reason } = input;
    const body = { ...fieldsOfDrum(open.drum), sealFound, reason };
    return {
      entries: [draft(DrumStopped, body)],
      answer: { drum: input.drum, state: 'stopped' },
    };
  },
});

export const admitDrum = defineCommand({
  command: 'admit-drum',
  station,
  title: 'Admit a stopped drum',
  input: z.strictObject({
    drum: drumField,
    sealAdmitted: idSchema.meta({ title: 'Seal', description: 'The seal the drum bears now.' }),
    reason: reasonSchema,
  }),
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant'],
  facts: async (books, input) => ({
    ...(await drumFacts(books, input)),
    holder: await sealHolder(books, input.sealAdmitted),
  }),
  decide: (input, facts): Decision => {
    const accepted = ['stopped'] as const;
    const open = openDrum(facts, { drum: input.drum, accepted, act: 'admitted' });
    if ('refusals' in open) return open;
    const { holder } = facts;
    if (holder && !(holder.thing === 'drum' && holder.id === input.drum)) {
      const refusal = refuse(receivingRefusals, 'SealAlreadyUsed', {
        message: sealWords(input.sealAdmitted, holder),
        field: 'sealAdmitted',
        figures: { seal: input.sealAdmitted, [holder.thing]: holder.id },
        nextStep: 'Put a new seal on the drum and state its number.',
      });
      return { refusals: [refusal] };
    }
    const { sealAdmitted, reason } = input;
    const body = { ...fieldsOfDrum(open.drum), sealAdmitted, reason };
    return { entries: [draft(DrumAdmitted, body)], answer: { drum: input.drum } };
  },
});

export const returnDrum = defineCommand({
  command: 'return-drum',
  station,
  title: 'Send a drum back',
  input: z.strictObject({
    drum: drumField,
    document: titleSchema.meta({ title: 'Document', description: 'Delivery note of the return.' }),
  }),
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant'],
  facts: drumFacts,
  decide: (input, facts): Decision => {
    const accepted = [
      'stopped',
      'announced',
      'weigh again',
      'needs tally',
      'counted',
      'tallied',
    ] as const;
    const open = openDrum(facts, { drum: input.drum, accepted, act: 'sent back' });
    if ('refusals' in open) return open;
    const { drum, consignment } = open;
    const cameIn = drum.netMicrograms !== null;
    const body = {
      ...fieldsOfDrum(drum),
      ...fieldsOfMetal(consignment),
      document: input.document,
      pieces: cameIn ? drum.pieces : 0,
      grossMicrograms: drum.netMicrograms ?? 0,
      fineMicrograms: drum.fineMicrograms,
    };
    return {
      entries: [draft(DrumReturned, body)],
      answer: { drum: input.drum, state: 'returned' },
    };
  },
});
