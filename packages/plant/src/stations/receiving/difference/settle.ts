import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, reasonSchema, titleSchema } from '../../registers/index.ts';
import { type DifferenceSettledBody, keptFileSchema, type SettledLine } from './bodies.ts';
import { type Difference, differences } from './books.ts';
import { DifferenceAnswered, DifferenceSettled } from './entries.ts';
import { differenceInWords } from './figures.ts';
import { differenceRefusals } from './refusals.ts';
import { differingThings, settlements, supplierAnswers } from './words.ts';

const station = 'receiving';
const differenceField = idSchema.meta({
  title: 'Difference',
  description: 'The number of the document.',
});

interface DifferenceFacts {
  readonly difference: Difference | undefined;
}

async function differenceFacts(
  books: BookReader,
  input: { readonly difference: string },
): Promise<DifferenceFacts> {
  return { difference: await books.get(differences, input.difference) };
}

/** The difference while it is not settled, or the reason why nothing can be done with it. */
function openDifference(
  id: string,
  { difference }: DifferenceFacts,
): { readonly difference: Difference } | { readonly refusals: readonly Refusal[] } {
  if (!difference) {
    const message = `No difference ${id} has been raised.`;
    const detail = { message, field: 'difference', figures: { difference: id } };
    return { refusals: [refuse(differenceRefusals, 'DifferenceUnknown', detail)] };
  }
  const { settlement } = difference;
  if (!settlement) return { difference };
  const message = `${id} was settled in entry ${settlement.entry}.`;
  const figures = { difference: id, entry: settlement.entry };
  const detail = { message, field: 'difference', figures };
  return { refusals: [refuse(differenceRefusals, 'DifferenceAlreadySettled', detail)] };
}

/** What the supplier says to a difference; he may answer more than once. */
export const recordAnswer = defineCommand({
  command: 'record-answer',
  station,
  title: "Record the supplier's answer",
  input: z.strictObject({
    difference: differenceField,
    answer: z
      .enum(supplierAnswers, `one of ${supplierAnswers.join(', ')}`)
      .meta({ title: 'Answer', description: 'What the supplier says to it.' }),
    document: titleSchema.meta({ title: 'Document', description: 'In which he says so.' }),
    file: keptFileSchema
      .nullable()
      .meta({ title: 'File', description: 'The document itself; nothing where there is none.' }),
    words: reasonSchema.meta({ title: 'In his words', description: 'What he gives as reason.' }),
  }),
  roles: ['custodian', 'chief assayer'],
  signature: 'author',
  facts: differenceFacts,
  decide: (input, facts): Decision => {
    const open = openDifference(input.difference, facts);
    if ('refusals' in open) return open;
    const { difference, answer } = input;
    return { entries: [draft(DifferenceAnswered, input)], answer: { difference, answer } };
  },
});

const wholeMicrograms = 'a whole number of micrograms';
const wholePieces = 'a whole number of pieces from -100000 to 100000';
const greatestMicrograms = 1_000_000_000_000_000;

const settleInput = z.strictObject({
  difference: differenceField,
  lines: z
    .array(
      z.strictObject({
        thing: z.enum(differingThings, `one of ${differingThings.join(', ')}`),
        id: idSchema,
        agreedPieces: z
          .int(wholePieces)
          .min(-100_000, wholePieces)
          .max(100_000, wholePieces)
          .meta({ title: 'Pieces agreed', description: 'Of the difference; below 0: missing.' }),
        agreedMicrograms: z
          .int(wholeMicrograms)
          .min(-greatestMicrograms, wholeMicrograms)
          .max(greatestMicrograms, wholeMicrograms)
          .meta({ title: 'Mass agreed', description: 'Below 0: missing.', unit: 'µg' }),
        how: z
          .enum(settlements, `one of ${settlements.join(', ')}`)
          .meta({ title: 'How', description: 'Withdrawn: nothing is owed.' }),
      }),
      'a list of drums and melts',
    )
    .min(1, 'at least one drum or melt')
    .max(2000, 'at most 2000 drums and melts'),
  document: titleSchema.meta({ title: 'Document', description: 'In which both sides agree.' }),
  words: reasonSchema.meta({ title: 'Why', description: 'On what the agreement rests.' }),
});

