import { DomainError, requireDomain } from '../quantity/domain.ts';

/** Days of the week, Monday first, as ISO 8601 numbers them from 1. */
export const weekdays = [
  'Monday',
  'Tuesday',
  'Wednesday',
  'Thursday',
  'Friday',
  'Saturday',
  'Sunday',
] as const;

export type Weekday = (typeof weekdays)[number];

const datePattern = /^(\d{4})-(\d{2})-(\d{2})$/;
const dateAccepted = 'a date of the calendar such as 2027-03-31, from 1600 to 9999';

/** Days before the first of each month of a year that begins in March. */
const daysBeforeMonth = [0, 31, 61, 92, 122, 153, 184, 214, 245, 275, 306, 337] as const;

const isLeap = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);

function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeap(year) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/**
 * Number of a calendar day, counted from 1970-01-01 as day 0, so that dates are added and compared
 * without hours and time zones.
 *
 * Formula: Gregorian calendar with years beginning in March, so that the leap day comes last.
 *
 * @param date text such as '2027-03-31', ISO 8601 complete date, years 1600 to 9999
 * @param field name of the field, for the refusal
 * @returns whole number of days
 * @throws DomainError for text that is no day of the calendar
 * Validity: exact.
 * Source: ISO 8601-1:2019, 4.2.1 and 5.2.2
 * @example dayOfDate('2000-01-01') // 10957
 */
export function dayOfDate(date: string, field = 'date'): number {
  const parts = datePattern.exec(date);
  const [year, month, day] = parts ? parts.slice(1).map(Number) : [];
  if (year === undefined || month === undefined || day === undefined) {
    throw new DomainError({ field, value: date, accepted: dateAccepted });
  }
  const isDay =
    year >= 1600 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
  requireDomain(isDay, { field, value: date, accepted: dateAccepted });
  const marchYear = month > 2 ? year : year - 1;
  const marchMonth = (month + 9) % 12;
  const leapDays =
    Math.floor(marchYear / 4) - Math.floor(marchYear / 100) + Math.floor(marchYear / 400);
  // 1970-01-01 is day 719 468 after 0000-03-01.
  return 365 * marchYear + leapDays + (daysBeforeMonth[marchMonth] ?? 0) + day - 1 - 719_468;
}

/** The day of the week of a numbered day; 1970-01-01 was a Thursday. */
export function weekdayOf(day: number): Weekday {
  return weekdays[(((day + 3) % 7) + 7) % 7] as Weekday;
}

const two = (value: number): string => value.toString().padStart(2, '0');

/**
 * Date of a numbered day, the inverse of `dayOfDate`.
 *
 * Formula: year by division with the mean length of 365.2425 days, corrected by at most one; then month.
 *
 * @param day whole number of days from 1970-01-01
 * @returns text such as '2027-03-31'
 * @throws DomainError for a day outside the years 1600 to 9999
 * Validity: exact.
 * Source: ISO 8601-1:2019, 4.2.1 and 5.2.2
 * @example dateOfDay(10957) // '2000-01-01'
 */
export function dateOfDay(day: number): string {
  requireDomain(Number.isInteger(day) && day >= -135_140 && day <= 2_932_896, {
    field: 'day',
    value: day,
    accepted: 'a whole number of days from 1600-01-01 to 9999-12-31',
  });
  let year = Math.min(9999, Math.max(1600, 1970 + Math.floor(day / 365.2425)));
  while (dayOfDate(`${year}-01-01`) > day) year -= 1;
  while (year < 9999 && dayOfDate(`${year + 1}-01-01`) <= day) year += 1;
  let rest = day - dayOfDate(`${year}-01-01`);
  let month = 1;
  for (; rest >= daysInMonth(year, month); month += 1) rest -= daysInMonth(year, month);
  return `${year}-${two(month)}-${two(rest + 1)}`;
}
