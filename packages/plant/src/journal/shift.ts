/** When the plant's shifts begin, in local time, in the order of the day. */
export interface ShiftCalendar {
  /** IANA name, as `Europe/Vienna`. */
  readonly timeZone: string;
  /** Name and local starting time in minutes after midnight; ascending. */
  readonly shifts: readonly { readonly name: string; readonly startMinutes: number }[];
}

/** Three shifts of eight hours; the night shift belongs to the day on which it begins. */
export const threeShifts: ShiftCalendar['shifts'] = [
  { name: 'early', startMinutes: 6 * 60 },
  { name: 'late', startMinutes: 14 * 60 },
  { name: 'night', startMinutes: 22 * 60 },
];

interface LocalTime {
  readonly day: string;
  readonly minutes: number;
}

const formats = new Map<string, Intl.DateTimeFormat>();
const latest = new Map<string, { readonly minute: number; readonly time: LocalTime }>();

/** Local day and minute. All instants of one minute share them, so the last answer is kept. */
function localTime(timeZone: string, milliseconds: number): LocalTime {
  const minute = Math.floor(milliseconds / 60_000);
  const known = latest.get(timeZone);
  if (known?.minute === minute) return known.time;
  const time = computeLocalTime(timeZone, milliseconds);
  latest.set(timeZone, { minute, time });
  return time;
}

function computeLocalTime(timeZone: string, milliseconds: number): LocalTime {
  let format = formats.get(timeZone);
  if (!format) {
    format = new Intl.DateTimeFormat('en-CA', {
      timeZone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    });
    formats.set(timeZone, format);
  }
  const parts = Object.fromEntries(
    format.formatToParts(milliseconds).map((part) => [part.type, part.value]),
  );
  return {
    day: `${parts.year}-${parts.month}-${parts.day}`,
    minutes: Number(parts.hour) * 60 + Number(parts.minute),
  };
}

function dayBefore(day: string): string {
  const date = new Date(`${day}T00:00:00Z`);
  date.setUTCDate(date.getUTCDate() - 1);
  return date.toISOString().slice(0, 10);
}

/** The calendar day of an instant in a time zone, as `2026-11-25`. */
export function dayOf(timeZone: string, instant: Date): string {
  return localTime(timeZone, instant.getTime()).day;
}

/**
 * The shift that an instant falls in, as `2026-11-25-early`. Before the first start of the day the
 * last shift of the day before still runs.
 */
export function shiftAt(calendar: ShiftCalendar, milliseconds: number): string {
  const { day, minutes } = localTime(calendar.timeZone, milliseconds);
  const started = calendar.shifts.filter((shift) => shift.startMinutes <= minutes);
  const current = started.at(-1);
  if (current) return `${day}-${current.name}`;
  return `${dayBefore(day)}-${calendar.shifts.at(-1)?.name}`;
}
