import {
  type Drawing,
  Drawings,
  Part,
  PathLink,
  pathTo,
  useQuestion,
} from '../../../workbench/index.ts';

/** The history of a series as a catalogue calculation followed and drew it. */
export interface ShownHistory {
  readonly words: string;
  readonly calculation: string;
  readonly version: number;
  readonly drawings: readonly Drawing[];
  readonly changes: readonly {
    readonly event: string;
    readonly lot: string | null;
    readonly severityAfter: 'normal' | 'tightened' | 'reduced' | 'discontinued';
    readonly why: string;
  }[];
}

/** Lot by lot, how severely a supplier's pieces were inspected, and why they are so now. */
export function HistoryDrawn({ history }: { readonly history: ShownHistory }) {
  return (
    <>
      <p>{history.words}</p>
      <Drawings drawings={history.drawings} />
      {history.changes.length === 0 ? (
        <p className="faint">The severity has not changed since the first lot.</p>
      ) : (
        <ol className="plain-list">
          {history.changes.map(({ event, lot, severityAfter, why }, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: changes have no name, and none goes away
            <li key={index}>
              {severityAfter} from {lot === null ? event : `lot ${lot}`} on
              <p>{why}</p>
            </li>
          ))}
        </ol>
      )}
      <p className="faint">
        By the calculation {history.calculation}, version {history.version}: MIL-STD-105E, clauses
        4.7.1 to 4.8.
      </p>
    </>
  );
}

/** The same on the page of a consignment; nothing until a lot of the series was judged. */
export function SeverityHistory(props: {
  readonly supplier: string;
  readonly pieceStandard: string;
}) {
  const { supplier, pieceStandard } = props;
  const asked = { supplier, pieceStandard };
  const { answer } = useQuestion<{ readonly history: ShownHistory | null } | null>(
    'inspection-series',
    asked,
  );
  if (!answer?.history) return null;
  return (
    <Part
      title="How severely this supplier is inspected"
      aside={
        <PathLink to={pathTo('/receiving/series/$supplier/$pieceStandard', asked)}>
          every lot
        </PathLink>
      }
    >
      <HistoryDrawn history={answer.history} />
    </Part>
  );
}
