import {
  Empty,
  Mass,
  Page,
  PathLink,
  Pending,
  pathTo,
  Table,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { MaterialsAnswer } from './material-answer.ts';
import { MaterialState } from './material-state.tsx';

/** The reference materials: what is certified, until when, and how much is left. */
export function MaterialsPage() {
  const { answer, problem } = useQuestion<MaterialsAnswer>('reference-materials');
  const may = useMay('receive-reference-material');
  const receive = may ? (
    <PathLink to="/registers/receive-reference-material">Receive a reference material</PathLink>
  ) : null;
  return (
    <Page
      title="Reference materials"
      about="Certified metal that runs beside the portions of melts"
      known={receive}
    >
      {answer ? <Materials answer={answer} how={receive} /> : <Pending problem={problem} />}
    </Page>
  );
}

function Materials(props: { readonly answer: MaterialsAnswer; readonly how: React.ReactNode }) {
  const { referenceMaterials, day } = props.answer;
  if (referenceMaterials.length === 0) {
    return (
      <Empty
        what="No reference material has been received."
        how={props.how ?? 'An assayer receives them here, with their certificates.'}
      />
    );
  }
  return (
    <Table
      caption="Reference materials"
      rows={referenceMaterials}
      keyOf={(row) => row.referenceMaterial}
      columns={[
        {
          key: 'id',
          title: 'Label',
          value: (row) => row.referenceMaterial,
          cell: (row) => (
            <PathLink
              to={pathTo('/registers/reference-materials/$referenceMaterial', {
                referenceMaterial: row.referenceMaterial,
              })}
            >
              {row.referenceMaterial}
            </PathLink>
          ),
        },
        { key: 'title', title: 'Title', value: (row) => row.title },
        { key: 'kind', title: 'Kind', value: (row) => row.kind },
        { key: 'metal', title: 'Metal', value: (row) => row.metal },
        { key: 'until', title: 'Valid until', value: (row) => row.validUntil },
        {
          key: 'left',
          title: 'Left',
          value: (row) => row.massRemainingMicrograms,
          cell: (row) => <Mass micrograms={row.massRemainingMicrograms} unit="g" decimals={3} />,
          isNumber: true,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => (row.retired ? 'retired' : 'in use'),
          cell: (row) => <MaterialState row={row} day={day} />,
        },
      ]}
    />
  );
}