type SettleInput = z.infer<typeof settleInput>;

const nameOf = ({ thing, id }: { readonly thing: string; readonly id: string }): string =>
  `${thing} ${id}`;

function linesRefusals(input: SettleInput, difference: Difference): readonly Refusal[] {
  const raised = new Set(difference.lines.map(nameOf));
  const settled = input.lines.map(nameOf);
  const strange = settled.filter((name) => !raised.has(name));
  const missing = [...raised].filter((name) => !settled.includes(name));
  const twice = settled.filter((name, index) => settled.indexOf(name) < index);
  const what = [
    ...strange.map((name) => `${name} was not raised in it`),
    ...missing.map((name) => `${name} is left out`),
    ...twice.map((name) => `${name} stands twice`),
  ];
  if (what.length === 0) return [];
  return [
    refuse(differenceRefusals, 'SettlementLinesDiffer', {
      message: `The lines are not those of ${difference.difference}: ${what.join('; ')}.`,
      field: 'lines',
      figures: { difference: difference.difference, strange, missing, twice },
    }),
  ];
}

/** Whether an agreed figure lies between nothing and the difference. */
function isWithin(agreed: number, difference: number): boolean {
  return agreed >= Math.min(0, difference) && agreed <= Math.max(0, difference);
}

function beyondRefusals(lines: readonly SettledLine[], difference: Difference): readonly Refusal[] {
  return lines.flatMap((line, index) => {
    const raised = difference.lines.find((one) => nameOf(one) === nameOf(line));
    if (!raised) return [];
    const claimed = line.how === 'withdrawn' ? undefined : raised;
    const pieces = claimed?.differencePieces ?? 0;
    const micrograms = claimed?.differenceMicrograms ?? 0;
    const { agreedPieces, agreedMicrograms, how } = line;
    if (isWithin(agreedPieces, pieces) && isWithin(agreedMicrograms, micrograms)) return [];
    const agreed = differenceInWords(agreedPieces, agreedMicrograms);
    return refuse(differenceRefusals, 'SettlementBeyondClaim', {
      message:
        how === 'withdrawn'
          ? `${nameOf(line)} is withdrawn, and ${agreed} are agreed for it.`
          : `${agreed} are agreed for ${nameOf(line)}, which differs by ${differenceInWords(pieces, micrograms)}.`,
      field: `lines.${index}.${isWithin(agreedPieces, pieces) ? 'agreedMicrograms' : 'agreedPieces'}`,
      figures: { ...line, differencePieces: pieces, differenceMicrograms: micrograms },
    });
  });
}

function answerRefusals(input: SettleInput, difference: Difference): readonly Refusal[] {
  const isWithdrawn = input.lines.every(({ how }) => how === 'withdrawn');
  if (difference.state === 'answered' || isWithdrawn) return [];
  return [
    refuse(differenceRefusals, 'DifferenceNotAnswered', {
      message: `${difference.difference} was raised on ${difference.raisedOn}, and ${difference.supplier} has not answered.`,
      field: 'difference',
      figures: { difference: difference.difference, answerDue: difference.answerDue },
    }),
  ];
}

function decideSettlement(input: SettleInput, facts: DifferenceFacts): Decision {
  const open = openDifference(input.difference, facts);
  if ('refusals' in open) return open;
  const { difference } = open;
  const unfit = [...linesRefusals(input, difference), ...answerRefusals(input, difference)];
  const refusals = unfit.length > 0 ? unfit : beyondRefusals(input.lines, difference);
  if (refusals.length > 0) return { refusals };
  const agreedPieces = input.lines.reduce((sum, line) => sum + line.agreedPieces, 0);
  const agreedMicrograms = input.lines.reduce((sum, line) => sum + line.agreedMicrograms, 0);
  const body: DifferenceSettledBody = { ...input, agreedPieces, agreedMicrograms };
  return {
    entries: [draft(DifferenceSettled, body)],
    answer: { difference: input.difference, agreedPieces, agreedMicrograms },
  };
}

/** Settles a difference line by line; the metal has moved already, and none moves by this. */
export const settleDifference = defineCommand({
  command: 'settle-difference',
  station,
  title: 'Settle a difference',
  input: settleInput,
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant'],
  facts: differenceFacts,
  decide: decideSettlement,
});
