import {
  type Column,
  Empty,
  Figure,
  Mass,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  State,
  Table,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';
import { AcceptDelivery } from './accept-delivery.tsx';
import type { DeskAnswer, DeskMelt, DeskTube } from './desk-answer.ts';

const tubePath = (tube: string): string => pathTo('/put-up/tubes/$tube', { tube });

/** The desk of put-up: what has come, what lies loose, what waits, and the boxes packed last. */
export function PutUpDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('put-up-desk');
  if (!answer) {
    return (
      <Page title="Put-up">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Put-up"
      about="Pieces into tubes, tubes into boxes, each proved by weight"
      known={<DeskKnown answer={answer} />}
    >
      {answer.inTransit.length > 0 ? <InTransit answer={answer} /> : null}
      <Melts answer={answer} />
      <Waiting answer={answer} />
      <Boxes answer={answer} />
    </Page>
  );
}

function DeskKnown({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <>
      <h3>Balances here</h3>
      <ul className="plain-list">
        {answer.balances.map(({ instrument, title, divisionGrams, calibrationDue }) => (
          <li key={instrument}>
            <ThingLink thing="instrument" id={instrument} /> {title}
            <p className="faint">
              division {divisionGrams} g, calibration due {calibrationDue}
            </p>
          </li>
        ))}
      </ul>
    </>
  );
}

function InTransit({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <Part title="Sent by the press room, signed by one side only">
      {answer.inTransit.map((sent) => (
        <AcceptDelivery key={sent.delivery} sent={sent} />
      ))}
    </Part>
  );
}

function Melts({ answer }: { readonly answer: DeskAnswer }) {
  const act = <PathLink to="/put-up/weigh">Weigh a tube</PathLink>;
  return (
    <Part title="Melts here" aside={act}>
      {answer.melts.length === 0 ? (
        <Empty
          what="No pieces lie in put-up."
          how="They come when the press room sends them and they are counted here."
        />
      ) : (
        <Table
          caption="Melts whose pieces lie in put-up"
          rows={answer.melts}
          keyOf={(row) => row.melt}
          columns={[
            {
              key: 'melt',
              title: 'Melt',
              value: (row) => row.melt,
              cell: (row) => <ThingLink thing="melt" id={row.melt} />,
            },
            {
              key: 'title',
              title: 'Pieces of',
              value: (row) => row.title,
              cell: (row) => (
                <>
                  <Metal metal={row.metal} /> {row.title}
                </>
              ),
            },
            ...(answer.seesBook
              ? ([
                  { key: 'here', title: 'Here', value: (row) => row.piecesHere, decimals: 0 },
                  { key: 'loose', title: 'Loose', value: (row) => row.piecesLoose, decimals: 0 },
                ] as Column<DeskMelt>[])
              : []),
            {
              key: 'state',
              title: 'State',
              value: (row) => row.holds.join(', '),
              cell: (row) =>
                row.holds.length > 0 ? (
                  <State word={`held by ${row.holds.join(', ')}`} tone="stopped" />
                ) : row.fillsTube ? (
                  <PathLink to={`/put-up/weigh?melt=${encodeURIComponent(row.melt)}`}>
                    fill a tube
                  </PathLink>
                ) : (
                  <span className="faint">less than a tube</span>
                ),
            },
          ]}
        />
      )}
    </Part>
  );
}

function TubeList(props: {
  readonly title: string;
  readonly tubes: readonly DeskTube[];
  readonly tone: 'stopped' | 'look';
}) {
  if (props.tubes.length === 0) return null;
  return (
    <Part title={props.title}>
      <ul className="plain-list">
        {props.tubes.map((tube) => (
          <li key={tube.tube}>
            <PathLink to={tubePath(tube.tube)}>Tube {tube.tube}</PathLink>{' '}
            <State word={props.tone === 'stopped' ? 'stopped' : 'weigh again'} tone={props.tone} />
            <p>{tube.words}</p>
            <p className="faint">
              {tube.pieces} pieces of melt {tube.melt}, {printInstant(tube.since)}
            </p>
          </li>
        ))}
      </ul>
    </Part>
  );
}

const piecesOf = (rows: readonly DeskTube[]): number =>
  rows.reduce((sum, row) => sum + row.pieces, 0);

function Waiting({ answer }: { readonly answer: DeskAnswer }) {
  const { proved } = answer;
  return (
    <>
      <TubeList title="Stopped tubes" tubes={answer.stopped} tone="stopped" />
      <TubeList title="Tubes to weigh again" tubes={answer.weighAgain} tone="look" />
      <Part
        title="Proved tubes that wait for a box"
        aside={<PathLink to="/put-up/pack">Pack a box</PathLink>}
      >
        {proved.length === 0 ? (
          <Empty
            what="No proved tube waits."
            how="A tube comes here when its weighing proves its count."
          />
        ) : (
          <Table
            caption="Proved tubes"
            rows={proved}
            keyOf={(row) => row.tube}
            columns={[
              {
                key: 'tube',
                title: 'Tube',
                value: (row) => row.tube,
                cell: (row) => <PathLink to={tubePath(row.tube)}>{row.tube}</PathLink>,
              },
              { key: 'melt', title: 'Melt', value: (row) => row.melt },
              {
                key: 'pieces',
                title: 'Pieces',
                value: (row) => row.pieces,
                decimals: 0,
                ...(answer.seesBook ? { sum: piecesOf } : {}),
              },
              { key: 'words', title: 'Count', value: (row) => row.words },
            ]}
          />
        )}
      </Part>
    </>
  );
}

function Boxes({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <Part title="Boxes sealed last">
      {answer.boxes.length === 0 ? (
        <Empty what="No box has been sealed yet." how="Scan proved tubes into a box and seal it." />
      ) : (
        <Table
          caption="Boxes sealed last"
          rows={answer.boxes}
          keyOf={(row) => row.box}
          columns={[
            {
              key: 'box',
              title: 'Box',
              value: (row) => row.box,
              cell: (row) => (
                <PathLink to={pathTo('/put-up/boxes/$box', { box: row.box })}>{row.box}</PathLink>
              ),
            },
            { key: 'standard', title: 'Piece standard', value: (row) => row.pieceStandard },
            {
              key: 'pieces',
              title: 'Pieces',
              value: (row) => row.pieces,
              cell: (row) => <Figure value={row.pieces} decimals={0} />,
              isNumber: true,
            },
            {
              key: 'net',
              title: 'Net',
              unit: 'g',
              value: (row) => row.netMicrograms,
              cell: (row) => <Mass micrograms={row.netMicrograms} />,
              isNumber: true,
            },
            { key: 'seal', title: 'Seal', value: (row) => row.seal },
            {
              key: 'since',
              title: 'Sealed',
              value: (row) => row.since,
              cell: (row) => printInstant(row.since),
            },
          ]}
        />
      )}
    </Part>
  );
}
