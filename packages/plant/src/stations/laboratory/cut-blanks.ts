import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { BlanksCut } from './entries.ts';
import {
  blanksHeld,
  closedTrial,
  type MeltFacts,
  meltFacts,
  notSampled,
  repeatedBlanks,
  type SampledMelt,
  strangeBlanks,
} from './melt-facts.ts';
import { laboratoryRefusals } from './refusals.ts';

/** A blank of a command with the field that names it. */
export interface NamedBlank {
  readonly blank: string;
  readonly field: string;
}

export const blanksField = z
  .array(idSchema, 'a list of blanks')
  .min(1, 'at least one blank')
  .max(2000, 'at most 2000 blanks')
  .meta({ title: 'Blanks', description: 'Ids of drawn blanks of this melt, each once.' });

const cutInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that the blanks were drawn from.' }),
  blanks: blanksField,
});

export const namedBlanks = (blanks: readonly string[]): readonly NamedBlank[] =>
  blanks.map((blank, index) => ({ blank, field: `blanks.${index}` }));

/** Refusals for drawn blanks that are not whole, measured, unsealed and in the laboratory. */
export function blanksNotWhole(
  sampled: SampledMelt,
  named: readonly NamedBlank[],
): readonly Refusal[] {
  const notWhole = named.flatMap(({ blank, field }) => {
    if (!sampled.drawn.has(blank)) return [];
    const row = sampled.measured.get(blank);
    if (!row) {
      return refuse(laboratoryRefusals, 'BlankNotMeasured', {
        message: `Blank ${blank} has not been measured.`,
        field,
        figures: { blank },
      });
    }
    if (row.cut) {
      return refuse(laboratoryRefusals, 'BlankAlreadyCut', {
        message: `Blank ${blank} was cut in entry ${row.cut.entry}.`,
        field,
        figures: { blank, entry: row.cut.entry },
      });
    }
    if (!row.returned) return [];
    return refuse(laboratoryRefusals, 'BlankAlreadyReturned', {
      message: `Blank ${blank} went back to receiving in entry ${row.returned.entry}.`,
      field,
      figures: { blank, entry: row.returned.entry },
    });
  });
  return [...blanksHeld(sampled, named), ...notWhole];
}

/** Only blanks that a draw chose for assay are cut: nobody chooses the sample. */
function notForAssay(sampled: SampledMelt, named: readonly NamedBlank[]): readonly Refusal[] {
  const forAssay = [...sampled.drawn.values()].filter((blank) => blank.forAssay);
  const left = forAssay
    .map(({ blank }) => blank)
    .filter((blank) => !sampled.measured.get(blank)?.cut);
  const instead = left.length === 0 ? 'all of those are cut' : `not cut yet: ${left.join(', ')}`;
  return named
    .filter(({ blank }) => sampled.drawn.get(blank)?.forAssay === false)
    .map(({ blank, field }) =>
      refuse(laboratoryRefusals, 'BlankNotForAssay', {
        message: `Blank ${blank} is none of the ${forAssay.length} that were drawn for assay; ${instead}.`,
        field,
        figures: { blank, drawnForAssay: forAssay.length, left },
      }),
    );
}

function decideCutting(
  input: z.infer<typeof cutInput>,
  facts: { readonly melt: MeltFacts },
): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const closed = closedTrial(sampled.trial);
  if (closed.length > 0) return { refusals: closed };
  const named = namedBlanks(input.blanks);
  const refusals = [
    ...strangeBlanks(sampled, named),
    ...notForAssay(sampled, named),
    ...repeatedBlanks(named),
    ...blanksNotWhole(sampled, named),
  ];
  if (refusals.length > 0) return { refusals };
  const { metal, pieceStandard } = sampled.standard;
  const body = { melt: input.melt, metal, pieceStandard, blanks: [...input.blanks] };
  return {
    entries: [draft(BlanksCut, body)],
    answer: { melt: input.melt, blanksCut: input.blanks.length },
  };
}

/** Cuts blanks for test portions. */
export const cutBlanks = defineCommand({
  command: 'cut-blanks',
  station: 'laboratory',
  title: 'Cut blanks',
  input: cutInput,
  roles: ['assayer'],
  signature: 'none',
  facts: async (books: BookReader, input) => ({ melt: await meltFacts(books, input.melt) }),
  decide: decideCutting,
});
