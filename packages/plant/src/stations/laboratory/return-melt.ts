import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type BalanceRow, balances } from '../../journal/core-books.ts';
import { refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, titleSchema } from '../registers/index.ts';
import { MeltReturned } from './entries.ts';
import { type MeltFacts, meltFacts, notSampled } from './melt-facts.ts';
import { laboratoryRefusals } from './refusals.ts';

const returnInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The refused melt.' }),
  document: titleSchema.meta({
    title: 'Document',
    description: 'The delivery note under which it goes back.',
  }),
});

interface ReturnFacts {
  readonly melt: MeltFacts;
  /** What the postings say lies at receiving of this melt. */
  readonly left: BalanceRow | undefined;
}

async function returnFacts(
  books: BookReader,
  input: { readonly melt: string },
): Promise<ReturnFacts> {
  const melt = await meltFacts(books, input.melt);
  if (melt.known !== 'sampled') return { melt, left: undefined };
  const { metal, pieceStandard } = melt.standard;
  return { melt, left: await books.get(balances, 'receiving', metal, pieceStandard, input.melt) };
}

function decideReturn(input: z.infer<typeof returnInput>, facts: ReturnFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const { melt, document } = input;
  const stage = sampled.trial?.stage ?? 'to be measured';
  if (stage !== 'refused' && stage !== 'returned') {
    return {
      refusals: [
        refuse(laboratoryRefusals, 'MeltNotRefused', {
          message: `Melt ${melt} is ${stage}, not refused.`,
          field: 'melt',
          figures: { melt, stage },
        }),
      ],
    };
  }
  const { left } = facts;
  if (!left || left.pieces <= 0) {
    return {
      refusals: [
        refuse(laboratoryRefusals, 'NothingToReturn', {
          message: `No piece of melt ${melt} lies at receiving.`,
          field: 'melt',
          figures: { melt, pieces: left?.pieces ?? 0 },
        }),
      ],
    };
  }
  const { pieces, grossMicrograms, fineMicrograms } = left;
  const { metal, pieceStandard } = sampled.standard;
  const body = { melt, document, metal, pieceStandard, pieces, grossMicrograms, fineMicrograms };
  return {
    entries: [draft(MeltReturned, body)],
    answer: { melt, pieces, grossMicrograms },
  };
}

/** Hands a refused melt back to its supplier: all of it that lies at receiving. */
export const returnMelt = defineCommand({
  command: 'return-melt',
  station: 'laboratory',
  title: 'Return melt to supplier',
  input: returnInput,
  roles: ['custodian'],
  signature: 'author and witness',
  witnessRoles: [
    'custodian',
    'inspector',
    'assayer',
    'die keeper',
    'metal accountant',
    'chief assayer',
  ],
  facts: returnFacts,
  decide: decideReturn,
});
