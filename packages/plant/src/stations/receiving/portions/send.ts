import { z } from 'zod';
import { massReadingSchema, readingMicrograms } from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import {
  daySchema,
  type Instrument,
  idSchema,
  instrumentOf,
  titleSchema,
} from '../../registers/index.ts';
import { usableBalance } from '../weighing-refusals.ts';
import type { PortionRow } from './books.ts';
import { PortionSent, PortionTakenBack } from './entries.ts';
import {
  fieldsOf,
  fitPortion,
  metalOf,
  type PortionFacts,
  portionFacts,
  portionField,
  sealField,
  sealRefusals,
  station,
  witnesses,
} from './portion-facts.ts';
import { portionRefusals } from './refusals.ts';
import { type Recipient, recipients, recipientsOf } from './words.ts';

/** Hands a sealed portion to the supplier or the umpire. */
export const sendPortion = defineCommand({
  command: 'send-portion',
  station,
  title: 'Send a portion',
  input: z.strictObject({
    portion: portionField,
    to: z
      .enum(recipients, `one of ${recipients.join(', ')}`)
      .meta({ title: 'To', description: 'Who gets it.' }),
    sealFound: sealField,
    document: titleSchema.meta({ title: 'Document', description: 'With which it goes.' }),
    answerBy: daySchema
      .nullable()
      .default(null)
      .meta({ title: 'Answer by', description: 'The day until which its result is asked for.' }),
  }),
  roles: ['custodian'],
  signature: 'author and witness',
  witnessRoles: witnesses,
  facts: portionFacts,
  decide: (input, facts): Decision => {
    const fit = fitPortion(facts, { portion: input.portion, accepted: ['sealed'], act: 'sent' });
    if ('refusals' in fit) return fit;
    const { portion } = fit;
    const refusals = [
      ...recipientRefusals(portion, input.to),
      ...sealRefusals(portion, input.sealFound),
      ...answerRefusals(input, facts.day),
    ];
    if (refusals.length > 0) return { refusals };
    const { to, sealFound, document, answerBy } = input;
    const body = {
      ...fieldsOf(portion),
      ...metalOf(portion),
      to,
      sealFound,
      document,
      ...(answerBy === null ? {} : { answerBy }),
    };
    return { entries: [draft(PortionSent, body)], answer: { portion: input.portion, to } };
  },
});

function answerRefusals(
  { portion, answerBy }: { readonly portion: string; readonly answerBy: string | null },
  day: string,
): readonly Refusal[] {
  if (answerBy === null || answerBy >= day) return [];
  return [
    refuse(portionRefusals, 'AnswerDayPast', {
      message: `The result of portion ${portion} is asked for until ${answerBy}; today is ${day}.`,
      field: 'answerBy',
      figures: { portion, answerBy, day },
    }),
  ];
}

function recipientRefusals(portion: PortionRow, to: Recipient): readonly Refusal[] {
  if (recipientsOf(portion.for).includes(to)) return [];
  return [
    refuse(portionRefusals, 'PortionNotForRecipient', {
      message: `Portion ${portion.portion} was sealed for the ${portion.for}; it does not go to the ${to}.`,
      field: 'to',
      figures: { portion: portion.portion, for: portion.for, to },
    }),
  ];
}

interface TakeBackFacts extends PortionFacts {
  readonly instrument: Instrument | undefined;
}

const takeBackInput = z.strictObject({
  portion: portionField,
  sealFound: idSchema
    .nullable()
    .meta({ title: 'Seal found', description: 'Nothing where it comes back open.' }),
  blanks: z
    .array(idSchema, 'a list of blanks')
    .max(2000, 'at most 2000 blanks')
    .meta({ title: 'Blanks', description: 'That came back whole.' }),
  gross: massReadingSchema.meta({ title: 'Mass', description: 'Of all that came back.' }),
  instrument: idSchema.meta({ title: 'Balance', description: 'That weighed it.' }),
  document: titleSchema.meta({ title: 'Document', description: 'With which it came.' }),
});

type TakeBackInput = z.infer<typeof takeBackInput>;

function backRefusals(input: TakeBackInput, portion: PortionRow): readonly Refusal[] {
  const strange = input.blanks.flatMap((blank, index) =>
    portion.blanks.includes(blank) && input.blanks.indexOf(blank) === index
      ? []
      : refuse(portionRefusals, 'BlankNotOfSample', {
          message: `Blank ${blank} was not sent with portion ${portion.portion}, or stands twice.`,
          field: `blanks.${index}`,
          figures: { blank, portion: portion.portion },
          nextStep: 'Scan the blanks that came back, each once.',
        }),
  );
  const back = readingMicrograms(input.gross);
  if (back <= portion.grossMicrograms) return strange;
  return [
    ...strange,
    refuse(portionRefusals, 'PortionsBeyondLaboratory', {
      message: `${back / 1e6} g came back of portion ${portion.portion}; ${portion.grossMicrograms / 1e6} g were sent.`,
      field: 'gross',
      figures: { backMicrograms: back, sentMicrograms: portion.grossMicrograms },
      nextStep: 'Set the balance to zero, take off what is not of the portion, and weigh again.',
    }),
  ];
}

function decideTakingBack(input: TakeBackInput, facts: TakeBackFacts): Decision {
  const accepted = ['with the supplier', 'with the umpire'] as const;
  const fit = fitPortion(facts, { portion: input.portion, accepted, act: 'taken back' });
  if ('refusals' in fit) return fit;
  const { portion } = fit;
  const { instrument, sealFound, blanks, gross, document } = input;
  const usable = usableBalance(facts.instrument, { instrument, day: facts.day });
  const refusals = [
    ...('refusal' in usable ? [usable.refusal] : []),
    ...backRefusals(input, portion),
  ];
  if (refusals.length > 0) return { refusals };
  const isSealed = sealFound === portion.seal && blanks.length === portion.blanks.length;
  const body = {
    ...fieldsOf(portion),
    pieces: blanks.length,
    grossMicrograms: readingMicrograms(gross),
    from: portion.state === 'with the umpire' ? ('umpire' as const) : ('supplier' as const),
    blanks: [...blanks],
    gross,
    sealFound,
    isSealed,
    document,
  };
  return {
    entries: [draft(PortionTakenBack, body, { instrument })],
    answer: { portion: input.portion, isSealed },
  };
}

/** Takes back what the supplier or the umpire left of a portion. */
export const takeBackPortion = defineCommand({
  command: 'take-back-portion',
  station,
  title: 'Take a portion back',
  input: takeBackInput,
  roles: ['custodian'],
  signature: 'author and witness',
  witnessRoles: witnesses,
  facts: async (books, input, circumstances) => ({
    ...(await portionFacts(books, input, circumstances)),
    instrument: await instrumentOf(books, input.instrument),
  }),
  decide: decideTakingBack,
});
