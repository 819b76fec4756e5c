import { describe, expect, it } from 'vitest';
import { shiftAt, threeShifts } from '../../journal/shift.ts';
import { dayOfShift, isInPeriod, shiftAfter, shiftBefore } from './shift-names.ts';

describe('names of shifts', () => {
  it('follow one another as the calendar of the plant lets them, over the days on which clocks change', () => {
    const calendar = { timeZone: 'Europe/Vienna', shifts: threeShifts };
    // Clocks go forward on 29 March 2026; 400 days hold both changes, a year's end and every month.
    const start = Date.parse('2026-03-20T00:00:00Z');
    let before = shiftAt(calendar, start);
    let changes = 0;
    for (let hour = 1; hour <= 400 * 24; hour += 1) {
      const now = shiftAt(calendar, start + hour * 3_600_000);
      if (now === before) continue;
      expect(shiftAfter(before)).toBe(now);
      expect(shiftBefore(now)).toBe(before);
      before = now;
      changes += 1;
    }
    expect(changes).toBeGreaterThan(1199);
  });

  it('keep the night shift in the day on which it begins', () => {
    expect(dayOfShift('2026-02-28-night')).toBe('2026-02-28');
    expect(shiftAfter('2026-02-28-night')).toBe('2026-03-01-early');
    expect(isInPeriod('2026-02-28-night', '2026-02')).toBe(true);
    expect(isInPeriod('2026-02-28-night', '2026-03')).toBe(false);
    expect(isInPeriod('2026-02-28-night', '2026-02-28')).toBe(true);
  });
});
