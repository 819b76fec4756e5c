import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, titleSchema } from '../../registers/index.ts';
import { itemNames } from './bodies.ts';
import { numberSeries, type SeriesRow } from './books.ts';
import { NumbersReceived } from './entries.ts';
import { itemRefusals } from './refusals.ts';
import { numberText } from './series-balance.ts';

const mostNumbers = 1_000_000;
const numberAccepted = 'a whole number from 0 to 999999999';
const digitsAccepted = 'a whole number of digits from 1 to 9';
const prefixAccepted = 'nothing, or up to 30 letters, digits or . _ / -';

export const numberField = (title: string, description: string) =>
  z
    .int(numberAccepted)
    .min(0, numberAccepted)
    .max(999_999_999, numberAccepted)
    .meta({ title, description });

const receiveInput = z
  .strictObject({
    series: idSchema.meta({ title: 'Series', description: 'A name that no series has had.' }),
    item: z
      .enum(itemNames, `one of ${itemNames.join(', ')}`)
      .meta({ title: 'What', description: 'What bears the numbers.' }),
    prefix: z
      .string(prefixAccepted)
      .regex(/^[A-Za-z0-9._/-]{0,30}$/, prefixAccepted)
      .meta({ title: 'Before the digits', description: 'As TS in TS00417; empty where nothing.' }),
    digits: z
      .int(digitsAccepted)
      .min(1, digitsAccepted)
      .max(9, digitsAccepted)
      .meta({ title: 'Digits', description: 'How many digits each number has, zeros in front.' }),
    first: numberField('First number', 'Of the row that was received.'),
    last: numberField('Last number', 'Of the row that was received.'),
    document: titleSchema.meta({ title: 'Document', description: 'The delivery note.' }),
  })
  .refine(({ first, last }) => first <= last, { error: 'not below the first', path: ['last'] })
  .refine(({ first, last }) => last - first < mostNumbers, {
    error: `at most ${mostNumbers} numbers in one series`,
    path: ['last'],
  })
  .refine(({ last, digits }) => String(last).length <= digits, {
    error: 'enough digits for the last number',
    path: ['digits'],
  });

type ReceiveInput = z.infer<typeof receiveInput>;

interface ReceiveFacts {
  readonly named: SeriesRow | undefined;
  readonly alike: readonly SeriesRow[];
}

async function receiveFacts(books: BookReader, input: ReceiveInput): Promise<ReceiveFacts> {
  const { item, prefix, digits } = input;
  return {
    named: await books.get(numberSeries, input.series),
    alike: await books.select(numberSeries, { by: 'byItem', prefix: [item, prefix, digits] }),
  };
}

function decideReceive(input: ReceiveInput, { named, alike }: ReceiveFacts): Decision {
  const overlapping =
    named ?? alike.find((row) => row.first <= input.last && input.first <= row.last);
  if (!overlapping) {
    return {
      entries: [draft(NumbersReceived, input)],
      answer: { series: input.series, received: input.last - input.first + 1 },
    };
  }
  const { series, first, last, entry } = overlapping;
  return {
    refusals: [
      refuse(itemRefusals, 'SeriesAlreadyReceived', {
        message: `Series ${series} of entry ${entry} holds the numbers ${numberText(overlapping, first)} to ${numberText(overlapping, last)}.`,
        field: named ? 'series' : 'first',
        figures: { series, entry, first, last },
      }),
    ],
  };
}

/** Takes seals or labels with numbers into the account. */
export const receiveNumbers = defineCommand({
  command: 'receive-numbers',
  station: 'account',
  title: 'Receive seals or labels',
  input: receiveInput,
  roles: ['custodian', 'metal accountant'],
  signature: 'none',
  facts: receiveFacts,
  decide: decideReceive,
});
