import { z } from 'zod';
import type { BookReader } from '../../../../journal/books.ts';
import { type Refusal, refuse } from '../../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../../journal/station.ts';
import { idSchema, reasonSchema, titleSchema } from '../../../registers/index.ts';
import { melts } from '../../books.ts';
import { meltUnknown } from '../../drum-refusals.ts';
import { type PortionRow, portions } from '../books.ts';
import { station } from '../portion-facts.ts';
import type { ExchangeSettledBody } from './bodies.ts';
import { type ExchangeRow, exchanges } from './books.ts';
import { compareResults, exchangedFineness, type StandingResults } from './compare.ts';
import { ExchangeSettled } from './entries.ts';
import { perMilleRefusals, perMilleText, stated } from './per-mille-text.ts';
import { standingResults } from './read-model.ts';
import { reportedRefusals } from './refusals.ts';

const settleInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Whose assays were exchanged.' }),
  agreed: perMilleText('a fineness', 1000).meta({
    title: 'Agreed fineness',
    description: 'By which the melt is paid for.',
    unit: '‰',
  }),
  document: titleSchema.meta({ title: 'Document', description: 'In which both sides agree.' }),
  words: reasonSchema.meta({ title: 'Why', description: 'On what the agreement rests.' }),
});

type SettleInput = z.infer<typeof settleInput>;

interface SettleFacts {
  readonly isKnown: boolean;
  readonly exchange: ExchangeRow | undefined;
  readonly standing: StandingResults;
  /** The portion that the supplier assayed. */
  readonly portion: PortionRow | undefined;
}

async function settleFacts(books: BookReader, { melt }: SettleInput): Promise<SettleFacts> {
  const standing = await standingResults(books, melt);
  return {
    isKnown: (await books.get(melts, melt)) !== undefined,
    exchange: await books.get(exchanges, melt),
    standing,
    portion: standing.supplier && (await books.get(portions, standing.supplier.portion)),
  };
}

function notOpen(melt: string, { own }: StandingResults): Refusal {
  const isSigned = own !== undefined;
  return refuse(reportedRefusals, 'ExchangeNotOpen', {
    message: isSigned
      ? `The supplier has reported no result of melt ${melt}.`
      : `The plant's own result of melt ${melt} is not signed.`,
    field: 'melt',
    figures: { melt, isSigned },
  });
}

function alreadySettled(melt: string, { settlement }: ExchangeRow): Refusal {
  const { entry = null, agreed } = settlement ?? {};
  return refuse(reportedRefusals, 'ExchangeAlreadySettled', {
    message: `Melt ${melt} was settled at ${agreed?.text} ‰ in entry ${entry}.`,
    field: 'melt',
    figures: { melt, entry, agreed: agreed?.text ?? null },
  });
}

function outsideRefusals(
  { melt, agreed }: SettleInput,
  found: readonly string[],
): readonly Refusal[] {
  const ordered = found.toSorted((one, other) => Number(one) - Number(other));
  const [least = '', greatest = ''] = [ordered[0], ordered.at(-1)];
  if (Number(agreed) >= Number(least) && Number(agreed) <= Number(greatest)) return [];
  return [
    refuse(reportedRefusals, 'AgreedFinenessOutside', {
      message: `${agreed} ‰ is agreed for melt ${melt}; what was found lies from ${least} to ${greatest} ‰.`,
      field: 'agreed',
      figures: { melt, agreed, least, greatest },
    }),
  ];
}

function decideSettlement(input: SettleInput, facts: SettleFacts): Decision {
  const { melt, document, words } = input;
  const { exchange, standing, portion } = facts;
  const { own, supplier, umpire } = standing;
  if (!facts.isKnown) return { refusals: [meltUnknown(melt)] };
  if (!own || !supplier || !exchange || !portion) return { refusals: [notOpen(melt, standing)] };
  if (exchange.state === 'settled') return { refusals: [alreadySettled(melt, exchange)] };
  const slips = perMilleRefusals(input.agreed, { field: 'agreed', ...portion });
  const found = [
    exchangedFineness(own),
    supplier.fineness.text,
    ...(umpire ? [umpire.fineness.text] : []),
  ];
  const refusals = slips.length > 0 ? slips : outsideRefusals(input, found);
  if (refusals.length > 0) return { refusals };
  const body: ExchangeSettledBody = {
    melt,
    agreed: stated(input.agreed),
    document,
    words,
    ownResult: own.entry,
    supplierReport: supplier.entry,
    umpireReport: umpire?.entry ?? null,
    exchange: compareResults(standing)?.calculated ?? null,
  };
  return { entries: [draft(ExchangeSettled, body)], answer: { melt, agreed: input.agreed } };
}

/** States by which fineness a melt is paid for; the verdict on it stays as it is. */
export const settleExchange = defineCommand({
  command: 'settle-exchange',
  station,
  title: 'Settle the exchange of assays',
  input: settleInput,
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant'],
  facts: settleFacts,
  decide: decideSettlement,
});
