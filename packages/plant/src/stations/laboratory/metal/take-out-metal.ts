import { fineMicrograms } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type BalanceRow, balances } from '../../../journal/core-books.ts';
import { massReadingSchema, readingMicrograms } from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import { idSchema, type PieceStandard, pieceStandardOf } from '../../registers/index.ts';
import { type NamedInstrument, namedInstrument, unfitInstrument } from '../melt-facts.ts';
import { formNames, metalForms, waysOut } from './bodies.ts';
import { MetalTakenOut } from './entries.ts';
import { metalRefusals } from './refusals.ts';

/** Several weighings of cuttings may sum to a little more than the one by which they came. */
const greatestExcessRelative = 0.005;

const finenessAccepted = 'a fineness from 0 to 1000 ‰, or nothing for the declared one';
const basisAccepted = '3 to 500 characters, or nothing where it was weighed';

const takeOutInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'That the metal was cut from.' }),
  form: z
    .enum(formNames, `one of ${formNames.join(', ')}`)
    .meta({ title: 'Form', description: 'What the metal is now.' }),
  to: z
    .enum(waysOut, `one of ${waysOut.join(', ')}`)
    .meta({ title: 'Goes to', description: 'Ceased is what nobody will get back.' }),
  gross: massReadingSchema.meta({ title: 'Mass', description: 'Weighed, or estimated.' }),
  finenessPerMille: z
    .number(finenessAccepted)
    .min(0, finenessAccepted)
    .max(1000, finenessAccepted)
    .nullable()
    .meta({
      title: 'Fineness of this form',
      unit: '‰',
      description: 'Cornets are nearly fine; base metal is 0. Nothing for the declared fineness.',
    }),
  estimated: z.boolean('true or false').meta({
    title: 'Estimated',
    description:
      'True where it was not weighed. Portions that were weighed before they were dissolved or cupelled are no estimate.',
  }),
  basis: z
    .string(basisAccepted)
    .min(3, basisAccepted)
    .max(500, basisAccepted)
    .nullable()
    .meta({ title: 'Basis of the estimate', description: 'What it rests on.' }),
  instrument: idSchema
    .nullable()
    .meta({ title: 'Balance', description: 'That weighed it; nothing where it was estimated.' }),
});

type TakeOutInput = z.infer<typeof takeOutInput>;

interface TakeOutFacts {
  readonly lying: BalanceRow | undefined;
  readonly standard: PieceStandard | undefined;
  readonly balance: NamedInstrument | undefined;
}

async function takeOutFacts(
  books: BookReader,
  input: TakeOutInput,
  { instant }: Circumstances,
): Promise<TakeOutFacts> {
  const rows = await books.select(balances, { by: 'byMelt', prefix: [input.melt, 'laboratory'] });
  const lying = rows.find((row) => row.grossMicrograms > 0);
  return {
    lying,
    standard: lying && (await pieceStandardOf(books, lying.pieceStandard)),
    balance:
      input.instrument === null
        ? undefined
        : await namedInstrument(books, { id: input.instrument, field: 'instrument', instant }),
  };
}

function massRefusals(input: TakeOutInput, lying: BalanceRow): readonly Refusal[] {
  const gross = readingMicrograms(input.gross);
  if (gross <= lying.grossMicrograms * (1 + greatestExcessRelative)) return [];
  return [
    refuse(metalRefusals, 'MoreThanLies', {
      message: `${input.gross.text} ${input.gross.unit} of melt ${input.melt} would leave; the book has ${lying.grossMicrograms / 1e6} g in the laboratory.`,
      field: 'gross.text',
      figures: { grossMicrograms: gross, lyingMicrograms: lying.grossMicrograms },
      toOthers: {
        message: `${input.gross.text} ${input.gross.unit} of melt ${input.melt} would leave; the book has less in the laboratory.`,
        figures: { grossMicrograms: gross },
      },
    }),
  ];
}

function formRefusals(input: TakeOutInput): readonly Refusal[] {
  const accepted: readonly string[] = metalForms[input.form];
  const wrongWay = accepted.includes(input.to)
    ? []
    : [
        refuse(metalRefusals, 'FormGoesElsewhere', {
          message: `Metal as ${input.form} goes to ${accepted.join(' or ')}, not to ${input.to}.`,
          field: 'to',
          figures: { form: input.form, to: input.to, accepted: [...accepted] },
        }),
      ];
  const unweighed = input.estimated ? input.basis === null : input.instrument === null;
  if (!unweighed) return wrongWay;
  return [
    ...wrongWay,
    refuse(metalRefusals, 'BasisMissing', {
      message: input.estimated
        ? 'The mass is estimated, and nothing says how.'
        : 'The mass is weighed, and no balance is named.',
      field: input.estimated ? 'basis' : 'instrument',
      figures: { estimated: input.estimated },
    }),
  ];
}

function decideTakeOut(input: TakeOutInput, facts: TakeOutFacts): Decision {
  const { lying, standard, balance } = facts;
  if (!lying || !standard) {
    return {
      refusals: [
        refuse(metalRefusals, 'NoMetalOfMelt', {
          message: `No metal of melt ${input.melt} lies in the laboratory.`,
          field: 'melt',
          figures: { melt: input.melt },
        }),
      ],
    };
  }
  const refusals = [
    ...formRefusals(input),
    ...(balance ? unfitInstrument(balance, ['balance']) : []),
    ...massRefusals(input, lying),
  ];
  if (refusals.length > 0) return { refusals };
  const { instrument, finenessPerMille, ...rest } = input;
  const grossMicrograms = readingMicrograms(input.gross);
  const finenessPartsPerMillion =
    finenessPerMille === null
      ? standard.finenessDeclaredPartsPerMillion
      : Math.round(finenessPerMille * 1000);
  const fine = fineMicrograms(
    BigInt(grossMicrograms),
    BigInt(finenessPartsPerMillion),
    'half-even',
  );
  const body = {
    ...rest,
    basis: input.estimated ? input.basis : null,
    metal: standard.metal,
    pieceStandard: standard.pieceStandard,
    grossMicrograms,
    finenessPartsPerMillion,
    fineMicrograms: Number(fine),
  };
  return {
    entries: [draft(MetalTakenOut, body, instrument === null ? {} : { instrument })],
    answer: { melt: input.melt },
  };
}

/** Takes metal of cut blanks out of the laboratory. */
export const takeOutMetal = defineCommand({
  command: 'take-out-metal',
  station: 'laboratory',
  title: 'Take metal out of the laboratory',
  input: takeOutInput,
  roles: ['assayer', 'inspector'],
  signature: 'author and witness',
  witnessRoles: ['custodian'],
  facts: takeOutFacts,
  decide: decideTakeOut,
});
