import { defineCalculation } from '../catalogue/calculation.ts';
import { dateOfDay, dayOfDate, weekdayOf } from './calendar-day.ts';
import {
  type ClaimClockInput,
  type ClaimClockOutput,
  claimClockInput,
  claimClockOutput,
} from './claim-clock-schema.ts';

export {
  type ClaimClockInput,
  type ClaimClockOutput,
  claimClockInput,
  claimClockOutput,
} from './claim-clock-schema.ts';

type Rule = ClaimClockInput['rules'][number];
type Claim = ClaimClockOutput['claims'][number];
type IsBusiness = (day: number) => boolean;

function businessDays(input: ClaimClockInput): IsBusiness {
  const holidays = new Set(
    input.holidayDates.map((date, index) => dayOfDate(date, `holidayDates.${index}`)),
  );
  const rest = new Set<string>(input.restDays);
  return (day) => !rest.has(weekdayOf(day)) && !holidays.has(day);
}

/** Last day of a period, before any move from a rest day. */
function lastDay(rule: Rule, event: number, isBusiness: IsBusiness): number {
  if (rule.dayKind === 'calendar') {
    return event + rule.days - (rule.eventDayCounts && rule.days > 0 ? 1 : 0);
  }
  let day = rule.eventDayCounts ? event - 1 : event;
  if (rule.days === 0) return event;
  for (let counted = 0; counted < rule.days; ) {
    day += 1;
    if (isBusiness(day)) counted += 1;
  }
  return day;
}

function movedTo(day: number, rule: Rule, isBusiness: IsBusiness): number {
  let moved = day;
  if (rule.endOnRestDay === 'next business day') while (!isBusiness(moved)) moved += 1;
  return moved;
}

function statusOf(last: number, asked: number, raised: number | null): Claim['status'] {
  if (raised !== null) return raised <= last ? 'raised in time' : 'raised too late';
  if (asked > last) return 'lapsed';
  return asked === last ? 'last day' : 'open';
}

function claimOf(rule: Rule, index: number, asked: number, isBusiness: IsBusiness): Claim {
  const event = dayOfDate(rule.eventDate, `rules.${index}.eventDate`);
  const raised =
    rule.raisedDate === undefined ? null : dayOfDate(rule.raisedDate, `rules.${index}.raisedDate`);
  const plain = lastDay(rule, event, isBusiness);
  const last = movedTo(plain, rule, isBusiness);
  let businessDaysLeft = 0;
  for (let day = asked + 1; day <= last; day += 1) if (isBusiness(day)) businessDaysLeft += 1;
  return {
    claim: rule.claim,
    lastDate: dateOfDay(last),
    lastWeekday: weekdayOf(last),
    movedDays: last - plain,
    daysLeft: last - asked,
    businessDaysLeft,
    status: statusOf(last, asked, raised),
  };
}

function claimWords(claim: Claim): string {
  const day = `${claim.lastWeekday} ${claim.lastDate}`;
  const sentences: Readonly<Record<Claim['status'], string>> = {
    open: `${claim.claim}: may be claimed up to and including ${day}, ${claim.daysLeft} day(s) from now.`,
    'last day': `${claim.claim}: today, ${day}, is the last day.`,
    lapsed: `${claim.claim}: lapsed after ${day}, ${-claim.daysLeft} day(s) ago.`,
    'raised in time': `${claim.claim}: raised in time, the last day being ${day}.`,
    'raised too late': `${claim.claim}: raised too late, the last day having been ${day}.`,
  };
  return sentences[claim.status];
}

/**
 * Claim clock: until which day a claim against a supplier or by a purchaser may be raised.
 *
 * Formula: the period runs for so many calendar or business days from the event, whose own day does not
 * count unless the contract says so. A last day on a rest day or holiday moves to the next business
 * day where the rule says so. A claim raised on the last day is in time.
 *
 * @param input 1 to 100 rules with dates from 1600 to 9999, 0 to 3650 days each; the day asked for; rest
 *   days and holidays of the place that counts
 * @returns last day, its weekday, days left and status of each claim
 * @throws DomainError for text that is no day of the calendar
 * Validity: whole days of one calendar and one place; hours and time zones are left to the contract,
 * which goes before this reckoning.
 * Source: common practice; defaults as Regulation (EEC, Euratom) No 1182/71, Article 3(1), 3(3) and 3(4);
 * dates ISO 8601-1:2019
 * @example claimClock({ rules: [{ claim: 'fineness', event: 'receipt', eventDate: '2027-03-01', days: 5,
 *   dayKind: 'calendar', eventDayCounts: false, endOnRestDay: 'next business day' }],
 *   askedDate: '2027-03-02', restDays: ['Saturday', 'Sunday'], holidayDates: [] }).claims[0]?.lastDate // '2027-03-08'
 */
export function claimClock(input: ClaimClockInput): ClaimClockOutput {
  const asked = dayOfDate(input.askedDate, 'askedDate');
  const isBusiness = businessDays(input);
  const claims = input.rules.map((rule, index) => claimOf(rule, index, asked, isBusiness));
  const open = claims
    .filter(({ status }) => status === 'open' || status === 'last day')
    .map(({ lastDate }) => lastDate)
    .sort();
  return {
    claims,
    nextDate: open[0] ?? null,
    words: claims.map(claimWords).join(' '),
  };
}

export const claimClockCalculation = defineCalculation<ClaimClockInput, ClaimClockOutput>({
  id: 'claim-clock',
  version: 1,
  topic: 'exchange',
  title: 'Claim clock',
  purpose:
    'Says until which day a claim on mass, count or fineness may be raised, in calendar or business days from the event that the contract names.',
  source:
    'Common practice; defaults as Regulation (EEC, Euratom) No 1182/71, Article 3; dates ISO 8601-1:2019',
  input: claimClockInput,
  output: claimClockOutput,
  // Chosen figures.
  example: {
    rules: [
      {
        claim: 'mass and count',
        event: 'receipt',
        eventDate: '2027-03-24',
        days: 3,
        dayKind: 'business',
        eventDayCounts: false,
        endOnRestDay: 'next business day',
      },
      {
        claim: 'fineness',
        event: 'exchange of results',
        eventDate: '2027-03-24',
        days: 10,
        dayKind: 'calendar',
        eventDayCounts: false,
        endOnRestDay: 'next business day',
      },
    ],
    askedDate: '2027-03-26',
    restDays: ['Saturday', 'Sunday'],
    holidayDates: ['2027-03-26', '2027-03-29'],
  },
  compute: claimClock,
});
