import {
  CommandForm,
  Empty,
  Facts,
  LineageStrip,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  type ScreenProps,
  Table,
  ThingLink,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ReagentLotRow } from '../books.ts';
import type { LotAnswer } from './lot-answer.ts';
import { LotState } from './lot-state.tsx';

/** One lot: opened, its factors if it is a titrant, and condemned where it is found unfit. */
export function LotPage({ params }: ScreenProps) {
  const lot = params['lot'] ?? '';
  const { answer, problem } = useQuestion<LotAnswer | null>('reagent-lot', { lot });
  if (!answer) {
    return (
      <Page title={`Lot ${lot}`}>
        {answer === null ? (
          <Empty what={`${lot} is not in the register.`} how="The registers list every lot." />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  const { row, day } = answer;
  return (
    <Page
      title={`${row.reagent}, ${lot}`}
      about={<LotState row={row} day={day} />}
      known={
        <>
          <Known row={row} />
          <LineageStrip thing="reagent-lot" id={lot} />
        </>
      }
    >
      {row.condemned ? (
        <p>
          {row.condemned.reason}{' '}
          <PathLink to={pathTo('/laboratory/holds/$hold', { hold: `reagent-lot/${lot}` })}>
            Runs made with it
          </PathLink>
        </p>
      ) : null}
      {row.isTitrant ? <Factors {...answer} /> : null}
      <Acts row={row} />
    </Page>
  );
}

function Known({ row }: { readonly row: ReagentLotRow }) {
  return (
    <Facts
      facts={[
        ['Supplier', row.supplier],
        ["Supplier's lot", row.supplierLot],
        ['Expires', row.expires],
        ['Received', printInstant(row.since)],
        ...(row.opened ? ([['Opened', printInstant(row.opened.instant)]] as const) : []),
        ...(row.condemned ? ([['Condemned', printInstant(row.condemned.instant)]] as const) : []),
      ]}
    />
  );
}

function Factors({ row: lotRow, factors, day }: LotAnswer) {
  const { lot } = lotRow;
  const may = useMay('determine-titre') && lotRow.state === 'open' && lotRow.expires >= day;
  return (
    <Part
      title="Factors"
      aside={
        may ? (
          <PathLink to={pathTo('/laboratory/titrants/$lot', { lot })}>Determine the titre</PathLink>
        ) : null
      }
    >
      {factors.length === 0 ? (
        <p className="faint">No factor has been determined.</p>
      ) : (
        <>
          <Table
            caption="Factors, newest first"
            rows={factors}
            keyOf={(row) => String(row.entry)}
            columns={[
              {
                key: 'run',
                title: 'Run',
                value: (row) => row.determinedIn,
                cell: (row) => <ThingLink thing="assay-run" id={row.determinedIn} />,
              },
              {
                key: 'factor',
                title: 'Factor',
                unit: 'mg/mL',
                value: (row) => row.factorMilligramsPerMillilitre,
                decimals: 5,
              },
              {
                key: 'uncertainty',
                title: 'Standard uncertainty',
                unit: 'mg/mL',
                value: (row) => row.standardUncertaintyMilligramsPerMillilitre,
                decimals: 5,
              },
              {
                key: 'when',
                title: 'Recorded',
                value: (row) => row.instant,
                cell: (row) => (
                  <>
                    <PathLink to={`/journal/${row.entry}`}>{printInstant(row.instant)}</PathLink>
                    {row.withdrawn === null ? null : (
                      <>
                        , <PathLink to={`/journal/${row.withdrawn}`}>set aside</PathLink>
                      </>
                    )}
                  </>
                ),
              },
            ]}
          />
          <p>
            <PathLink to={pathTo('/laboratory/charts/$chart', { chart: `titrant-factor.${lot}` })}>
              Control chart of the factor
            </PathLink>
          </p>
        </>
      )}
    </Part>
  );
}

function Acts({ row }: { readonly row: ReagentLotRow }) {
  const mayOpen = useMay('open-reagent-lot') && row.state === 'closed';
  const mayCondemn = useMay('condemn-reagent-lot') && row.state !== 'condemned';
  const { lot, expires } = row;
  return (
    <>
      {mayOpen ? (
        <Part title="Open it">
          <CommandForm
            command="open-reagent-lot"
            label="Open reagent lot"
            isMain
            given={{ lot }}
            initial={{ expires }}
          />
        </Part>
      ) : null}
      {mayCondemn ? (
        <details className="act-fold">
          <summary>Condemn it</summary>
          <p className="faint">
            Every run made with it is held at signing, checking and release, until the chief assayer
            has said which stand.
          </p>
          <CommandForm command="condemn-reagent-lot" label="Condemn reagent lot" given={{ lot }} />
        </details>
      ) : null}
    </>
  );
}
