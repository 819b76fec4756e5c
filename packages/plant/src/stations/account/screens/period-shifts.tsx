import { PathLink, pathTo, State, useQuestion } from '../../../workbench/index.ts';
import { dayOfShift } from '../shift-names.ts';
import { type PeriodsAnswer, stateTones } from './period-answer.ts';

/** Shifts by the days on which they begin; a month has too many of them for a line each. */
export function ShiftLinks({ shifts }: { readonly shifts: readonly string[] }) {
  const days = [...Map.groupBy(shifts, dayOfShift)];
  return (
    <ul className="plain-list">
      {days.map(([day, own]) => (
        <li key={day} className="day-of-shifts">
          {days.length > 1 ? <DayLink day={day} /> : null}
          {own.map((shift) => (
            <PathLink key={shift} to={pathTo('/account/shifts/$shift', { shift })}>
              {days.length > 1 ? <ShortName day={day} shift={shift} /> : shift}
            </PathLink>
          ))}
        </li>
      ))}
    </ul>
  );
}

/** A day of a month, with what it waits for. */
function DayLink({ day }: { readonly day: string }) {
  const { answer } = useQuestion<PeriodsAnswer>('periods');
  const state = answer?.periods.find(({ period }) => period === day)?.state;
  return (
    <span className="day-of-month">
      <PathLink to={pathTo('/account/periods/$period', { period: day })}>{day}</PathLink>{' '}
      {state === undefined || state === 'closed' ? null : (
        <State word={state} tone={stateTones[state]} />
      )}
    </span>
  );
}

/** The name of a shift beside its day; who hears it hears the day, too. */
function ShortName({ day, shift }: { readonly day: string; readonly shift: string }) {
  const before = day.length + 1;
  return (
    <>
      <span className="unseen">{shift.slice(0, before)}</span>
      {shift.slice(before)}
    </>
  );
}
