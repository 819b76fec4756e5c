import { describe, expect, it } from 'vitest';
import { Keystrokes, readingIn } from './keystrokes.ts';

function type(
  keystrokes: Keystrokes,
  keys: readonly string[],
  gap: number,
): (string | undefined)[] {
  let timeStamp = 1000;
  return keys.map((key) => {
    timeStamp += gap;
    return keystrokes.take({ key, timeStamp, ctrlKey: false, altKey: false, metaKey: false });
  });
}

describe('Keystrokes', () => {
  it('takes a fast run that ends in Enter for one of a device', () => {
    expect(type(new Keystrokes(), [...'T-104', 'Enter'], 8).at(-1)).toBe('T-104');
  });

  it('takes capitals with their shift keys as one run', () => {
    const keys = ['Shift', 'M', '-', '7', 'Shift', 'A', 'Enter'];
    expect(type(new Keystrokes(), keys, 12).at(-1)).toBe('M-7A');
  });

  it('leaves the keystrokes of a hand alone', () => {
    expect(
      type(new Keystrokes(), [...'T-104', 'Enter'], 120).every((text) => text === undefined),
    ).toBe(true);
  });

  it('takes no run that may have lost its beginning', () => {
    const keystrokes = new Keystrokes();
    const press = (key: string, timeStamp: number) =>
      keystrokes.take({ key, timeStamp, ctrlKey: false, altKey: false, metaKey: false });
    press('5', 1000);
    // The device stammers: 056.1 alone would be another weight than 5056.1.
    const times = [1090, 1098, 1106, 1114, 1122, 1130];
    const answers = ['0', '5', '6', '.', '1', 'Enter'].map((key, index) =>
      press(key, times[index] ?? 0),
    );
    expect(answers.at(-1)).toBeUndefined();
    // After a pause the next run is a whole one again.
    const later = ['5', '0', '6', 'Enter'].map((key, index) => press(key, 9000 + index * 8));
    expect(later.at(-1)).toBe('506');
  });

  it('leaves a short run alone, and forgets what a shortcut interrupts', () => {
    expect(type(new Keystrokes(), ['4', '2', 'Enter'], 8).at(-1)).toBeUndefined();
    const keystrokes = new Keystrokes();
    type(keystrokes, [...'T-104'], 8);
    keystrokes.take({ key: 'c', timeStamp: 1048, ctrlKey: true, altKey: false, metaKey: false });
    expect(type(keystrokes, ['Enter'], 8)).toEqual([undefined]);
  });
});

describe('readingIn', () => {
  it('reads a number with or without its unit, keeping the digits', () => {
    expect(readingIn('622.30 g')).toEqual({ text: '622.30', unit: 'g' });
    expect(readingIn('+  0,450kg')).toEqual({ text: '0.450', unit: 'kg' });
    expect(readingIn('1810um')).toEqual({ text: '1810', unit: 'µm' });
    expect(readingIn('31.10')).toEqual({ text: '31.10', unit: undefined });
  });

  it('reads nothing from a code', () => {
    expect(readingIn('T-104')).toBeUndefined();
    expect(readingIn('12 oz')).toBeUndefined();
  });
});
