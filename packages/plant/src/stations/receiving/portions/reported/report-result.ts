import { z } from 'zod';
import type { BookReader } from '../../../../journal/books.ts';
import { type Refusal, refuse } from '../../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../../journal/station.ts';
import { daySchema, plantDay, reasonSchema, titleSchema } from '../../../registers/index.ts';
import { type PortionRow, portions, type SendingRow, sendings } from '../books.ts';
import { portionField, portionUnknown, station } from '../portion-facts.ts';
import type { PortionResultReportedBody } from './bodies.ts';
import type { ReportedResult } from './books.ts';
import { PortionResultReported } from './entries.ts';
import { perMilleRefusals, perMilleText, stated } from './per-mille-text.ts';
import { reportsOf } from './read-model.ts';
import { reportedRefusals } from './refusals.ts';

const factorAccepted = 'a coverage factor from 1 to 4; 1 for a standard uncertainty';

const reportInput = z
  .strictObject({
    portion: portionField,
    fineness: perMilleText('a fineness', 1000).meta({
      title: 'Fineness',
      description: 'As the document states it, with its decimals.',
      unit: '‰',
    }),
    uncertainty: perMilleText('an uncertainty', 10)
      .nullable()
      .meta({ title: 'Uncertainty', description: 'Nothing where none is stated.', unit: '‰' }),
    coverageFactor: z
      .number(factorAccepted)
      .min(1, factorAccepted)
      .max(4, factorAccepted)
      .nullable()
      .meta({ title: 'Coverage factor', description: 'Of that uncertainty; 2 is usual.' }),
    splittingLimit: perMilleText('a splitting limit', 10).nullable().meta({
      title: 'Splitting limit',
      description: 'Of the contract, where the document states it.',
      unit: '‰',
    }),
    document: titleSchema.meta({ title: 'Document', description: 'Number of his report.' }),
    reportedOn: daySchema.meta({ title: 'Dated', description: 'The day on his report.' }),
    method: titleSchema.meta({ title: 'Method', description: 'By which he assayed, in words.' }),
    correction: reasonSchema.nullable().meta({
      title: 'Correction',
      description: 'Why the same report is entered again; nothing for a new one.',
    }),
  })
  .superRefine(({ uncertainty, coverageFactor }, context) => {
    if ((uncertainty === null) === (coverageFactor === null)) return;
    const message =
      uncertainty === null ? 'nothing, where no uncertainty is stated' : factorAccepted;
    context.addIssue({ code: 'custom', path: ['coverageFactor'], message });
  });

type ReportInput = z.infer<typeof reportInput>;

interface ReportFacts {
  readonly day: string;
  readonly portion: PortionRow | undefined;
  /** How it was sent last, and on which day at the plant. */
  readonly sending: SendingRow | undefined;
  readonly sentOn: string;
  /** What he reported of it since then. */
  readonly earlier: ReportedResult | undefined;
}

async function reportFacts(
  books: BookReader,
  input: ReportInput,
  { instant }: Circumstances,
): Promise<ReportFacts> {
  const portion = await books.get(portions, input.portion);
  const newest = { prefix: [input.portion], descending: true, limit: 1 };
  const [sending] = await books.select(sendings, newest);
  const reports = portion ? await reportsOf(books, portion.melt) : [];
  return {
    day: await plantDay(books, instant),
    portion,
    sending,
    sentOn: await plantDay(books, sending?.instant ?? instant),
    earlier: reports.find((one) => sending !== undefined && one.sending === sending.entry),
  };
}

function dayRefusals({ portion, reportedOn }: ReportInput, facts: ReportFacts): readonly Refusal[] {
  const { day, sentOn } = facts;
  if (reportedOn >= sentOn && reportedOn <= day) return [];
  return [
    refuse(reportedRefusals, 'ReportDayUnfit', {
      message: `The report is dated ${reportedOn}; portion ${portion} was sent on ${sentOn}, and today is ${day}.`,
      field: 'reportedOn',
      figures: { portion, reportedOn, sentOn, day },
    }),
  ];
}

function correctionRefusals(
  { portion, correction }: ReportInput,
  earlier: ReportedResult | undefined,
): readonly Refusal[] {
  if (earlier && correction === null) {
    return [
      refuse(reportedRefusals, 'PortionResultAlreadyReported', {
        message: `${earlier.document} on portion ${portion} was recorded in entry ${earlier.entry}.`,
        field: 'portion',
        figures: { portion, entry: earlier.entry },
      }),
    ];
  }
  if (earlier || correction === null) return [];
  return [
    refuse(reportedRefusals, 'PortionResultNotReported', {
      message: `Nothing was reported of portion ${portion} since it was sent.`,
      field: 'correction',
      figures: { portion },
    }),
  ];
}

function bodyOf(
  input: ReportInput,
  of: { readonly portion: PortionRow; readonly sending: SendingRow },
): PortionResultReportedBody {
  const { portion, melt, consignment } = of.portion;
  const { uncertainty, coverageFactor, splittingLimit, document, reportedOn, method } = input;
  return {
    portion,
    melt,
    consignment,
    from: of.sending.to,
    sending: of.sending.entry,
    fineness: stated(input.fineness),
    uncertainty:
      uncertainty === null || coverageFactor === null
        ? null
        : {
            ...stated(uncertainty),
            coverageFactor,
            standardPerMille: Number(uncertainty) / coverageFactor,
          },
    splittingLimit: splittingLimit === null ? null : stated(splittingLimit),
    document,
    reportedOn,
    method,
  };
}

function decideReport(input: ReportInput, facts: ReportFacts): Decision {
  const { portion, sending, earlier } = facts;
  if (!portion) return { refusals: [portionUnknown(input.portion)] };
  if (!sending) {
    const refusal = refuse(reportedRefusals, 'PortionNotSent', {
      message: `Portion ${portion.portion}, for the ${portion.for}, was never sent; it is ${portion.state}.`,
      field: 'portion',
      figures: { portion: portion.portion, state: portion.state },
    });
    return { refusals: [refusal] };
  }
  const { melt, finenessDeclaredPartsPerMillion } = portion;
  const refusals = [
    ...perMilleRefusals(input.fineness, {
      melt,
      field: 'fineness',
      finenessDeclaredPartsPerMillion,
    }),
    ...dayRefusals(input, facts),
    ...correctionRefusals(input, earlier),
  ];
  if (refusals.length > 0) return { refusals };
  const more =
    earlier && input.correction !== null
      ? { corrects: earlier.entry, reason: input.correction }
      : {};
  return {
    entries: [draft(PortionResultReported, bodyOf(input, { portion, sending }), more)],
    // Nothing of what it states: the answer is shown to whoever asked, over whose shoulder many look.
    answer: { portion: portion.portion, melt: portion.melt, from: sending.to },
  };
}

/** Keeps what supplier or umpire reports of a portion, under cover until the own result is signed. */
export const recordPortionResult = defineCommand({
  command: 'record-portion-result',
  station,
  title: 'Record what the other side found',
  input: reportInput,
  roles: ['custodian'],
  signature: 'none',
  facts: reportFacts,
  decide: decideReport,
});
