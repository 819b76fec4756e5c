import {
  Empty,
  Figure,
  Page,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  Table,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import { methodName } from '../../screens/words.ts';
import type { MethodsAnswer } from './method-answer.ts';

/** The methods by which finenesses are found, each in its newest edition. */
export function MethodsPage() {
  const { answer, problem } = useQuestion<MethodsAnswer>('methods');
  const may = useMay('state-method');
  const state = may ? <PathLink to="/registers/state-method">State a method</PathLink> : null;
  return (
    <Page
      title="Methods"
      about="How a fineness is found: scope, calculation, controls, reagents"
      known={state}
    >
      {answer ? <Methods answer={answer} how={state} /> : <Pending problem={problem} />}
    </Page>
  );
}

function Methods(props: { readonly answer: MethodsAnswer; readonly how: React.ReactNode }) {
  const { methods } = props.answer;
  if (methods.length === 0) {
    return (
      <Empty
        what="No method is stated: runs are recorded without asked controls."
        how={props.how ?? 'The chief assayer states the methods here.'}
      />
    );
  }
  return (
    <Table
      caption="Methods in force"
      rows={methods}
      keyOf={(row) => row.method}
      columns={[
        {
          key: 'title',
          title: 'Method',
          value: (row) => row.title,
          cell: (row) => (
            <PathLink to={pathTo('/registers/methods/$method', { method: row.method })}>
              {row.title}
            </PathLink>
          ),
        },
        { key: 'edition', title: 'Edition', value: (row) => row.edition, decimals: 0 },
        { key: 'way', title: 'Way of assay', value: (row) => methodName(row.assayMethod) },
        { key: 'metal', title: 'Metal', value: (row) => row.scope.metal },
        {
          key: 'scope',
          title: 'Scope',
          value: (row) => row.scope.leastPerMille,
          cell: ({ scope }) => (
            <>
              <Figure value={scope.leastPerMille} /> to{' '}
              <Figure value={scope.greatestPerMille} unit="‰" />
            </>
          ),
        },
        {
          key: 'since',
          title: 'In force since',
          value: (row) => row.since,
          cell: (row) => printInstant(row.since),
        },
      ]}
    />
  );
}
