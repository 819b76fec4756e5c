import {
  Facts,
  Figure,
  LimitRule,
  PathLink,
  pathTo,
  printDecimal,
  printInstant,
  printNumber,
  State,
  type StateTone,
  Table,
} from '../../../../../workbench/index.ts';
import type { ExchangeState } from '../books.ts';
import type { ExchangeAnswer, ShownReport } from './exchange-answer.ts';

const words: Readonly<Record<ExchangeState, readonly [word: string, tone: StateTone]>> = {
  'under cover': ['under cover until the own result is signed', 'waits'],
  'umpire only': ['the supplier has not reported', 'waits'],
  'no limit': ['no splitting limit and no uncertainty is stated', 'look'],
  within: ['within the limit', 'done'],
  apart: ['beyond the limit', 'look'],
  'umpire has spoken': ['the umpire has spoken', 'look'],
  settled: ['settled', 'done'],
};

/** How the results stand to one another by word and mark. */
export function ExchangeStateShown({ state }: { readonly state: ExchangeState }) {
  const [word, tone] = words[state];
  return <State word={word} tone={tone} />;
}

/** A figure in ‰ as the document writes it, with its uncertainty where one is stated. */
function FoundFigure({ figures }: Pick<ShownReport, 'figures'>) {
  if (!figures) return <State word="under cover" />;
  const { fineness, uncertainty } = figures;
  return (
    <>
      {printDecimal(fineness.text)} ‰
      {uncertainty === null
        ? null
        : ` ± ${printDecimal(uncertainty.text)} (k = ${printNumber(uncertainty.coverageFactor)})`}
    </>
  );
}

/** What each side found, beside one another. */
export function ExchangeReports({ answer }: { readonly answer: ExchangeAnswer }) {
  return (
    <Table
      caption="What supplier and umpire report"
      rows={answer.reports}
      keyOf={(row) => String(row.entry)}
      columns={[
        { key: 'from', title: 'From', value: (row) => row.from },
        {
          key: 'portion',
          title: 'Portion',
          value: (row) => row.portion,
          cell: (row) => (
            <PathLink to={pathTo('/receiving/portions/$portion', { portion: row.portion })}>
              {row.portion}
            </PathLink>
          ),
        },
        {
          key: 'fineness',
          title: 'Fineness',
          value: (row) => row.figures?.fineness.perMille ?? null,
          cell: (row) => <FoundFigure figures={row.figures} />,
          isNumber: true,
        },
        { key: 'method', title: 'Method', value: (row) => row.figures?.method ?? '' },
        {
          key: 'document',
          title: 'Report',
          value: (row) => row.document,
          cell: (row) => (
            <>
              {row.document} <PathLink to={`/journal/${row.entry}`}>{row.reportedOn}</PathLink>
            </>
          ),
        },
      ]}
    />
  );
}

/** The comparison in figures, drawn and in words; nothing while there is none. */
export function ExchangeComparison({ answer }: { readonly answer: ExchangeAnswer }) {
  const { comparison, own, reports, settlement, state } = answer;
  if (!own) {
    return (
      <p>
        What the other side found is shown once the plant has signed its own result of melt{' '}
        {answer.melt}.
      </p>
    );
  }
  const supplier = reports.findLast(({ from }) => from === 'supplier');
  return (
    <>
      <Facts
        facts={[
          ['Plant', <Own key="own" own={own} />],
          ...(supplier
            ? [['Supplier', <FoundFigure key="supplier" figures={supplier.figures} />] as const]
            : []),
          ...(comparison
            ? [
                [
                  'Supplier less plant',
                  <Figure
                    key="difference"
                    value={comparison.output.differencePerMille}
                    decimals={3}
                    unit="‰"
                    size="result"
                  />,
                ] as const,
              ]
            : []),
        ]}
      />
      {comparison ? (
        <LimitRule
          value={comparison.output.differencePerMille}
          lowerLimit={-comparison.limit.perMille}
          upperLimit={comparison.limit.perMille}
          unit="‰"
          decimals={3}
          words={comparison.output.words}
        />
      ) : null}
      {comparison?.limit.from === 'uncertainties' ? (
        <p className="faint">
          No splitting limit is stated: the limit is twice the standard uncertainty of the
          difference.
        </p>
      ) : null}
      {state === 'no limit' ? (
        <p>
          Nothing says how far the results may lie apart: state the splitting limit of the contract
          by correcting the report.
        </p>
      ) : null}
      {state === 'settled' && settlement ? (
        <p>
          Settled at {printDecimal(settlement.agreed.text)} ‰, {settlement.document},{' '}
          <PathLink to={`/journal/${settlement.entry}`}>
            {printInstant(settlement.instant)}
          </PathLink>
          . {settlement.words}
        </p>
      ) : null}
    </>
  );
}

function Own({ own }: { readonly own: NonNullable<ExchangeAnswer['own']> }) {
  const { text, standardUncertaintyPerMille } = own;
  return (
    <>
      {printDecimal(text)} ‰ ± {printNumber(2 * standardUncertaintyPerMille, 3)} (k = 2)
    </>
  );
}
