import { describe, expect, it } from 'vitest';
import { instrumentsInUse } from './instruments-in-use.ts';

const one = (instrument: string, kind: string, outOfUse: string | null) => ({
  instrument,
  title: `Instrument ${instrument}`,
  kind,
  calibrationDue: '2026-02-28',
  outOfUse,
});

describe('the instruments that a page offers', () => {
  it('are those of its kinds whose readings count; of the others it says why they do not', () => {
    const instruments = [
      one('B-1', 'balance', 'B-1 is not in use: its calibration was due on 2026-02-28.'),
      one('B-2', 'balance', null),
      one('B-3', 'balance', 'B-3 is stopped. Greatest error 3 mg; the limit is 1 mg.'),
      one('M-1', 'micrometer', null),
    ];
    const { fit, others } = instrumentsInUse(instruments, ['balance']);
    expect(fit.map(({ instrument }) => instrument)).toEqual(['B-2']);
    expect(others).toBe(
      'B-1 is not in use: its calibration was due on 2026-02-28. B-3 is stopped. Greatest error 3 mg; the limit is 1 mg.',
    );
    expect(instrumentsInUse(instruments, ['micrometer']).others).toBeUndefined();
  });
});
