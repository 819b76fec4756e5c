import { useVirtualizer } from '@tanstack/react-virtual';
import { type ReactNode, useMemo, useRef, useState } from 'react';
import { printNumber } from './number-text.ts';
import { filterRows, type OrderValue, orderRows, type TableOrder } from './table-order.ts';

/** A column: its value orders, filters and sums; its cell is what stands there. */
export interface Column<Row> {
  readonly key: string;
  readonly title: string;
  readonly unit?: string;
  readonly value: (row: Row) => OrderValue;
  /** What stands in the cell; the value itself when left out. */
  readonly cell?: (row: Row) => ReactNode;
  /** Decimals of a number, the same in the whole column so that the signs stand in line. */
  readonly decimals?: number;
  /** True for numbers that are not plain values, as masses from a `Mass` cell. */
  readonly isNumber?: boolean;
  /** What stands under the column, where a sum means something. */
  readonly sum?: (rows: readonly Row[]) => ReactNode;
}

interface TableProps<Row> {
  /** What the table lists, for those who hear it. */
  readonly caption: string;
  readonly rows: readonly Row[];
  readonly columns: readonly Column<Row>[];
  readonly keyOf: (row: Row) => string;
  /** Whether a field to filter by stands above; by itself from 20 rows on. */
  readonly filter?: boolean;
  readonly order?: TableOrder;
  /** Marks a row that is in hand. */
  readonly isMarked?: (row: Row) => boolean;
}

/** From this many rows on only those in sight are drawn. */
const virtualFrom = 200;
const rowHeightPixels = 44;

/** A table of hairlines. Its heads are buttons that order it; filter and order work by keyboard. */
export function Table<Row>(props: TableProps<Row>) {
  const { rows, columns } = props;
  const [order, setOrder] = useState<TableOrder | undefined>(props.order);
  const [filter, setFilter] = useState('');
  const shown = useMemo(() => {
    const kept = filterRows(rows, (row) => columns.map((column) => column.value(row)), filter);
    const column = columns.find(({ key }) => key === order?.column);
    return column && order ? orderRows(kept, column.value, order.descending) : kept;
  }, [rows, columns, filter, order]);
  const turn = (column: string) =>
    setOrder((before) =>
      before?.column === column
        ? { column, descending: !before.descending }
        : { column, descending: false },
    );
  const Body = shown.length >= virtualFrom ? VirtualTable : PlainTable;
  return (
    <div className="table-block">
      {(props.filter ?? rows.length >= 20) ? (
        <div className="table-filter" data-own-enter>
          <label>
            Show rows with{' '}
            <input value={filter} onChange={(event) => setFilter(event.target.value)} />
          </label>
          <span className="faint" role="status">
            {printNumber(shown.length)} of {printNumber(rows.length)}
          </span>
        </div>
      ) : null}
      <Body {...props} rows={shown} order={order} onOrder={turn} />
    </div>
  );
}

type BodyProps<Row> = Omit<TableProps<Row>, 'order'> & {
  readonly order: TableOrder | undefined;
  readonly onOrder: (column: string) => void;
};

function Head<Row>({ columns, order, onOrder }: BodyProps<Row>) {
  return (
    <thead>
      <tr>
        {columns.map((column) => {
          const turned = order?.column === column.key ? order : undefined;
          const direction = turned?.descending ? 'descending' : 'ascending';
          return (
            <th
              key={column.key}
              scope="col"
              className={isNumeric(column) ? 'number' : undefined}
              aria-sort={turned ? direction : undefined}
            >
              <button type="button" onClick={() => onOrder(column.key)}>
                {column.title}
                {column.unit ? <span className="column-unit"> {column.unit}</span> : null}
                <span className="order-mark" aria-hidden="true">
                  {turned ? (turned.descending ? '↓' : '↑') : ''}
                </span>
              </button>
            </th>
          );
        })}
      </tr>
    </thead>
  );
}

function isNumeric<Row>(column: Column<Row>): boolean {
  return column.isNumber ?? column.decimals !== undefined;
}

function cellOf<Row>(column: Column<Row>, row: Row): ReactNode {
  if (column.cell) return column.cell(row);
  const value = column.value(row);
  if (value === null || value === undefined) return '–';
  return typeof value === 'number' ? printNumber(value, column.decimals) : value;
}

function Rows<Row>({ columns, rows, keyOf, isMarked }: BodyProps<Row>) {
  return rows.map((row) => (
    <tr key={keyOf(row)} aria-current={isMarked?.(row) ? 'true' : undefined}>
      {columns.map((column) => (
        <td key={column.key} className={isNumeric(column) ? 'number' : undefined}>
          {cellOf(column, row)}
        </td>
      ))}
    </tr>
  ));
}

function Sums<Row>({ columns, rows }: BodyProps<Row>) {
  if (!columns.some((column) => column.sum)) return null;
  return (
    <tfoot>
      <tr>
        {columns.map((column) => (
          <td key={column.key} className={isNumeric(column) ? 'number' : undefined}>
            {column.sum?.(rows)}
          </td>
        ))}
      </tr>
    </tfoot>
  );
}

function PlainTable<Row>(props: BodyProps<Row>) {
  return (
    <section
      className="table-scroll"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keyboard inside its frame
      tabIndex={0}
      aria-label={props.caption}
    >
      <table>
        <caption className="unseen">{props.caption}</caption>
        <Head {...props} />
        <tbody>
          <Rows {...props} />
        </tbody>
        <Sums {...props} />
      </table>
    </section>
  );
}

function VirtualTable<Row>(props: BodyProps<Row>) {
  const frame = useRef<HTMLElement>(null);
  const virtual = useVirtualizer({
    count: props.rows.length,
    getScrollElement: () => frame.current,
    estimateSize: () => rowHeightPixels,
    overscan: 12,
  });
  const items = virtual.getVirtualItems();
  const first = items[0]?.index ?? 0;
  const last = items.at(-1)?.index ?? -1;
  const span = props.columns.length;
  return (
    <section
      className="table-scroll table-long"
      ref={frame}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a long table is scrolled by keyboard inside its frame
      tabIndex={0}
      aria-label={props.caption}
    >
      <table aria-rowcount={props.rows.length + 1}>
        <caption className="unseen">{props.caption}</caption>
        <Head {...props} />
        <tbody>
          <Gap rows={first} span={span} />
          <Rows {...props} rows={props.rows.slice(first, last + 1)} />
          <Gap rows={props.rows.length - last - 1} span={span} />
        </tbody>
        <Sums {...props} />
      </table>
    </section>
  );
}

/** Stands for the rows that are out of sight. */
function Gap({ rows, span }: { readonly rows: number; readonly span: number }) {
  if (rows <= 0) return null;
  return (
    <tr className="table-gap">
      <td colSpan={span} style={{ height: rows * rowHeightPixels }} />
    </tr>
  );
}
