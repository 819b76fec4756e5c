import {
  Empty,
  Page,
  PathLink,
  Pending,
  pathTo,
  Table,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { LotsAnswer } from './lot-answer.ts';
import { LotState } from './lot-state.tsx';

/** The lots of reagents and titrants, and which of them may be used. */
export function ReagentsPage() {
  const { answer, problem } = useQuestion<LotsAnswer>('reagent-lots');
  const may = useMay('receive-reagent-lot');
  const receive = may ? (
    <PathLink to="/registers/receive-reagent-lot">Receive a lot</PathLink>
  ) : null;
  return (
    <Page
      title="Reagents"
      about="Lots that runs are made with, titrants among them"
      known={receive}
    >
      {answer ? <Lots answer={answer} how={receive} /> : <Pending problem={problem} />}
    </Page>
  );
}

function Lots(props: { readonly answer: LotsAnswer; readonly how: React.ReactNode }) {
  const { lots, day } = props.answer;
  if (lots.length === 0) {
    return (
      <Empty
        what="No lot of a reagent has been received."
        how={props.how ?? 'An assayer receives the lots here.'}
      />
    );
  }
  return (
    <Table
      caption="Lots of reagents"
      rows={lots}
      keyOf={(row) => row.lot}
      columns={[
        {
          key: 'lot',
          title: 'Lot',
          value: (row) => row.lot,
          cell: (row) => (
            <PathLink to={pathTo('/registers/reagents/$lot', { lot: row.lot })}>{row.lot}</PathLink>
          ),
        },
        { key: 'reagent', title: 'Reagent', value: (row) => row.reagent },
        { key: 'supplier', title: 'Supplier', value: (row) => row.supplier },
        { key: 'expires', title: 'Expires', value: (row) => row.expires },
        {
          key: 'factor',
          title: 'Factor',
          unit: 'mg/mL',
          value: (row) => row.factor?.factorMilligramsPerMillilitre,
          decimals: 5,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.state,
          cell: (row) => <LotState row={row} day={day} />,
        },
      ]}
    />
  );
}
