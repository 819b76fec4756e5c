import type { BookReader } from '../../../journal/books.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import type { Circumstances } from '../../../journal/station.ts';
import type { InstrumentKind } from '../../registers/index.ts';
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

/** What every screening needs to know. */
export interface ScreeningFacts {
  readonly melt: MeltFacts;
  readonly instrument: NamedInstrument;
}

export async function screeningFacts(
  books: BookReader,
  input: { readonly melt: string; readonly instrument: string },
  { instant }: Circumstances,
): Promise<ScreeningFacts> {
  const named = { id: input.instrument, field: 'instrument', instant };
  return {
    melt: await meltFacts(books, input.melt),
    instrument: await namedInstrument(books, named),
  };
}

/** The melt whose blank is screened, or why it cannot be. */
export function screenable(
  input: { readonly melt: string; readonly blank: string },
  facts: ScreeningFacts,
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
