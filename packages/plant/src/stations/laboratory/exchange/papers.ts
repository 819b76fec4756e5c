import type { BookReader } from '../../../journal/books.ts';
import type { Paper } from '../../../journal/station.ts';
import { type CsvValue, csvBytes } from '../../../tables/csv.ts';
import type { NumberForm } from '../../../tables/number-form.ts';
import { workbookBytes } from '../../../tables/workbook.ts';
import { pieceStandardOf, plantDay } from '../../registers/index.ts';
import { assayRuns, type DeterminationRow } from '../books.ts';
import { meltFacts } from '../melt-facts.ts';
import { determinationsOf, newestRuling, standingResult } from '../read-model-queries.ts';
import { decimalSignOf } from './choose-decimal-sign.ts';
import { determinationHeads, determinationRow } from './determination-rows.ts';
import {
  blankSheetHeads,
  blankSheetRows,
  cupellationSheetHeads,
  cupellationSheetRows,
} from './worksheet-rows.ts';

const mediaTypes = {
  csv: 'text/csv; charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
} as const;

type Format = keyof typeof mediaTypes;

/** What is asked for by an id such as M-1, M-1@csv or M-1@csv@comma. */
interface TableAsked {
  readonly id: string;
  readonly format: Format;
  readonly mark: NumberForm['decimalMark'] | undefined;
}

function tableAsked(name: string): TableAsked | undefined {
  const [id = '', ...options] = name.split('@');
  let format: Format = 'xlsx';
  let mark: TableAsked['mark'];
  for (const option of options) {
    if (option === 'csv' || option === 'xlsx') format = option;
    else if (option === 'comma' || option === 'point') mark = option;
    else return undefined;
  }
  return { id, format, mark };
}

interface TableOut {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly CsvValue[])[];
}

/** A paper that is a table, as a workbook or as text by the decimal sign of the plant. */
function tablePaper(declared: {
  readonly paper: string;
  readonly title: string;
  readonly fileName: string;
  readonly table: (books: BookReader, id: string) => Promise<TableOut | undefined>;
}): Paper {
  const { paper, title, fileName } = declared;
  return {
    paper,
    station: 'laboratory',
    title,
    render: async ({ books }, name) => {
      const asked = tableAsked(name);
      const table = asked && (await declared.table(books, asked.id));
      if (!asked || !table) return undefined;
      const mark = asked.mark ?? (await decimalSignOf(books));
      const bytes =
        asked.format === 'csv'
          ? csvBytes(table.heads, table.rows, mark)
          : await workbookBytes(table.heads, table.rows, fileName.slice(0, 31));
      return {
        mediaType: mediaTypes[asked.format],
        fileName: `${fileName}-${asked.id}.${asked.format}`,
        bytes,
      };
    },
  };
}

async function rowsOf(
  books: BookReader,
  determinations: readonly DeterminationRow[],
): Promise<readonly (readonly CsvValue[])[]> {
  const rows = [];
  for (const determination of determinations) {
    const run = await books.get(assayRuns, determination.assayRun);
    if (!run) continue;
    const standard = await pieceStandardOf(books, run.worksheet.pieceStandard);
    rows.push(
      determinationRow({
        determination,
        run,
        limitPerMille: standard?.finenessLimitPerMille ?? null,
        result: await standingResult(books, run.melt),
        ruling: await newestRuling(books, run.melt),
      }),
    );
  }
  return rows;
}

const meltDeterminations = tablePaper({
  paper: 'melt-determinations',
  title: 'table of determinations',
  fileName: 'determinations',
  table: async (books, melt) => {
    const determinations = await determinationsOf(books, melt);
    if (determinations.length === 0) return undefined;
    return { heads: determinationHeads, rows: await rowsOf(books, determinations) };
  },
});

const monthForm = /^\d{4}-\d{2}$/;

const monthDeterminations = tablePaper({
  paper: 'month-determinations',
  title: 'table of determinations',
  fileName: 'determinations',
  table: async (books, month) => {
    if (!monthForm.test(month)) return undefined;
    const runs = await books.select(assayRuns);
    const rows = [];
    for (const run of runs.toSorted((a, b) => a.entry - b.entry)) {
      if (!(await plantDay(books, run.instant)).startsWith(month)) continue;
      const all = await determinationsOf(books, run.melt);
      const own = all.filter(({ assayRun }) => assayRun === run.assayRun);
      rows.push(...(await rowsOf(books, own)));
    }
    return rows.length === 0 ? undefined : { heads: determinationHeads, rows };
  },
});

const blankSheet = tablePaper({
  paper: 'blank-sheet',
  title: 'worksheet for measuring blanks',
  fileName: 'blanks',
  table: async (books, id) => {
    const facts = await meltFacts(books, id);
    if (facts.known !== 'sampled') return undefined;
    return { heads: blankSheetHeads, rows: blankSheetRows(facts) };
  },
});

const cupellationSheet = tablePaper({
  paper: 'cupellation-sheet',
  title: 'worksheet for a cupellation run',
  fileName: 'cupellation',
  table: async (books, id) => {
    const facts = await meltFacts(books, id);
    if (facts.known !== 'sampled') return undefined;
    return { heads: cupellationSheetHeads, rows: cupellationSheetRows(facts) };
  },
});

export const exchangePapers = [
  meltDeterminations,
  monthDeterminations,
  blankSheet,
  cupellationSheet,
] as const;
