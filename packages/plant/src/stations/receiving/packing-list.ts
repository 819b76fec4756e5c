import { sheetsOfCsv } from '../../tables/csv-sheet.ts';
import type { PackingListColumns } from './bodies.ts';
import type { ListMapping } from './list/list-bodies.ts';
import type { ListHead, PackingListResult } from './list/list-result.ts';
import { readList } from './list/read-list.ts';

/** How a list with one unit of mass and plain numbers is read. */
export interface PlainListForm {
  readonly columns: PackingListColumns;
  readonly massUnit: 'kg' | 'g';
  readonly decimalMark: 'point' | 'comma';
}

export type PackingListReading = ListHead & PlainListForm;

/** The mapping of a list with gross and tare in one unit, fineness in per mille and no grouped thousands. */
export function mappingOfPlainList({ columns, massUnit, decimalMark }: PlainListForm): ListMapping {
  const { supplierFinenessPerMille, ...named } = columns;
  return {
    columns: { ...named, net: null, fineness: supplierFinenessPerMille },
    fillDown: false,
    units: { gross: massUnit, tare: massUnit, net: massUnit },
    finenessUnit: 'per mille',
    decimalMark,
    groupMark: 'none',
  };
}

/** Reads a list of that plain form from its text, as the drums typed by hand are written. */
export function readPackingList(text: string, reading: PackingListReading): PackingListResult {
  const read = sheetsOfCsv(text);
  if (read.outcome === 'problem') return { outcome: 'problems', problems: [read.problem] };
  const { consignment, supplier, document, pieceStandard } = reading;
  const head = { consignment, supplier, document, pieceStandard };
  return readList(read.sheets, mappingOfPlainList(reading), head);
}
