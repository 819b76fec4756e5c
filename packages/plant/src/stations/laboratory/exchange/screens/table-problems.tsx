import type { TableProblem } from '../../../../tables/sheet.ts';
import { Part, printNumber, Table, TextField } from '../../../../workbench/index.ts';

/** A line that is not taken, and why. */
export interface LineAside {
  readonly line: number;
  readonly reason: string;
}

/** Everything that is wrong with a table, line by line; then nothing of it is taken. */
export function TableProblems(props: {
  readonly problems: readonly TableProblem[];
  readonly onSetAside: (line: number) => void;
}) {
  const { problems, onSetAside } = props;
  return (
    <Part
      title={`Nothing is taken: ${problems.length === 1 ? '1 thing is' : `${printNumber(problems.length)} things are`} not right`}
    >
      <Table
        caption="What is not right in the table"
        rows={problems}
        keyOf={(row) => `${row.line} ${row.column} ${row.value} ${row.accepted}`}
        columns={[
          {
            key: 'line',
            title: 'Line',
            value: (row) => row.line,
            cell: (row) => (row.line === 0 ? 'whole' : printNumber(row.line)),
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
          {
            key: 'aside',
            title: 'Set aside',
            value: () => '',
            cell: (row) =>
              row.line === 0 || row.column === 'header' ? (
                ''
              ) : (
                <button type="button" className="quiet-button" onClick={() => onSetAside(row.line)}>
                  set {row.line} aside
                </button>
              ),
          },
        ]}
      />
    </Part>
  );
}

/** The lines that are not taken, each with the reason, which goes into the record. */
export function LinesAside(props: {
  readonly setAside: readonly LineAside[];
  readonly change: (setAside: readonly LineAside[]) => void;
}) {
  const { setAside, change } = props;
  if (setAside.length === 0) return null;
  return (
    <Part title={`Set aside: ${printNumber(setAside.length)} of its lines`}>
      {setAside.map(({ line, reason }) => (
        <div key={line} className="line-aside">
          <TextField
            label={`Why line ${line} is not taken`}
            value={reason}
            onChange={(text) =>
              change(setAside.map((one) => (one.line === line ? { line, reason: text } : one)))
            }
          />
          <button
            type="button"
            className="row-remove"
            aria-label={`Take line ${line} again`}
            onClick={() => change(setAside.filter((one) => one.line !== line))}
          >
            take it again
          </button>
        </div>
      ))}
    </Part>
  );
}

/** Sets a line aside, its reason still to be said. */
export const withAside = (setAside: readonly LineAside[], line: number): readonly LineAside[] => [
  ...setAside.filter((one) => one.line !== line),
  { line, reason: '' },
];

/** Lines that nobody has given a reason for yet. */
export const withoutReason = (setAside: readonly LineAside[]): readonly number[] =>
  setAside.filter(({ reason }) => reason.trim().length < 3).map(({ line }) => line);
