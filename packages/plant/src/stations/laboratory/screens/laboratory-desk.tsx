import { useState } from 'react';
import {
  Empty,
  inWords,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printAge,
  printNumber,
  State,
  type StateTone,
  Table,
  TextField,
  ThingLink,
  useGo,
  useQuestion,
} from '../../../workbench/index.ts';
import { toneOfStage } from './stage-way.tsx';
import type { DeskAnswer, DeskLine } from './trial-answer.ts';

const meltPath = (melt: string): string => pathTo('/laboratory/melts/$melt', { melt });

/** The desk of the laboratory: which melt waits for what. */
export function LaboratoryDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('laboratory-desk');
  if (!answer) {
    return (
      <Page title="Laboratory">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Laboratory"
      about="One trial for each melt, from its drawn blanks to the ruling"
      known={
        <>
          <p className="laboratory-way">
            <PathLink to="/laboratory/charts">Control charts</PathLink>
            {' · '}
            <PathLink to="/laboratory/proficiency">Laboratory comparisons</PathLink>
            {' · '}
            <PathLink to="/laboratory/tables">Tables as files</PathLink>
            {' · '}
            <PathLink to="/laboratory/metal">Metal here</PathLink>
            {' · '}
            <PathLink to="/laboratory/holds">Results in doubt</PathLink>
            {' · '}
            <PathLink to="/sheets">Half-filled sheets</PathLink>
          </p>
          <Instruments answer={answer} />
        </>
      }
    >
      <OpenMelt />
      <Part title="Melts on trial">
        {answer.waiting.length === 0 ? (
          <Empty
            what="No melt waits in the laboratory."
            how={
              <>
                A melt comes here when its sample has been drawn at{' '}
                <PathLink to="/receiving">receiving</PathLink>.
              </>
            }
          />
        ) : (
          <Waiting rows={answer.waiting} />
        )}
      </Part>
      {answer.recent.length > 0 ? (
        <Part title="Ruled last">
          <Recent rows={answer.recent} />
        </Part>
      ) : null}
    </Page>
  );
}

/** The melt of a code that was scanned: the label of a blank begins with its melt. */
const meltIn = (code: string): string => code.trim().replace(/\/\d+$/, '');

function OpenMelt() {
  const [code, setCode] = useState('');
  const go = useGo();
  return (
    <div className="open-melt">
      <TextField
        label="Melt or blank"
        kind="code"
        value={code}
        onChange={setCode}
        hint="Scan a label to open its trial."
      />
      <button
        type="button"
        className="quiet-button"
        data-goes-on
        disabled={meltIn(code) === ''}
        onClick={() => go(meltPath(meltIn(code)))}
      >
        Open trial
      </button>
    </div>
  );
}

const nextActs: Readonly<Partial<Record<DeskLine['stage'], string>>> = {
  'to be measured': 'measure blanks',
  'to be cut': 'cut blanks',
  'to be assayed': 'record run',
  'to be signed': 'sign result',
  'to be checked': 'check result',
  'to be ruled': 'rule on melt',
  held: 'rule on melt',
};

/** What of a melt needs a look before anything else. */
function concernOf({ verdict, physical, blanksNonconforming }: DeskLine) {
  if (physical === 'rejected') {
    const count = printNumber(blanksNonconforming);
    const blanks = blanksNonconforming === 1 ? 'blank' : 'blanks';
    return { word: `${count} ${blanks} outside the limits`, tone: 'stopped' as StateTone };
  }
  if (verdict === 'fails') return { word: 'fails', tone: 'stopped' as StateTone };
  return verdict === 'undecided' ? { word: verdict, tone: 'look' as StateTone } : undefined;
}

function Stage({ row }: { readonly row: DeskLine }) {
  const concern = concernOf(row);
  return (
    <>
      <State word={row.stage} tone={toneOfStage(row)} />
      {concern ? (
        <>
          {' '}
          <State {...concern} />
        </>
      ) : null}
      <p className="faint">
        {printNumber(row.blanksMeasured)} of {printNumber(row.blanksForPhysical)} measured,{' '}
        {printNumber(row.blanksCut.length)} cut, {printNumber(row.determinationsValid)} assayed
      </p>
    </>
  );
}

const meltColumn = {
  key: 'melt',
  title: 'Melt',
  value: (row: DeskLine) => row.melt,
  cell: (row: DeskLine) => (
    <span className="nowrap">
      <PathLink to={meltPath(row.melt)}>{row.melt}</PathLink>
    </span>
  ),
};

const standardColumn = {
  key: 'standard',
  title: 'Blanks for',
  value: (row: DeskLine) => row.pieceStandardTitle,
  cell: (row: DeskLine) => (
    <>
      <Metal metal={row.metal} /> {row.pieceStandardTitle}
    </>
  ),
};

const sinceColumn = {
  key: 'since',
  title: 'Since',
  value: (row: DeskLine) => row.since,
  cell: (row: DeskLine) => <span className="nowrap">{printAge(row.since)}</span>,
};

function Waiting({ rows }: { readonly rows: readonly DeskLine[] }) {
  return (
    <Table
      caption="Melts on trial"
      rows={rows}
      keyOf={(row) => row.melt}
      columns={[
        meltColumn,
        standardColumn,
        {
          key: 'stage',
          title: 'Stands at',
          value: (row) => row.stage,
          cell: (row) => <Stage row={row} />,
        },
        {
          key: 'next',
          title: 'Next',
          value: (row) => nextActs[row.stage],
          cell: (row) => (
            <span className="nowrap">
              <PathLink to={meltPath(row.melt)}>{inWords(nextActs[row.stage] ?? '')}</PathLink>
            </span>
          ),
        },
        sinceColumn,
      ]}
    />
  );
}

function Recent({ rows }: { readonly rows: readonly DeskLine[] }) {
  return (
    <Table
      caption="Melts ruled last"
      rows={rows}
      filter={false}
      keyOf={(row) => row.melt}
      columns={[
        meltColumn,
        standardColumn,
        {
          key: 'stage',
          title: 'Ruling',
          value: (row) => row.stage,
          cell: (row) =>
            row.stage === 'refused' ? <State word="refused" tone="stopped" /> : row.stage,
        },
        { key: 'verdict', title: 'Verdict', value: (row) => row.verdict },
        sinceColumn,
      ]}
    />
  );
}

function Instruments({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <div>
      <h3>Instruments here</h3>
      {answer.instruments.length === 0 ? (
        <p className="faint">None is registered in the laboratory.</p>
      ) : (
        <ul className="plain-list">
          {answer.instruments.map(({ instrument, title, calibrationDue }) => (
            <li key={instrument}>
              <ThingLink thing="instrument" id={instrument} /> {title}
              <p className="faint">calibration due {calibrationDue}</p>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
