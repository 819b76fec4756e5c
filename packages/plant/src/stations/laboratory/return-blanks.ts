import { fineMicrograms } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
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
  type SampledMelt,
  strangeBlanks,
  unfitInstrument,
} from './melt-facts.ts';
import { laboratoryRefusals } from './refusals.ts';

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

/** Refuses a mass that is off by half a piece or more: then other blanks lie on the balance. */
function massNotOfBlanks(
  input: z.infer<typeof returnInput>,
  sampled: SampledMelt,
): readonly Refusal[] {
  const masses = input.blanks.map(
    (blank) => sampled.measured.get(blank)?.measurement.massMicrograms ?? 0,
  );
  const sumMicrograms = masses.reduce((sum, one) => sum + one, 0);
  const difference = readingMicrograms(input.gross) - sumMicrograms;
  if (Math.abs(difference) < Math.min(...masses) / 2) return [];
  return [
    refuse(laboratoryRefusals, 'MassNotOfBlanks', {
      message: `${input.blanks.length} blanks of melt ${input.melt} were measured at ${sumMicrograms / 1e6} g together; the balance shows ${input.gross.text} ${input.gross.unit}.`,
      field: 'gross',
      figures: {
        blanks: input.blanks.length,
        measuredMicrograms: sumMicrograms,
        differenceMicrograms: difference,
      },
    }),
  ];
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
  const implausible = massNotOfBlanks(input, sampled);
  if (implausible.length > 0) return { refusals: implausible };
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
