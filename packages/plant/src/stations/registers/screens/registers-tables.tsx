import {
  Metal,
  PathLink,
  pathTo,
  printDecimal,
  State,
  Table,
  ThingLink,
} from '../../../workbench/index.ts';
import type { RegistersAnswer } from './desk-answer.ts';
import { Until } from './until.tsx';
import { methodName, placeWords } from './words.ts';

interface ListProps {
  readonly answer: RegistersAnswer;
}

export function PeopleTable({ answer }: ListProps) {
  return (
    <Table
      caption="People of the plant"
      rows={answer.people}
      keyOf={(row) => row.person}
      columns={[
        {
          key: 'name',
          title: 'Name',
          value: (row) => row.name,
          cell: (row) => (
            <PathLink to={pathTo('/registers/people/$person', { person: row.person })}>
              {row.name}
            </PathLink>
          ),
        },
        {
          key: 'person',
          title: 'Sign-in name',
          value: (row) => row.person,
          cell: (row) => <code>{row.person}</code>,
        },
        {
          key: 'roles',
          title: 'Roles',
          value: (row) => row.roles.join(', '),
          cell: (row) =>
            row.active ? row.roles.join(', ') : <State word="has left" tone="stopped" />,
        },
        {
          key: 'methods',
          title: 'May sign',
          value: (row) => row.methods.map(({ method }) => methodName(method)).join(', '),
          cell: (row) =>
            row.methods.map(({ method, until }) => (
              <div key={method}>
                {methodName(method)}{' '}
                <span className="faint">
                  <Until day={until} answer={answer} />
                </span>
              </div>
            )),
        },
      ]}
    />
  );
}

export function PieceStandardsTable({ answer }: ListProps) {
  return (
    <Table
      caption="Piece standards"
      rows={answer.pieceStandards}
      keyOf={(row) => row.pieceStandard}
      columns={[
        {
          key: 'title',
          title: 'Piece standard',
          value: (row) => row.title,
          cell: (row) => (
            <PathLink
              to={pathTo('/registers/piece-standards/$pieceStandard', {
                pieceStandard: row.pieceStandard,
              })}
            >
              {row.title}
            </PathLink>
          ),
        },
        {
          key: 'metal',
          title: 'Metal',
          value: (row) => row.metal,
          cell: (row) => <Metal metal={row.metal} />,
        },
        {
          key: 'fineness',
          title: 'Fineness',
          unit: '‰',
          value: (row) => row.finenessDeclaredPartsPerMillion / 1000,
          decimals: 1,
        },
        {
          key: 'mass',
          title: 'Mass',
          unit: 'g',
          value: (row) => row.massDeclaredMilligrams / 1000,
          decimals: 3,
        },
        { key: 'method', title: 'Assay', value: (row) => methodName(row.assayMethod) },
      ]}
    />
  );
}

export function InstrumentsTable({ answer }: ListProps) {
  return (
    <Table
      caption="Instruments"
      rows={answer.instruments}
      keyOf={(row) => row.instrument}
      columns={[
        {
          key: 'title',
          title: 'Instrument',
          value: (row) => row.title,
          cell: (row) => (
            <PathLink
              to={pathTo('/registers/instruments/$instrument', { instrument: row.instrument })}
            >
              {row.title}
            </PathLink>
          ),
        },
        {
          key: 'instrument',
          title: 'Label',
          value: (row) => row.instrument,
          cell: (row) => <code>{row.instrument}</code>,
        },
        { key: 'place', title: 'Place', value: (row) => placeWords[row.place] },
        {
          key: 'division',
          title: 'Division',
          unit: 'g',
          value: (row) => row.divisionGrams,
          cell: (row) =>
            row.divisionGrams === null ? '' : printDecimal(String(row.divisionGrams)),
          isNumber: true,
        },
        {
          key: 'due',
          title: 'Calibration due',
          value: (row) => row.calibrationDue,
          cell: (row) => <Until day={row.calibrationDue} answer={answer} />,
        },
      ]}
    />
  );
}

interface PartyRow {
  readonly id: string;
  readonly name: string;
  readonly approvedUntil: string;
}

function PartiesTable(props: {
  readonly caption: string;
  readonly path: string;
  readonly rows: readonly PartyRow[];
  readonly answer: RegistersAnswer;
}) {
  return (
    <Table
      caption={props.caption}
      rows={props.rows}
      keyOf={(row) => row.id}
      columns={[
        {
          key: 'name',
          title: 'Name',
          value: (row) => row.name,
          cell: (row) => (
            <PathLink to={pathTo(`${props.path}/$id`, { id: row.id })}>{row.name}</PathLink>
          ),
        },
        {
          key: 'id',
          title: 'Id',
          value: (row) => row.id,
          cell: (row) => <code>{row.id}</code>,
        },
        {
          key: 'until',
          title: 'Approved until',
          value: (row) => row.approvedUntil,
          cell: (row) => <Until day={row.approvedUntil} answer={props.answer} />,
        },
      ]}
    />
  );
}

export function SuppliersTable({ answer }: ListProps) {
  return (
    <PartiesTable
      caption="Suppliers"
      path="/registers/suppliers"
      rows={answer.suppliers.map((row) => ({ ...row, id: row.supplier }))}
      answer={answer}
    />
  );
}

export function PurchasersTable({ answer }: ListProps) {
  return (
    <PartiesTable
      caption="Purchasers"
      path="/registers/purchasers"
      rows={answer.purchasers.map((row) => ({ ...row, id: row.purchaser }))}
      answer={answer}
    />
  );
}

export function DiesTable({ answer }: ListProps) {
  const titles = new Map(answer.pieceStandards.map((row) => [row.pieceStandard, row.title]));
  return (
    <Table
      caption="Dies and collars"
      rows={answer.dies}
      keyOf={(row) => row.die}
      columns={[
        {
          key: 'die',
          title: 'Die',
          value: (row) => row.die,
          cell: (row) => <ThingLink thing="die" id={row.die} />,
        },
        { key: 'part', title: 'Part', value: (row) => row.part },
        {
          key: 'standard',
          title: 'Strikes',
          value: (row) => titles.get(row.pieceStandard) ?? row.pieceStandard,
        },
      ]}
    />
  );
}
