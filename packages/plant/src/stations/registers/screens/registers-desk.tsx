import type { ReactNode } from 'react';
import {
  Empty,
  Facts,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  State,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import type { RunningOut } from '../docket.ts';
import type { RegistersAnswer } from './desk-answer.ts';
import {
  DiesTable,
  InstrumentsTable,
  PeopleTable,
  PieceStandardsTable,
  PurchasersTable,
  SuppliersTable,
} from './registers-tables.tsx';

/** The desk of the registers: who and what the plant works with, list by list. */
export function RegistersDesk() {
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  if (!answer) {
    return (
      <Page title="Registers">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Registers"
      about="Who and what the plant works with"
      known={<Known answer={answer} />}
    >
      <List title="People" act={['enrol-person', 'Enrol a person']}>
        <PeopleTable answer={answer} />
      </List>
      <List
        title="Piece standards"
        act={['register-piece-standard', 'Register a piece standard']}
        missing={answer.pieceStandards.length === 0 && 'No kind of piece is registered.'}
      >
        <PieceStandardsTable answer={answer} />
      </List>
      <List
        title="Instruments"
        act={['register-instrument', 'Register an instrument']}
        missing={answer.instruments.length === 0 && 'No instrument is registered.'}
      >
        <InstrumentsTable answer={answer} />
      </List>
      <List
        title="Suppliers"
        act={['register-supplier', 'Register a supplier']}
        missing={answer.suppliers.length === 0 && 'No supplier is registered.'}
      >
        <SuppliersTable answer={answer} />
      </List>
      <List
        title="Purchasers"
        act={['approve-purchaser', 'Approve a purchaser']}
        missing={answer.purchasers.length === 0 && 'No purchaser is approved.'}
      >
        <PurchasersTable answer={answer} />
      </List>
      <Part title="Behind the laboratory">
        <ul className="plain-list">
          {laboratoryRegisters.map(([path, title, what]) => (
            <li key={path}>
              <PathLink to={path}>{title}</PathLink> <span className="faint">{what}</span>
            </li>
          ))}
        </ul>
      </Part>
      <List
        title="Dies and collars"
        act={['receive-die', 'Receive a die']}
        missing={answer.dies.length === 0 && 'No die has been received.'}
      >
        <DiesTable answer={answer} />
      </List>
    </Page>
  );
}

const laboratoryRegisters = [
  ['/registers/methods', 'Methods', 'how a fineness is found, in editions'],
  ['/registers/reference-materials', 'Reference materials', 'certified metal and what is left'],
  ['/registers/reagents', 'Reagents', 'lots and titrants, opened and condemned'],
] as const;

/** One list, with the act that adds to it for those who may. */
function List(props: {
  readonly title: string;
  readonly act: readonly [command: string, label: string];
  readonly missing?: string | false;
  readonly children: ReactNode;
}) {
  const [command, label] = props.act;
  const may = useMay(command);
  const act = <PathLink to={`/registers/${command}`}>{label}</PathLink>;
  return (
    <Part title={props.title} aside={may ? act : null}>
      {props.missing ? (
        <Empty what={props.missing} how={may ? act : `Whoever may, finds “${label}” here.`} />
      ) : (
        props.children
      )}
    </Part>
  );
}

function Known({ answer }: { readonly answer: RegistersAnswer }) {
  return (
    <>
      <Facts
        facts={[
          ['Plant', answer.plant?.title ?? 'not founded'],
          ['Time zone', answer.plant?.timeZone ?? '–'],
          ['Today', answer.day],
        ]}
      />
      <div>
        <h3>Runs out</h3>
        {answer.runningOut.length === 0 ? (
          <p className="faint">Nothing runs out within a fortnight.</p>
        ) : (
          <ul className="plain-list">
            {answer.runningOut.map((one) => (
              <li key={`${one.what} ${one.id} ${one.title}`}>
                <PathLink to={pathOf(one)}>{one.title}</PathLink>
                <p>
                  <State
                    word={`${one.what} ${one.hasRunOut ? 'ran out' : 'runs out'} ${one.until}`}
                    tone={one.hasRunOut ? 'stopped' : 'look'}
                  />
                </p>
              </li>
            ))}
          </ul>
        )}
      </div>
    </>
  );
}

const pages = {
  calibration: '/registers/instruments/$id',
  supplier: '/registers/suppliers/$id',
  purchaser: '/registers/purchasers/$id',
  authorisation: '/registers/people/$id',
} as const;

const pathOf = ({ what, id }: RunningOut): string => pathTo(pages[what], { id });
