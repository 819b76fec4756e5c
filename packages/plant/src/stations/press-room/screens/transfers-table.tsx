import {
  type Column,
  Mass,
  Part,
  PathLink,
  PeopleNamed,
  printInstant,
  Table,
} from '../../../workbench/index.ts';
import type { DeliveryRow, RejectRow, TransferRow } from '../books.ts';

function columnsOf<Row extends TransferRow>(): readonly Column<Row>[] {
  return [
    {
      key: 'instant',
      title: 'When',
      value: (row) => row.instant,
      cell: (row) => <PathLink to={`/journal/${row.entry}`}>{printInstant(row.instant)}</PathLink>,
    },
    { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
    {
      key: 'gross',
      title: 'Mass',
      unit: 'g',
      value: (row) => row.grossMicrograms,
      cell: (row) => <Mass micrograms={row.grossMicrograms} />,
      isNumber: true,
    },
    { key: 'balance', title: 'Balance', value: (row) => row.instrument },
    {
      key: 'by',
      title: 'By',
      value: (row) => row.author,
      cell: (row) => <PeopleNamed author={row.author} />,
    },
  ];
}

/** What of the run went to put-up. */
export function SentTable({ deliveries }: { readonly deliveries: readonly DeliveryRow[] }) {
  if (deliveries.length === 0) return null;
  return (
    <Part title="Sent to put-up">
      <Table
        caption="Pieces sent to put-up"
        rows={deliveries}
        keyOf={(row) => String(row.entry)}
        filter={false}
        columns={columnsOf<DeliveryRow>()}
      />
    </Part>
  );
}

/** What of the run went to the scrap. */
export function RejectsTable({ rejects }: { readonly rejects: readonly RejectRow[] }) {
  if (rejects.length === 0) return null;
  return (
    <Part title="Rejects set aside">
      <Table
        caption="Rejects set aside"
        rows={rejects}
        keyOf={(row) => String(row.entry)}
        filter={false}
        columns={[
          ...columnsOf<RejectRow>(),
          { key: 'family', title: 'Defect of', value: (row) => row.family },
        ]}
      />
    </Part>
  );
}
