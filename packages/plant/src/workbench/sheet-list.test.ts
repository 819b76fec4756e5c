import { describe, expect, it } from 'vitest';
import { groupsOf, pageOfSheets } from './sheet-list.ts';

const line = (thing: string, keptAt: string, change: object = {}) => ({
  person: 'ada',
  name: 'Ada',
  command: 'record-cupellation',
  title: 'Record cupellation run',
  thing,
  keptAt,
  isOwn: true,
  ...change,
});

describe('the half-filled sheets that are kept', () => {
  it('stand together where they belong to one piece of work', () => {
    const groups = groupsOf([
      line('M-1 0', '2026-03-02T07:00:00.000Z'),
      line('M-1 0 controls', '2026-03-02T07:05:00.000Z'),
      line('M-2 0', '2026-03-02T07:06:00.000Z'),
      line('M-1 0', '2026-03-02T07:07:00.000Z', { person: 'bo', name: 'Bo', isOwn: false }),
    ]);
    expect(
      groups.map(({ name, thing, keptAt, sheets }) => [name, thing, keptAt, sheets.length]),
    ).toEqual([
      ['Ada', 'M-1', '2026-03-02T07:05:00.000Z', 2],
      ['Ada', 'M-2', '2026-03-02T07:06:00.000Z', 1],
      ['Bo', 'M-1', '2026-03-02T07:07:00.000Z', 1],
    ]);
  });

  it('lead to the page that fills them, where there is one', () => {
    const screens = [
      { path: '/laboratory' as const },
      { path: '/laboratory/melts/$melt' as const, sheets: ['record-cupellation'] },
    ];
    const [group] = groupsOf([line('M/1 0', '2026-03-02T07:00:00.000Z')]);
    if (!group) throw new RangeError('no group');
    expect(pageOfSheets(screens, group)).toBe('/laboratory/melts/M%2F1');
    expect(pageOfSheets([], group)).toBeUndefined();
  });
});
