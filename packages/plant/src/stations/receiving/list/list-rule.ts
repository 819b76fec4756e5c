import type { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { type Supplier, supplierOf } from '../../registers/index.ts';
import type { AnnounceInput } from '../announce-input.ts';
import { takenLists } from '../books.ts';
import { ListMappingConfirmed } from '../entries.ts';
import { receivingRefusals } from '../refusals.ts';
import { type ListMapping, listMappingConfirmed, type TakenList } from './list-bodies.ts';
import { mappingOf } from './list-read-model.ts';
import { isSameMapping } from './same-mapping.ts';

type ConfirmInput = z.infer<typeof listMappingConfirmed>;

/** Confirms how a supplier's packing lists are read, so that the next one is read the same way. */
export const confirmListMapping = defineCommand<ConfirmInput, Supplier | undefined>({
  command: 'confirm-list-mapping',
  station: 'receiving',
  title: 'Confirm the columns of a packing list',
  input: listMappingConfirmed,
  roles: ['custodian', 'chief assayer'],
  signature: 'none',
  facts: (books, input) => supplierOf(books, input.supplier),
  decide: (input, supplier): Decision => {
    if (supplier) return { entries: [draft(ListMappingConfirmed, input)] };
    const refusal = refuse(receivingRefusals, 'SupplierUnknown', {
      message: `${input.supplier} is not in the register of suppliers.`,
      field: 'supplier',
      figures: { supplier: input.supplier },
    });
    return { refusals: [refusal] };
  },
});

/** What is known of an announcement's packing list. */
export interface ListFacts {
  readonly confirmed: ListMapping | undefined;
  /** The consignment that the same file has announced. */
  readonly takenFor: string | undefined;
}

export async function listFacts(books: BookReader, input: AnnounceInput): Promise<ListFacts> {
  const { packingList, supplier } = input;
  if (!packingList) return { confirmed: undefined, takenFor: undefined };
  const prefix = [packingList.file.sha256];
  const [taken] = await books.select(takenLists, { by: 'byFile', prefix, limit: 1 });
  return { confirmed: await mappingOf(books, supplier), takenFor: taken?.consignment };
}

function notConfirmed({ supplier }: AnnounceInput): Refusal {
  return refuse(receivingRefusals, 'ListMappingNotConfirmed', {
    message: `Nobody has confirmed that the lists of ${supplier} are read in this way.`,
    field: 'packingList.mapping',
    figures: { supplier },
  });
}

function alreadyTaken(consignment: string, { file }: TakenList): Refusal {
  return refuse(receivingRefusals, 'PackingListAlreadyTaken', {
    message: `The file ${file.name} has announced consignment ${consignment}.`,
    field: 'packingList.file',
    figures: { file: file.name, consignment },
  });
}

/** Lines that are taken and set aside, or rows that are not the drums announced. */
function lineRefusals({ drums }: AnnounceInput, list: TakenList): readonly Refusal[] {
  const aside = new Set(list.setAside.map(({ line }) => line));
  const both = list.rows.filter(({ line }) => aside.has(line));
  const refusals = both.map(({ line, drum }) =>
    refuse(receivingRefusals, 'LineTakenAndSetAside', {
      message: `Line ${line} with drum ${drum} is taken and set aside.`,
      field: 'packingList.setAside',
      figures: { line, drum },
    }),
  );
  const isSame =
    drums.length === list.rows.length &&
    drums.every(({ drum }, index) => list.rows[index]?.drum === drum);
  if (isSame) return refusals;
  const differ = refuse(receivingRefusals, 'RowsDiffer', {
    message: `The file has ${list.rows.length} drums that are taken; ${drums.length} are announced, or others.`,
    field: 'packingList.rows',
    figures: { rows: list.rows.length, drums: drums.length },
  });
  return [...refusals, differ];
}

/** Why an announcement cannot rest on its packing list; nothing where it came without one. */
export function listRefusals(input: AnnounceInput, facts: ListFacts): readonly Refusal[] {
  const { packingList } = input;
  if (!packingList) return [];
  const { confirmed, takenFor } = facts;
  const isConfirmed = confirmed !== undefined && isSameMapping(confirmed, packingList.mapping);
  return [
    ...(isConfirmed ? [] : [notConfirmed(input)]),
    ...(takenFor === undefined ? [] : [alreadyTaken(takenFor, packingList)]),
    ...lineRefusals(input, packingList),
  ];
}
