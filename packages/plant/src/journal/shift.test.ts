import { describe, expect, it } from 'vitest';
import { shiftAt, threeShifts } from './shift.ts';

const vienna = { timeZone: 'Europe/Vienna', shifts: threeShifts };
const at = (instant: string, calendar = vienna): string => shiftAt(calendar, Date.parse(instant));

describe('shift', () => {
  it('changes at its local start and lasts to the minute before the next', () => {
    expect(at('2026-11-25T04:59:59.999Z')).toBe('2026-11-24-night');
    expect(at('2026-11-25T05:00:00.000Z')).toBe('2026-11-25-early');
    expect(at('2026-11-25T12:59:59.999Z')).toBe('2026-11-25-early');
    expect(at('2026-11-25T13:00:00.000Z')).toBe('2026-11-25-late');
    expect(at('2026-11-25T21:00:00.000Z')).toBe('2026-11-25-night');
  });

  it('keeps the day on which the night shift began, past midnight, month and year', () => {
    expect(at('2026-11-25T22:59:59.999Z')).toBe('2026-11-25-night');
    expect(at('2026-11-25T23:00:00.000Z')).toBe('2026-11-25-night');
    expect(at('2026-12-31T23:30:00.000Z')).toBe('2026-12-31-night');
    expect(at('2027-01-01T03:00:00.000Z')).toBe('2026-12-31-night');
    expect(at('2028-03-01T00:30:00.000Z')).toBe('2028-02-29-night');
  });

  // Central European time in 2026: forward at 01:00 UTC on 29 March, back at 01:00 UTC on 25 October.
  it('is one hour shorter by night when the clocks go forward', () => {
    expect(at('2026-03-28T21:00:00.000Z')).toBe('2026-03-28-night');
    expect(at('2026-03-29T00:59:59.999Z')).toBe('2026-03-28-night');
    expect(at('2026-03-29T01:00:00.000Z')).toBe('2026-03-28-night');
    expect(at('2026-03-29T03:59:59.999Z')).toBe('2026-03-28-night');
    expect(at('2026-03-29T04:00:00.000Z')).toBe('2026-03-29-early');
  });

  it('is one hour longer by night when the clocks go back, with the doubled hour in one shift', () => {
    expect(at('2026-10-24T20:00:00.000Z')).toBe('2026-10-24-night');
    expect(at('2026-10-25T00:30:00.000Z')).toBe('2026-10-24-night');
    expect(at('2026-10-25T01:30:00.000Z')).toBe('2026-10-24-night');
    expect(at('2026-10-25T04:59:59.999Z')).toBe('2026-10-24-night');
    expect(at('2026-10-25T05:00:00.000Z')).toBe('2026-10-25-early');
  });

  it('covers every minute of the two days on which the clocks change, eight hours each but one', () => {
    const minutesOf = (first: string, hours: number): Map<string, number> => {
      const minutes = new Map<string, number>();
      for (let minute = 0; minute < hours * 60; minute += 1) {
        const name = shiftAt(vienna, Date.parse(first) + minute * 60_000);
        minutes.set(name, (minutes.get(name) ?? 0) + 1);
      }
      return minutes;
    };
    expect([...minutesOf('2026-03-28T05:00:00Z', 23).entries()]).toEqual([
      ['2026-03-28-early', 480],
      ['2026-03-28-late', 480],
      ['2026-03-28-night', 420],
    ]);
    expect([...minutesOf('2026-10-24T04:00:00Z', 25).entries()]).toEqual([
      ['2026-10-24-early', 480],
      ['2026-10-24-late', 480],
      ['2026-10-24-night', 540],
    ]);
  });

  it('follows the time zone and the calendar of its plant', () => {
    const auckland = { timeZone: 'Pacific/Auckland', shifts: threeShifts };
    expect(at('2026-11-25T05:00:00.000Z', auckland)).toBe('2026-11-25-late');
    const days = { timeZone: 'UTC', shifts: [{ name: 'day', startMinutes: 0 }] };
    expect(at('2026-11-25T00:00:00.000Z', days)).toBe('2026-11-25-day');
    expect(at('2026-11-24T23:59:59.999Z', days)).toBe('2026-11-24-day');
  });
});
