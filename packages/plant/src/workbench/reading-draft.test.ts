import { describe, expect, it } from 'vitest';
import { emptyReading, measurementOf, originWords, readingOf, sentDraft } from './reading-draft.ts';

const sent = {
  reading: { text: '250.01', unit: 'mg', typed: false, received: 'a'.repeat(64) },
  instrument: 'BAL-1',
  net: false,
  raw: 'ST,+ 250.01 mg',
} as const;

describe('a reading in a field', () => {
  it('is nothing while it is empty', () => {
    expect(readingOf(emptyReading('g'))).toBeNull();
    expect(originWords(emptyReading('g'))).toBe('');
  });

  it('that came by a line is sent with its line, and with nothing that commands do not know', () => {
    expect(readingOf(sentDraft(sent))).toEqual(sent.reading);
    expect(originWords(sentDraft(sent))).toBe('as the instrument sent it: BAL-1');
    expect(originWords(sentDraft({ ...sent, net: true }))).toBe(
      'as the instrument sent it: BAL-1, net of a tare taken there',
    );
  });

  it('that came as keystrokes has no line, and one that was typed neither', () => {
    const keystrokes = { text: '1.5', unit: 'g', typed: false } as const;
    expect(readingOf(keystrokes)).toEqual(keystrokes);
    expect(originWords(keystrokes)).toBe('as the instrument sent it');
    const typed = { ...sentDraft(sent), text: 'about 3', typed: true };
    expect(readingOf(typed)).toEqual({ text: 'about 3', unit: 'mg', typed: true });
    expect(originWords(typed)).toBe('typed by hand');
  });

  it('fits every unit of its kind', () => {
    expect(['kg', 'g', 'mg'].map((unit) => measurementOf(unit as 'g'))).toEqual(
      Array(3).fill('mass'),
    );
    expect([measurementOf('mm'), measurementOf('µm')]).toEqual(['length', 'length']);
    expect(measurementOf('HV')).toBe('hardness');
  });
});
