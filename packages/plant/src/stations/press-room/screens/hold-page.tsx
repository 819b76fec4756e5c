import {
  ChoiceField,
  Empty,
  Facts,
  Figure,
  inWords,
  LineageStrip,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  type ScreenProps,
  State,
  Table,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { holdRulings } from '../bodies.ts';
import type { HoldRow } from '../books.ts';
import type { HoldAnswer, RunAnswer } from './answers.ts';
import { RunStateShown } from './run-state.tsx';
import { StrikePictures } from './strike-pictures.tsx';
import { StrikeReading } from './strikes-table.tsx';

type Ruling = (typeof holdRulings)[number];

/** Pieces held after a fault: what was seen, what it holds, and the ruling. */
export function HoldPage({ params }: ScreenProps) {
  const hold = params['hold'] ?? '';
  const { answer, problem } = useQuestion<HoldAnswer | null>('hold', { hold });
  if (!answer) {
    return (
      <Page title={`Hold ${hold}`}>
        {answer === null ? (
          <Empty
            what={`No hold ${hold} was opened.`}
            how="A hold opens by itself when a strike is recorded as a fault."
          />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  return <OneHold answer={answer} />;
}

function OneHold({ answer }: { readonly answer: HoldAnswer }) {
  const { hold } = answer;
  const [draft, change, clear] = useDraft<{ ruling: Ruling | ''; reason: string }>(
    `resolve-hold ${hold.hold}`,
    { ruling: '', reason: '' },
  );
  const resolve = useCommand('resolve-hold', { onRecorded: clear });
  const isOpen = hold.state === 'open';
  const isComplete = draft.ruling !== '' && draft.reason.trim() !== '';
  return (
    <Page
      title={`Hold ${hold.hold}`}
      about={
        isOpen ? (
          <State word="waits for a ruling" tone="stopped" />
        ) : (
          <State word={`ruled: ${hold.state}`} tone="done" />
        )
      }
      known={<Known hold={hold} />}
      act={
        isOpen ? (
          <MainAct
            label="Rule on hold"
            command={resolve}
            input={() => ({ hold: hold.hold, ruling: draft.ruling, reason: draft.reason.trim() })}
            notYet={isComplete ? undefined : 'Choose the ruling and say why.'}
          />
        ) : undefined
      }
    >
      <dl className="named-figures">
        <div>
          <dt>Pieces held</dt>
          <dd>
            <Figure value={hold.pieces} decimals={0} size="result" />
          </dd>
        </div>
      </dl>
      <Part title={`Seen at strike ${hold.strikeNumber}`}>
        <p className="sheet-what">{hold.words}</p>
        <FaultyStrike hold={hold} />
      </Part>
      <HeldRuns answer={answer} />
      {isOpen && resolve.description?.allowed ? (
        <Part title="Ruling">
          <ChoiceField
            label="The held pieces are"
            value={draft.ruling}
            choices={[
              { value: 'release', label: 'Released' },
              { value: 'scrap', label: 'Scrap' },
            ]}
            onChange={(ruling) => change({ ruling })}
            refusal={resolve.refusalAt('ruling')}
          />
          <TextField
            label="Reason"
            kind="long"
            value={draft.reason}
            onChange={(reason) => change({ reason })}
            refusal={resolve.refusalAt('reason') ?? resolve.refusalAt('hold')}
          />
        </Part>
      ) : null}
      {isOpen ? null : <Ruled hold={hold} />}
    </Page>
  );
}

function Known({ hold }: { readonly hold: HoldRow }) {
  return (
    <>
      <Facts
        facts={[
          [
            'Run',
            <PathLink key="run" to={pathTo('/press-room/runs/$run', { run: hold.run })}>
              {hold.run}
            </PathLink>,
          ],
          ['Melt', <ThingLink key="melt" thing="melt" id={hold.melt} />],
          ['Press', <ThingLink key="press" thing="press" id={hold.press} />],
          ['Defect of', hold.family],
          ['Opened', `${printInstant(hold.openedInstant)}, ${hold.openedBy}`],
          ['Shift', hold.shift],
        ]}
      />
      <LineageStrip thing="hold" id={hold.hold} />
    </>
  );
}

/** The strike at which the fault was seen, with its pictures large enough to judge. */
function FaultyStrike({ hold }: { readonly hold: HoldRow }) {
  const { answer } = useQuestion<RunAnswer | null>('run', { run: hold.run });
  const strike = answer?.strikes.find(({ strikeNumber }) => strikeNumber === hold.strikeNumber);
  if (!answer || !strike) return null;
  return (
    <>
      <StrikePictures strike={strike} isLarge />
      <Facts
        facts={(['mass', 'diameter', 'thickness'] as const).map((measured) => [
          inWords(measured),
          <StrikeReading
            key={measured}
            strike={strike}
            measured={measured}
            limits={answer.limits}
          />,
        ])}
      />
    </>
  );
}

const scopeTitles: Readonly<Record<string, string>> = {
  melt: 'Held: every piece struck from the melt',
  bracket: 'Held: since the last approved strike',
  'press and shift': 'Held: what the press struck in the shift',
};

function HeldRuns({ answer }: { readonly answer: HoldAnswer }) {
  const runs = new Map(answer.runs.map((run) => [run.run, run]));
  return (
    <Part title={scopeTitles[answer.hold.scope] ?? 'Held'}>
      <Table
        caption="Runs that the hold covers"
        rows={answer.hold.held}
        keyOf={(row) => row.run}
        columns={[
          {
            key: 'run',
            title: 'Run',
            value: (row) => row.run,
            cell: (row) => (
              <PathLink to={pathTo('/press-room/runs/$run', { run: row.run })}>{row.run}</PathLink>
            ),
          },
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) => <ThingLink thing="melt" id={row.melt} />,
          },
          { key: 'from', title: 'From strike', value: (row) => row.strikeFrom, decimals: 0 },
          { key: 'to', title: 'To strike', value: (row) => row.strikeTo, decimals: 0 },
          {
            key: 'sent',
            title: 'Sent of the run',
            value: (row) => runs.get(row.run)?.piecesDelivered,
            decimals: 0,
          },
          {
            key: 'state',
            title: 'State',
            value: (row) => runs.get(row.run)?.state,
            cell: (row) => {
              const run = runs.get(row.run);
              return run ? <RunStateShown state={run.state} /> : '–';
            },
          },
        ]}
      />
    </Part>
  );
}

function Ruled({ hold }: { readonly hold: HoldRow }) {
  return (
    <Part title={hold.state === 'release' ? 'Released' : 'Ruled to be scrap'}>
      <p>{hold.reason}</p>
      <p className="faint">
        {hold.resolvedBy}
        {hold.resolvedInstant ? `, ${printInstant(hold.resolvedInstant)}` : ''}
      </p>
    </Part>
  );
}
