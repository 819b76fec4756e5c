import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineSplitter, pauseMilliseconds, settleMilliseconds } from './line-splitter.ts';

const bytes = (text: string) => Buffer.from(text, 'latin1');

/** A splitter on a line that was opened at 0 and quiet since. */
function quietLine(): LineSplitter {
  const splitter = new LineSplitter();
  splitter.opened(0);
  return splitter;
}
const later = settleMilliseconds + 1;

describe('a line', () => {
  it('is whole however it is cut on its way', () => {
    const sent = 'ST,+12.3456 g\r\nUS,+1\rUS,+2\n\r';
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1 }), (cuts) => {
        const splitter = quietLine();
        const lines: unknown[] = [];
        let at = 0;
        for (let index = 0; at < sent.length; index += 1) {
          const length = cuts[index % cuts.length] ?? 1;
          lines.push(...splitter.take(bytes(sent.slice(at, at + length)), later + index));
          at += length;
        }
        expect(lines).toEqual([
          { raw: 'ST,+12.3456 g', isWhole: true },
          { raw: 'US,+1', isWhole: true },
          { raw: 'US,+2', isWhole: true },
        ]);
      }),
      { seed: 4003, numRuns: 200 },
    );
  });

  it('keeps every byte as one character', () => {
    const [line] = quietLine().take(Buffer.from([0x31, 0xb5, 0x6d, 0xff, 0x0d, 0x0a]), later);
    expect(line).toEqual({ raw: '1\u00b5m\u00ff', isWhole: true });
  });

  it('is not whole when it comes at once after opening, nor is the one it lies in', () => {
    const splitter = quietLine();
    // The tail of 12.34, then a line kept for us from before the line was opened, then the next one.
    expect(splitter.take(bytes('2.34\r\n5.6\r\n'), 10)).toEqual([
      { raw: '2.34', isWhole: false },
      { raw: '5.6', isWhole: false },
    ]);
    expect(splitter.take(bytes('7.8\r\n'), later)).toEqual([{ raw: '7.8', isWhole: true }]);
  });

  it('is not whole when its beginning came while the line settled', () => {
    const splitter = quietLine();
    expect(splitter.take(bytes('2.3'), settleMilliseconds - 1)).toEqual([]);
    expect(splitter.take(bytes('4\r\n5\r\n'), later)).toEqual([
      { raw: '2.34', isWhole: false },
      { raw: '5', isWhole: true },
    ]);
  });

  it('is not whole when it paused: what came after may be the end of another line', () => {
    const splitter = quietLine();
    splitter.take(bytes('12'), later);
    const after = later + pauseMilliseconds + 1;
    expect(splitter.take(bytes('22.34\r\n1.5\r\n'), after)).toEqual([
      { raw: '1222.34', isWhole: false },
      { raw: '1.5', isWhole: true },
    ]);
  });

  it('without an end does not grow for ever and is no line', () => {
    const splitter = quietLine();
    for (let time = 0; time < 1000; time += 1) {
      expect(splitter.take(bytes('x'.repeat(300)), later + time)).toEqual([]);
    }
    const [line] = splitter.take(bytes('\r\n'), later + 1000);
    expect(line?.isWhole).toBe(false);
    expect(line?.raw.length).toBe(200);
  });
});
