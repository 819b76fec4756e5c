import { threeShifts } from '../../journal/shift.ts';

const names = threeShifts.map(({ name }) => name);

/** The day of a shift; the night shift belongs to the day on which it begins. */
export const dayOfShift = (shift: string): string => shift.slice(0, 10);

/** The month of a shift, as `2026-11`. */
export const monthOfShift = (shift: string): string => shift.slice(0, 7);

/** Whether the shift lies in the day or month. */
export const isInPeriod = (shift: string, period: string): boolean =>
  (period.length === 7 ? monthOfShift(shift) : dayOfShift(shift)) === period;

function dayBeside(day: string, days: 1 | -1): string {
  const date = new Date(`${day}T00:00:00Z`);
  date.setUTCDate(date.getUTCDate() + days);
  return date.toISOString().slice(0, 10);
}

function shiftBeside(shift: string, step: 1 | -1): string {
  const day = dayOfShift(shift);
  const place = names.indexOf(shift.slice(11)) + step;
  const name = names[place];
  if (name !== undefined) return `${day}-${name}`;
  return `${dayBeside(day, step)}-${step === 1 ? names[0] : names.at(-1)}`;
}

/** The shift that follows, past midnight and the end of a month. */
export const shiftAfter = (shift: string): string => shiftBeside(shift, 1);

/** The shift before. */
export const shiftBefore = (shift: string): string => shiftBeside(shift, -1);
