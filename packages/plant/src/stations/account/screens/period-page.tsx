import {
  Empty,
  FieldRow,
  MainAct,
  Page,
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
import { KnownOf } from './period-known.tsx';
import { ShiftLinks } from './period-shifts.tsx';
import { PeriodBalances, PeriodDifferences } from './period-tables.tsx';

type Known = Extract<PeriodAnswer, { readonly isKnown: true }>;

const periodForm = /^\d{4}-\d{2}(-\d{2})?$/;

/** A day or month: what it waits for, how it was frozen, and what was corrected afterwards. */
export function PeriodPage({ params }: ScreenProps) {
  const period = params['period'] ?? '';
  const isName = periodForm.test(period);
  const { answer, problem } = useQuestion<PeriodAnswer>('period', isName ? { period } : undefined);
  if (!isName) {
    return (
      <Page title={period}>
        <Empty
          what="There is no day or month of this name: a day is written 2026-11-25, a month 2026-11."
          how={<PathLink to="/account">The balance desk lists the days and months.</PathLink>}
        />
      </Page>
    );
  }
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
  runs: 'It still runs; it is closed when its last shift is over and closed.',
  'shift open': 'A shift of it is open: close that first, from the balance desk.',
  'day open': 'A day of it is open: close that first, from the balance desk.',
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
