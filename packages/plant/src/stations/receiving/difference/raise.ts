import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import { idSchema, plantDay } from '../../registers/index.ts';
import { type Consignment, consignments } from '../books.ts';
import { consignmentUnknown } from '../drum-refusals.ts';
import type { DifferenceFigures, DifferenceRaisedBody } from './bodies.ts';
import { type DifferenceLine, differenceLines, differences } from './books.ts';
import { type ClaimTerms, claimDeadlines } from './deadlines.ts';
import { DifferenceRaised } from './entries.ts';
import { differenceInWords } from './figures.ts';
import { differenceRefusals } from './refusals.ts';
import { differingThings } from './words.ts';

const days = 'a whole number of days from 0 to 365';
const daysField = (title: string, description: string) =>
  z.int(days).min(0, days).max(365, days).meta({ title, description, unit: 'd' });

const raiseInput = z.strictObject({
  consignment: idSchema.meta({ title: 'Consignment', description: 'Whose drums or melts differ.' }),
  lines: z
    .array(
      z.strictObject({
        thing: z.enum(differingThings, `one of ${differingThings.join(', ')}`),
        id: idSchema,
      }),
      'a list of drums and melts',
    )
    .min(1, 'at least one drum or melt')
    .max(2000, 'at most 2000 drums and melts')
    .meta({ title: 'Drums and melts', description: 'Those that are claimed, each once.' }),
  claimWithinDays: daysField('Claim within', 'Of the contract, from receipt or refusal.'),
  answerWithinDays: daysField('Answer within', 'How long the supplier has, from today.'),
  dayKind: z
    .enum(['calendar', 'business'], 'calendar or business')
    .meta({ title: 'Kind of days', description: 'Business days leave out Saturday and Sunday.' }),
});

type RaiseInput = z.infer<typeof raiseInput>;

interface RaiseFacts {
  readonly day: string;
  readonly consignment: Consignment | undefined;
  readonly lines: readonly (DifferenceLine | undefined)[];
  /** For each line, the day at the plant on which it began. */
  readonly began: readonly string[];
  readonly newestNumber: number;
}

async function raiseFacts(
  books: BookReader,
  input: RaiseInput,
  circumstances: Circumstances,
): Promise<RaiseFacts> {
  const lines: (DifferenceLine | undefined)[] = [];
  const began: string[] = [];
  for (const { thing, id } of input.lines) {
    const line = await books.get(differenceLines, thing, id);
    lines.push(line);
    began.push(await plantDay(books, line?.beganAt ?? circumstances.instant));
  }
  const newest = { by: 'byNumber', descending: true, limit: 1 };
  const [last] = await books.select(differences, newest);
  return {
    day: await plantDay(books, circumstances.instant),
    consignment: await books.get(consignments, input.consignment),
    lines,
    began,
    newestNumber: last?.number ?? 0,
  };
}

function lineRefusals(input: RaiseInput, facts: RaiseFacts): readonly Refusal[] {
  const names = input.lines.map(({ thing, id }) => `${thing} ${id}`);
  return input.lines.flatMap(({ thing, id }, index): readonly Refusal[] => {
    const line = facts.lines[index];
    const field = `lines.${index}.id`;
    const figures = { thing, id, consignment: input.consignment };
    if (names.indexOf(`${thing} ${id}`) < index) {
      const message = `The ${thing} ${id} stands in it twice.`;
      return [refuse(differenceRefusals, 'DifferenceLineTwice', { message, field, figures })];
    }
    if (!line || line.consignment !== input.consignment || line.causes.length === 0) {
      const message = `The ${thing} ${id} does not differ from the document of consignment ${input.consignment}.`;
      return [refuse(differenceRefusals, 'NothingDiffers', { message, field, figures })];
    }
    if (line.raisedIn === null) return [];
    const message = `The ${thing} ${id} stands in ${line.raisedIn}.`;
    const more = { ...figures, difference: line.raisedIn };
    return [
      refuse(differenceRefusals, 'DifferenceAlreadyRaised', { message, field, figures: more }),
    ];
  });
}

function figuresOf(line: DifferenceLine): DifferenceFigures {
  const { consignment, supplier, state, since, raisedIn, earlier, ...figures } = line;
  return figures;
}

/** The earliest day of each kind of claim: what comes with a drum begins at its receipt. */
function beginnings(lines: readonly DifferenceLine[], began: readonly string[]) {
  const earliest = (thing: DifferenceLine['thing']) =>
    began.filter((_, index) => lines[index]?.thing === thing).toSorted()[0];
  const drum = earliest('drum');
  const melt = earliest('melt');
  return [
    ...(drum ? [{ claim: 'count, mass and seal', event: 'receipt', day: drum }] : []),
    ...(melt ? [{ claim: 'quality of the melt', event: 'refusal', day: melt }] : []),
  ];
}

function bodyOf(
  input: RaiseInput,
  facts: RaiseFacts,
  of: { readonly consignment: Consignment; readonly lines: readonly DifferenceLine[] },
): DifferenceRaisedBody {
  const { consignment, lines } = of;
  const terms: ClaimTerms = input;
  const deadlines = claimDeadlines(beginnings(lines, facts.began), terms, facts.day);
  const number = facts.newestNumber + 1;
  const differencePieces = lines.reduce((sum, line) => sum + line.differencePieces, 0);
  const differenceMicrograms = lines.reduce(
    (sum, line) => sum + (line.differenceMicrograms ?? 0),
    0,
  );
  const what = differenceInWords(differencePieces, differenceMicrograms);
  return {
    difference: `DIF-${facts.day.slice(0, 4)}-${number}`,
    number,
    consignment: consignment.consignment,
    supplier: consignment.supplier,
    pieceStandard: consignment.pieceStandard,
    metal: consignment.metal,
    document: consignment.document,
    lines: lines.map(figuresOf),
    differencePieces,
    differenceMicrograms,
    deadlines: deadlines.calculated,
    raisedOn: facts.day,
    answerDue: deadlines.answerDue,
    isLate: deadlines.isLate,
    words: `${what} against the document. ${deadlines.words}`,
  };
}

function decideRaising(input: RaiseInput, facts: RaiseFacts): Decision {
  const { consignment } = facts;
  if (!consignment) return { refusals: [consignmentUnknown(input.consignment)] };
  const refusals = lineRefusals(input, facts);
  if (refusals.length > 0) return { refusals };
  const lines = facts.lines.filter((line) => line !== undefined);
  const body = bodyOf(input, facts, { consignment, lines });
  const { difference, answerDue, isLate, words } = body;
  return {
    entries: [draft(DifferenceRaised, body)],
    answer: { difference, answerDue, isLate, words },
  };
}

/** Gathers open differences of a consignment into one numbered document for the supplier. */
export const raiseDifference = defineCommand({
  command: 'raise-difference',
  station: 'receiving',
  title: 'Raise a difference',
  input: raiseInput,
  roles: ['custodian', 'chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant', 'chief assayer'],
  facts: raiseFacts,
  decide: decideRaising,
});
