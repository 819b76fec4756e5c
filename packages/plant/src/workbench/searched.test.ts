import { describe, expect, it } from 'vitest';
import { namedIn, searchedIn } from './searched.ts';

const all = [
  {
    value: 'cupellation',
    label: 'Fineness of gold',
    purpose: 'From cornets.',
    source: 'ISO 11426',
  },
  {
    value: 'titration',
    label: 'Fineness of silver',
    purpose: 'From volumes.',
    source: 'ISO 11427',
  },
];

describe('one of many', () => {
  it('is found by every word, wherever it stands and however it is written', () => {
    const found = (text: string) => searchedIn(all, text).map(({ value }) => value);
    expect(found('')).toEqual(['cupellation', 'titration']);
    expect(found('FINENESS volumes')).toEqual(['titration']);
    expect(found('11426')).toEqual(['cupellation']);
    expect(found('gold volumes')).toEqual([]);
  });

  it('is named by its whole label or id only', () => {
    expect(namedIn(all, 'fineness of gold ')?.value).toBe('cupellation');
    expect(namedIn(all, 'titration')?.value).toBe('titration');
    expect(namedIn(all, 'fineness')).toBeUndefined();
    expect(namedIn(all, '')).toBeUndefined();
  });
});
