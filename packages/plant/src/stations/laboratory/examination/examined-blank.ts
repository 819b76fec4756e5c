import type { BookReader } from '../../../journal/books.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import type { Circumstances } from '../../../journal/station.ts';
import { type InstrumentKind, idSchema } from '../../registers/index.ts';
import {
  closedTrial,
  type MeltFacts,
  meltFacts,
  type NamedInstrument,
  namedInstrument,
  notSampled,
  type SampledMelt,
  strangeBlanks,
  unfitInstrument,
} from '../melt-facts.ts';
import type { Finding } from './books.ts';

/** Which blank is examined and with what. */
export const examinedFields = {
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that the blank was drawn from.' }),
  blank: idSchema.meta({ title: 'Blank', description: 'Whole or cut, of the sample.' }),
  instrument: idSchema.meta({ title: 'Instrument', description: 'That gave the readings.' }),
};

interface Examined {
  readonly melt: string;
  readonly blank: string;
  readonly instrument: string;
}

export interface ExaminationFacts {
  readonly melt: MeltFacts;
  readonly instrument: NamedInstrument;
}

export async function examinationFacts(
  books: BookReader,
  input: Examined,
  { instant }: Circumstances,
): Promise<ExaminationFacts> {
  const named = { id: input.instrument, field: 'instrument', instant };
  return {
    melt: await meltFacts(books, input.melt),
    instrument: await namedInstrument(books, named),
  };
}

/** The sampled melt of a blank that may be examined with that instrument, or why not. */
export function examinable(
  input: Examined,
  facts: ExaminationFacts,
  kinds: readonly InstrumentKind[],
): { readonly sampled: SampledMelt } | { readonly refusals: readonly Refusal[] } {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const refusals = [
    ...closedTrial(sampled.trial),
    ...unfitInstrument(facts.instrument, kinds),
    ...strangeBlanks(sampled, [{ blank: input.blank, field: 'blank' }]),
  ];
  return refusals.length > 0 ? { refusals } : { sampled };
}

/** The finding of a calculation that says whether limits are kept; nothing is judged without limits. */
export function findingOf(isWithinLimits: boolean | null): Finding {
  if (isWithinLimits === null) return 'no limits';
  return isWithinLimits ? 'inside' : 'outside';
}
