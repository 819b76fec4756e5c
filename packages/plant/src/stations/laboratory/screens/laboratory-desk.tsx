import {
  Empty,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printAge,
  State,
  Table,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DeskAnswer, DeskLine } from './trial-answer.ts';

/** The desk of the laboratory: which melt waits for what. */
export function LaboratoryDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('laboratory-desk');
  if (!answer) {
    return (
      <Page title="Laboratory">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Laboratory"
      about="One trial for each melt; never on the mean of a lot"
      known={<Instruments answer={answer} />}
    >
      <Part title="Melts on trial">
        {answer.waiting.length === 0 ? (
          <Empty
            what="No melt waits in the laboratory."
            how="A melt comes here when its sample has been drawn at receiving."
          />
        ) : (
          <Melts caption="Melts on trial" rows={answer.waiting} />
        )}
      </Part>
      {answer.recent.length > 0 ? (
        <Part title="Ruled last">
          <Melts caption="Melts ruled last" rows={answer.recent} />
        </Part>
      ) : null}
    </Page>
  );
}

function stageOf({ stage, verdict }: DeskLine) {
  const words = verdict ? `${stage}: ${verdict}` : stage;
  if (stage === 'held') return <State word={words} tone="stopped" />;
  return stage.startsWith('to be') ? <State word={words} tone="waits" /> : words;
}

function Melts({
  caption,
  rows,
}: {
  readonly caption: string;
  readonly rows: readonly DeskLine[];
}) {
  return (
    <Table
      caption={caption}
      rows={rows}
      keyOf={(row) => row.melt}
      columns={[
        {
          key: 'melt',
          title: 'Melt',
          value: (row) => row.melt,
          cell: (row) => (
            <PathLink to={pathTo('/laboratory/melts/$melt', { melt: row.melt })}>
              {row.melt}
            </PathLink>
          ),
        },
        {
          key: 'standard',
          title: 'Blanks for',
          value: (row) => row.pieceStandardTitle,
          cell: (row) => (
            <>
              <Metal metal={row.metal} /> {row.pieceStandardTitle}
            </>
          ),
        },
        { key: 'stage', title: 'Stage', value: (row) => row.stage, cell: stageOf },
        {
          key: 'measured',
          title: 'Measured',
          value: (row) => `${row.blanksMeasured} of ${row.blanksForPhysical}`,
        },
        {
          key: 'determinations',
          title: 'Determinations',
          value: (row) => row.determinationsValid,
          decimals: 0,
        },
        {
          key: 'since',
          title: 'Since',
          value: (row) => row.since,
          cell: (row) => printAge(row.since),
        },
      ]}
    />
  );
}

function Instruments({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <>
      <h3>Instruments here</h3>
      <ul className="plain-list">
        {answer.instruments.map(({ instrument, title, calibrationDue }) => (
          <li key={instrument}>
            <ThingLink thing="instrument" id={instrument} /> {title}
            <p className="faint">calibration due {calibrationDue}</p>
          </li>
        ))}
      </ul>
    </>
  );
}
