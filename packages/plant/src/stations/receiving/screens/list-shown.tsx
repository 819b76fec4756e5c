import type { TableProblem } from '../../../tables/sheet.ts';
import { Part, printNumber, Table } from '../../../workbench/index.ts';
import type { AnnounceInput } from '../announce-input.ts';
import type { ListAccount, PackingListResult } from '../list/list-result.ts';

/** What is in the packing list, or everything that is wrong with it; then nothing of it is taken. */
export function ListShown(props: {
  readonly result: PackingListResult;
  /** Where a line of the list stands for the eye. */
  readonly placeOf: (line: number) => number;
  readonly placeTitle: 'Line' | 'Row';
  /** Sets a line aside; absent where rows are typed and can be removed. */
  readonly onSetAside?: ((line: number) => void) | undefined;
}) {
  const { result, placeOf, placeTitle, onSetAside } = props;
  if (result.outcome === 'read') {
    return <ListRead input={result.input} account={result.account} />;
  }
  const { problems } = result;
  return (
    <Part
      title={`Nothing is taken: ${problems.length === 1 ? '1 thing is' : `${printNumber(problems.length)} things are`} not right`}
    >
      <Table
        caption="What is not right in the packing list"
        rows={problems}
        keyOf={(row) => `${row.line} ${row.column} ${row.value} ${row.accepted}`}
        columns={[
          {
            key: 'line',
            title: placeTitle,
            value: (row) => placeOf(row.line),
            cell: (row) => (row.line === 0 ? 'whole' : printNumber(placeOf(row.line))),
            isNumber: true,
          },
          { key: 'column', title: 'Column', value: (row) => row.column },
          {
            key: 'value',
            title: 'It says',
            value: (row) => row.value,
            cell: (row) => (row.value === '' ? <span className="faint">nothing</span> : row.value),
          },
          { key: 'accepted', title: 'Accepted is', value: (row) => row.accepted },
          ...(onSetAside
            ? [
                {
                  key: 'aside',
                  title: 'Line',
                  value: () => '',
                  cell: (row: TableProblem) =>
                    row.line === 0 || row.column === 'header' ? (
                      ''
                    ) : (
                      <button
                        type="button"
                        className="quiet-button"
                        onClick={() => onSetAside(row.line)}
                      >
                        set {row.line} aside
                      </button>
                    ),
                },
              ]
            : []),
        ]}
      />
    </Part>
  );
}

/** What was found beside the drums: sums that agree, and lines that are none. */
function accountWords({ leftOut, totals }: ListAccount): string {
  const agreeing = totals.filter(({ check }) => check === 'agrees').length;
  const unchecked = totals.length - agreeing;
  const lines = leftOut.map(({ line, words }) => `${line} (${words})`).join(', ');
  return [
    agreeing > 0 ? `${agreeing} of its sums agree with the rows.` : '',
    unchecked > 0 ? `${unchecked} of its sums were not checked.` : '',
    lines === '' ? '' : `Lines that are no drum: ${lines}.`,
  ]
    .filter(Boolean)
    .join(' ');
}

const decimalsIn = (text: string): string => /[.].*$/.exec(text)?.[0] ?? '';

/** The digits of a list as they stand in it, with room after them so that decimal signs stand in line. */
function Digits(props: { readonly text: string; readonly among: readonly string[] }) {
  const { text, among } = props;
  const own = decimalsIn(text).length;
  const longest = among.map(decimalsIn).toSorted((a, b) => b.length - a.length)[0] ?? '';
  return (
    <>
      {text}
      <span className="digits-left-out" aria-hidden="true">
        {longest.slice(own)}
      </span>
    </>
  );
}

function ListRead(props: { readonly input: AnnounceInput; readonly account: ListAccount }) {
  const { input, account } = props;
  const words = accountWords(account);
  const gross = input.drums.map((drum) => drum.gross.text);
  const tares = input.drums.map((drum) => drum.tare.text);
  const pieces = input.drums.reduce((sum, drum) => sum + drum.pieces, 0);
  return (
    <Part
      title={`Read: ${input.drums.length} drums, ${input.melts.length} melts, ${printNumber(pieces)} pieces`}
    >
      {words === '' ? null : <p className="faint">{words}</p>}
      <Table
        caption="The packing list as it will be recorded"
        rows={input.drums}
        keyOf={(row) => row.drum}
        columns={[
          { key: 'drum', title: 'Drum', value: (row) => row.drum },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          {
            key: 'gross',
            title: 'Gross',
            unit: input.drums[0]?.gross.unit ?? '',
            value: (row) => Number(row.gross.text),
            cell: (row) => <Digits text={row.gross.text} among={gross} />,
            isNumber: true,
          },
          {
            key: 'tare',
            title: 'Tare',
            unit: input.drums[0]?.tare.unit ?? '',
            value: (row) => Number(row.tare.text),
            cell: (row) => <Digits text={row.tare.text} among={tares} />,
            isNumber: true,
          },
          { key: 'seal', title: 'Seal', value: (row) => row.seal },
        ]}
      />
    </Part>
  );
}
