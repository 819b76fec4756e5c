import { fineMicrograms } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { blanksField, blanksNotWhole, namedBlanks } from './cut-blanks.ts';
import { BlanksReturned } from './entries.ts';
import {
  type MeltFacts,
  meltFacts,
  type NamedInstrument,
  namedInstrument,
  notSampled,
  repeatedBlanks,
  strangeBlanks,
  unfitInstrument,
} from './melt-facts.ts';

const returnInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that the blanks were drawn from.' }),
  blanks: blanksField,
  gross: massReadingSchema.meta({
    title: 'Mass of the blanks',
    description: 'All of them together, as the balance sent it.',
  }),
  instrument: idSchema.meta({ title: 'Balance', description: 'That weighed them.' }),
});

interface ReturnFacts {
  readonly melt: MeltFacts;
  readonly balance: NamedInstrument;
}

async function returnFacts(
  books: BookReader,
  input: z.infer<typeof returnInput>,
  { instant }: Circumstances,
): Promise<ReturnFacts> {
  const named = { id: input.instrument, field: 'instrument', instant };
  return {
    melt: await meltFacts(books, input.melt),
    balance: await namedInstrument(books, named),
  };
}

function decideReturn(input: z.infer<typeof returnInput>, facts: ReturnFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const named = namedBlanks(input.blanks);
  const refusals = [
    ...unfitInstrument(facts.balance, ['balance']),
    ...strangeBlanks(sampled, named),
    ...repeatedBlanks(named),
    ...blanksNotWhole(sampled, named),
  ];
  if (refusals.length > 0) return { refusals };
  const { metal, pieceStandard, finenessDeclaredPartsPerMillion } = sampled.standard;
  const grossMicrograms = readingMicrograms(input.gross);
  const fine = fineMicrograms(
    BigInt(grossMicrograms),
    BigInt(finenessDeclaredPartsPerMillion),
    'half-even',
  );
  const body = {
    melt: input.melt,
    metal,
    pieceStandard,
    finenessDeclaredPartsPerMillion,
    blanks: [...input.blanks],
    gross: input.gross,
    grossMicrograms,
    fineMicrograms: Number(fine),
  };
  return {
    entries: [draft(BlanksReturned, body, { instrument: input.instrument })],
    answer: { melt: input.melt, blanksReturned: input.blanks.length },
  };
}

/** Takes whole, measured blanks back to the rest of their melt at receiving; also after the ruling. */
export const returnBlanks = defineCommand({
  command: 'return-blanks',
  station: 'laboratory',
  title: 'Return blanks to receiving',
  input: returnInput,
  roles: ['inspector'],
  signature: 'author and witness',
  witnessRoles: ['custodian'],
  facts: returnFacts,
  decide: decideReturn,
});
