import {
  PathLink,
  pathTo,
  printNumber,
  State,
  type StateTone,
  Table,
} from '../../../../workbench/index.ts';
import type { PortionState } from '../words.ts';
import type { ShownPortion } from './answer-shapes.ts';

const tones: Readonly<Record<PortionState, StateTone>> = {
  sealed: 'plain',
  'with the supplier': 'waits',
  'with the umpire': 'waits',
  opened: 'plain',
  returned: 'done',
  discarded: 'done',
  'used up': 'done',
};

/** Where a portion is by word and mark. */
export function PortionStateShown({ state }: { readonly state: PortionState }) {
  return <State word={state} tone={tones[state]} />;
}

/** Until when a portion is kept; overdue ones stand out. */
export function KeptUntil({ row }: { readonly row: ShownPortion }) {
  if (row.isOverdue) return <State word={`${row.keptUntil}, overdue`} tone="look" />;
  return <>{row.keptUntil ?? 'no day'}</>;
}

/** Portions with where they lie and until when. */
export function PortionsTable(props: {
  readonly caption: string;
  readonly portions: readonly ShownPortion[];
}) {
  return (
    <Table
      caption={props.caption}
      rows={props.portions}
      keyOf={(row) => row.portion}
      columns={[
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
        { key: 'for', title: 'For', value: (row) => row.for },
        {
          key: 'melt',
          title: 'Melt',
          value: (row) => row.melt,
          cell: (row) => (
            <PathLink to={pathTo('/receiving/melts/$melt/portions', { melt: row.melt })}>
              {row.melt}
            </PathLink>
          ),
        },
        {
          key: 'state',
          title: 'Where',
          value: (row) => (row.state === 'sealed' ? row.place : row.state),
          cell: (row) =>
            row.state === 'sealed' ? row.place : <PortionStateShown state={row.state} />,
        },
        { key: 'pieces', title: 'Blanks', value: (row) => row.pieces, decimals: 0 },
        {
          key: 'grams',
          title: 'Mass',
          unit: 'g',
          value: (row) => row.grossMicrograms / 1e6,
          cell: (row) => printNumber(row.grossMicrograms / 1e6, 3),
          isNumber: true,
        },
        {
          key: 'kept',
          title: 'Kept until',
          value: (row) => row.keptUntil ?? '9999',
          cell: (row) => <KeptUntil row={row} />,
        },
      ]}
    />
  );
}
