import {
  CommandForm,
  Empty,
  Facts,
  LineageStrip,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printNumber,
  type ScreenProps,
  State,
  Table,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';
import type { ConsignmentAnswer, DeskAnswer, DrumInDetail } from './desk-answer.ts';
import { WeighDrum } from './weigh-drum.tsx';

/** One consignment from its drums to its draws; the act that comes next is the page's. */
export function ConsignmentPage({ params }: ScreenProps) {
  const name = params['consignment'] ?? '';
  const { answer, problem } = useQuestion<ConsignmentAnswer | null>('consignment', {
    consignment: name,
  });
  const desk = useQuestion<DeskAnswer>('receiving-desk');
  if (answer === undefined || !desk.answer) {
    return (
      <Page title={`Consignment ${name}`}>
        <Pending problem={problem ?? desk.problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Consignment ${name}`}>
        <Empty
          what="No consignment of this name was announced."
          how={<PathLink to="/receiving/announce">Announce it.</PathLink>}
        />
      </Page>
    );
  }
  return (
    <Page
      title={`Consignment ${name}`}
      about={`${answer.pieceStandardTitle} from ${answer.supplierName}, ${answer.document}`}
      known={<Known answer={answer} />}
    >
      <Drums answer={answer} />
      <Orders answer={answer} />
      <NextAct answer={answer} balances={desk.answer.balances} />
      <OtherActs answer={answer} />
    </Page>
  );
}

function Known({ answer }: { readonly answer: ConsignmentAnswer }) {
  return (
    <>
      <Facts
        facts={[
          ['Pieces', printNumber(answer.pieces)],
          ['Documented', printNumber(answer.piecesDocumented)],
          ['Net', <Mass key="net" micrograms={answer.netMicrograms} unit="kg" />],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={answer.supplier} />],
        ]}
      />
      <LineageStrip thing="consignment" id={answer.consignment} />
    </>
  );
}

function stateOf({ state }: DrumInDetail) {
  if (state === 'stopped') return <State word={state} tone="stopped" />;
  const isSettled = state === 'counted' || state === 'tallied' || state === 'returned';
  return <State word={state} tone={isSettled ? 'plain' : 'waits'} />;
}

function Drums({ answer }: { readonly answer: ConsignmentAnswer }) {
  return (
    <Part title="Drums">
      <Table
        caption="Drums of this consignment"
        rows={answer.drums}
        keyOf={(row) => row.drum}
        columns={[
          {
            key: 'drum',
            title: 'Drum',
            value: (row) => row.drum,
            cell: (row) => <ThingLink thing="drum" id={row.drum} />,
          },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          { key: 'seal', title: 'Seal', value: (row) => row.seal },
          {
            key: 'pieces',
            title: 'Pieces',
            value: (row) => row.pieces,
            decimals: 0,
            sum: (rows) => rows.reduce((sum, row) => sum + row.pieces, 0),
          },
          {
            key: 'difference',
            title: 'Against document',
            value: (row) => row.differencePieces,
            decimals: 0,
          },
          {
            key: 'net',
            title: 'Net',
            unit: 'g',
            value: (row) => (row.netMicrograms ?? 0) / 1e6,
            decimals: 1,
          },
          { key: 'state', title: 'State', value: (row) => row.state, cell: stateOf },
          { key: 'words', title: 'Count', value: (row) => row.words },
        ]}
      />
    </Part>
  );
}

function Orders({ answer }: { readonly answer: ConsignmentAnswer }) {
  if (answer.orders.length === 0) return null;
  return (
    <Part title="Samples">
      <Table
        caption="Sampling orders"
        rows={answer.orders}
        keyOf={(row) => row.melt}
        columns={[
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) => (
              <PathLink to={pathTo('/receiving/melts/$melt', { melt: row.melt })}>
                {row.melt}
              </PathLink>
            ),
          },
          { key: 'sample', title: 'Blanks', value: (row) => row.samplePieces, decimals: 0 },
          { key: 'assay', title: 'For assay', value: (row) => row.assayPieces, decimals: 0 },
          {
            key: 'physical',
            title: 'For size and mass',
            value: (row) => row.physicalPieces,
            decimals: 0,
          },
          {
            key: 'drawn',
            title: 'State',
            value: (row) => (row.drawnEntry === null ? 'to be drawn' : 'drawn'),
          },
        ]}
      />
    </Part>
  );
}

/** The one act that is due, as the books say. */
function NextAct(props: {
  readonly answer: ConsignmentAnswer;
  readonly balances: DeskAnswer['balances'];
}) {
  const { answer, balances } = props;
  const { command, ids, words } = answer.next;
  if (command === null) return null;
  const [first = ''] = ids;
  if (command === 'weigh-drum') {
    return (
      <WeighDrum
        drums={answer.drums.filter(({ drum }) => ids.includes(drum))}
        balances={balances}
      />
    );
  }
  if (command === 'record-draw') {
    return (
      <Part title="Next">
        <p>{words}</p>
        <p>
          <PathLink to={pathTo('/receiving/melts/$melt', { melt: first })}>
            Open the pick list of {first}
          </PathLink>
        </p>
      </Part>
    );
  }
  return (
    <Part title="Next">
      <p>{words}</p>
      {command === 'order-samples' ? (
        <CommandForm
          command={command}
          label="Order samples"
          given={{ consignment: answer.consignment }}
          isMain
        />
      ) : (
        <CommandForm command={command} initial={{ drum: first }} isMain />
      )}
    </Part>
  );
}

/** Acts that may be needed at any time before the samples are drawn. */
function OtherActs({ answer }: { readonly answer: ConsignmentAnswer }) {
  if (answer.next.command === null) return null;
  return (
    <>
      {[
        ['stop-drum', 'Stop a drum'],
        ['tally-drum', 'Tally a drum by hand'],
        ['return-drum', 'Send a drum back'],
      ].map(([command = '', label = '']) => (
        <details className="act-fold" key={command}>
          <summary>{label}</summary>
          <CommandForm command={command} />
        </details>
      ))}
    </>
  );
}
