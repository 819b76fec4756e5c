import { Part, printNumber, State, Table, useQuestion } from '../../../../workbench/index.ts';
import type { ReferenceMaterialRow } from '../../../registers/index.ts';
import {
  type AskedControl,
  askedControls,
  type EditionAsks,
  rowAnswers,
} from '../asked-controls.ts';
import type { ReadTable } from '../result-bodies.ts';

/** What the method asks of the run, what of the file answers it, and what every row is. */
export function AskedShown(props: {
  readonly asks: EditionAsks | null;
  readonly table: ReadTable;
  /** Id of the reference material that a sample of the file is said to be of, by its label. */
  readonly materials: Readonly<Record<string, string>>;
}) {
  const { asks, table, materials } = props;
  const { answer } = useQuestion<{
    readonly referenceMaterials: readonly ReferenceMaterialRow[];
  }>('reference-materials');
  const known = answer?.referenceMaterials ?? [];
  const kinds = new Map(known.map((row) => [row.referenceMaterial, row.kind]));
  const asked = askedControls(asks, { table, materials, kinds });
  return (
    <Part title="What the method asks">
      <Table
        caption="Controls asked, and the rows that answer them"
        rows={asked}
        filter={false}
        keyOf={(row) => row.asked}
        isMarked={(row) => !row.isAnswered}
        columns={[
          { key: 'asked', title: 'Asked', value: (row) => row.asked },
          {
            key: 'lines',
            title: 'Lines of the file',
            value: (row) => row.lines.join(', '),
          },
          { key: 'state', title: 'Answered', value: stateWords, cell: AskedState },
        ]}
      />
      <details className="act-fold">
        <summary>What the {printNumber(table.rows.length)} rows of the file are</summary>
        <Table
          caption="Rows of the file"
          rows={rowAnswers(table, asked)}
          keyOf={(row) => `${row.line} ${row.label}`}
          columns={[
            { key: 'line', title: 'Line', value: (row) => row.line, decimals: 0 },
            { key: 'label', title: 'Label', value: (row) => row.label },
            { key: 'as', title: 'Read as', value: (row) => row.readAs },
            { key: 'answers', title: 'Answers', value: (row) => row.answers },
          ]}
        />
      </details>
    </Part>
  );
}

const stateWords = ({ isAnswered, words }: AskedControl): string =>
  `${isAnswered ? 'yes' : 'not yet'} ${words}`.trim();

function AskedState(row: AskedControl) {
  if (row.isAnswered) return row.words === '' ? 'yes' : `yes: ${row.words}`;
  return (
    <>
      <State word="not yet" tone="look" /> <span className="faint">{row.words}</span>
    </>
  );
}
