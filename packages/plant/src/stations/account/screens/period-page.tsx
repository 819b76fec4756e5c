import {
  Empty,
  Facts,
  FieldRow,
  MainAct,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  SideAct,
  State,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { type PeriodAnswer, type ShownPeriod, stateTones } from './period-answer.ts';
import { PeriodBalances, PeriodDifferences } from './period-tables.tsx';

type Known = Extract<PeriodAnswer, { readonly isKnown: true }>;

/** A day or month: what it waits for, how it was frozen, and what was corrected afterwards. */
export function PeriodPage({ params }: ScreenProps) {
  const period = params['period'] ?? '';
  const { answer, problem } = useQuestion<PeriodAnswer>('period', { period });
  if (!answer) {
    return (
      <Page title={period}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (!answer.isKnown) {
    return (
      <Page title={period}>
        <Empty
          what="No shift of this period has been closed."
          how={<PathLink to="/account">The balance desk lists the days and months.</PathLink>}
        />
      </Page>
    );
  }
  return <OnePeriod key={period} answer={answer} />;
}

const waiting: Readonly<Record<Known['state'], string | undefined>> = {
  closed: 'It is closed.',
  runs: 'It still runs.',
  'shift open': 'A shift of it is open.',
  'day open': 'A day of it is open.',
  'to be closed': undefined,
};

function OnePeriod({ answer }: { readonly answer: Known }) {
  const { period, length, state, closed } = answer;
  const close = useCommand(`close-${length}`);
  const mayClose = close.description?.allowed !== false;
  return (
    <Page
      title={`${length === 'day' ? 'Day' : 'Month'} ${period}`}
      about={<State word={state} tone={stateTones[state]} />}
      known={<KnownOf answer={answer} />}
      act={
        mayClose && (!closed || close.stage === 'recorded') ? (
          <MainAct
            label={`Close ${length}`}
            command={close}
            notYet={waiting[state]}
            input={() => ({ period })}
          />
        ) : undefined
      }
    >
      {closed ? <Frozen closed={closed} /> : <NotYet answer={answer} />}
      {closed ? <Corrections answer={answer} closed={closed} /> : null}
      {answer.seesBook ? null : (
        <p className="faint">
          Balances and differences are shown to the metal accountant, the chief assayer and the
          auditor.
        </p>
      )}
    </Page>
  );
}

function ShiftLinks({ shifts }: { readonly shifts: readonly string[] }) {
  return (
    <ul className="plain-list">
      {shifts.map((shift) => (
        <li key={shift}>
          <PathLink to={pathTo('/account/shifts/$shift', { shift })}>{shift}</PathLink>
        </li>
      ))}
    </ul>
  );
}

function NotYet({ answer }: { readonly answer: Known }) {
  return (
    <Part title="Shifts closed so far">
      <ShiftLinks shifts={answer.shifts} />
      <p className="faint">
        When it is closed, its entries, balances and differences are frozen here, and nothing is
        booked into it any more.
      </p>
    </Part>
  );
}

function Frozen({ closed }: { readonly closed: ShownPeriod }) {
  return (
    <>
      {closed.lines ? (
        <Part title="Balances">
          <PeriodBalances lines={closed.lines} />
        </Part>
      ) : null}
      {closed.differences ? (
        <Part title="Differences">
          <PeriodDifferences rows={closed.differences} />
          {closed.openDifferences.length > 0 ? (
            <p>
              Not explained when it was closed:{' '}
              {closed.openDifferences.map((difference) => (
                <span key={difference} className="nowrap">
                  <PathLink to={pathTo('/account/differences/$difference', { difference })}>
                    {difference}
                  </PathLink>{' '}
                </span>
              ))}
            </p>
          ) : null}
        </Part>
      ) : null}
      <Part title="Shifts">
        <ShiftLinks shifts={closed.shifts.map(({ shift }) => shift)} />
      </Part>
    </>
  );
}

function Corrections({ answer, closed }: { readonly answer: Known; readonly closed: ShownPeriod }) {
  return (
    <Part title="Corrected afterwards">
      {answer.corrections.length === 0 ? (
        <p className="faint">Nothing has been corrected.</p>
      ) : (
        <ul className="plain-list">
          {answer.corrections.map((one) => (
            <li key={one.entry}>
              <PathLink to={`/journal/${one.entry}`}>Entry {printNumber(one.entry)}</PathLink> about
              entry{' '}
              <PathLink to={`/journal/${one.correctedEntry}`}>
                {printNumber(one.correctedEntry)}
              </PathLink>
              , {one.name}, {printInstant(one.instant)}
              <p className="as-written">{one.explanation}</p>
            </li>
          ))}
        </ul>
      )}
      <CorrectionFields period={answer.period} closed={closed} />
    </Part>
  );
}

function CorrectionFields(props: { readonly period: string; readonly closed: ShownPeriod }) {
  const { period, closed } = props;
  const [draft, change, clear] = useDraft(`correct ${period}`, { entry: '', explanation: '' });
  const correct = useCommand('correct-period', { onRecorded: clear });
  if (correct.description?.allowed === false) return null;
  return (
    <>
      <FieldRow>
        <TextField
          label="Entry that was wrong"
          kind="whole number"
          value={draft.entry}
          onChange={(entry) => change({ entry })}
          hint={`Between ${printNumber(closed.firstEntry)} and ${printNumber(closed.lastEntry)}.`}
          refusal={correct.refusalAt('entry') ?? correct.refusalAt('period')}
        />
      </FieldRow>
      <TextField
        label="What was wrong"
        kind="long"
        value={draft.explanation}
        onChange={(explanation) => change({ explanation })}
        hint="And how it is put right now; metal is moved by its own station, in the present shift."
        refusal={correct.refusalAt('explanation')}
      />
      <SideAct
        label="Record correction"
        command={correct}
        notYet={
          draft.entry === '' || draft.explanation.trim() === ''
            ? 'Name the entry and say what was wrong.'
            : undefined
        }
        input={() => ({
          period,
          entry: wholeNumberOf(draft.entry),
          explanation: draft.explanation,
        })}
      />
    </>
  );
}

function KnownOf({ answer }: { readonly answer: Known }) {
  const { closed, period, length } = answer;
  const papers =
    length === 'month' ? (
      <ul className="plain-list">
        <li>
          <PaperLink paper="month-differences" id={period}>
            Differences, for any program (CSV)
          </PaperLink>
        </li>
        <li>
          <PaperLink paper="month-differences-workbook" id={period}>
            Differences, as a workbook (XLSX)
          </PaperLink>
        </li>
        {answer.seesBook ? (
          <>
            <li>
              <PaperLink paper="month-balances" id={period}>
                Balances of its closes, for any program (CSV)
              </PaperLink>
            </li>
            <li>
              <PaperLink paper="month-balances-workbook" id={period}>
                Balances of its closes, as a workbook (XLSX)
              </PaperLink>
            </li>
          </>
        ) : null}
      </ul>
    ) : null;
  if (!closed) {
    return (
      <>
        <Facts facts={[['Shifts closed', printNumber(answer.shifts.length)]]} />
        {papers}
      </>
    );
  }
  return (
    <>
      <Facts
        facts={[
          ['Closed', printInstant(closed.instant)],
          ['By', `${closed.author} with ${closed.witness}`],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${closed.entry}`}>
              {printNumber(closed.entry)}
            </PathLink>,
          ],
          ['Entries', `${printNumber(closed.firstEntry)} to ${printNumber(closed.lastEntry)}`],
          ['Leaf of the last entry', <code key="leaf">{closed.lastEntryLeafHash}</code>],
          ['Tree up to it', <code key="tree">{closed.treeHash}</code>],
          ...(closed.days.length > 0 ? [['Days', closed.days.join(', ')] as const] : []),
        ]}
      />
      {papers}
    </>
  );
}
