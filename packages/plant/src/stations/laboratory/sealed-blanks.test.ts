import { describe, expect, it } from 'vitest';
import { laboratoryTrial, measure, reading, recorded, sampleMelt } from './laboratory-trial.ts';

describe('a blank that lies sealed in a portion', () => {
  it('is not cut, measured or returned before the portion is opened', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await sampleMelt(trial, 'N-1');
    recorded(await measure(trial, 'N-1', all));
    const [sealed = ''] = forAssay;
    const portion = {
      portion: 'P-1',
      for: 'plant',
      blanks: [sealed],
      gross: reading('8.01', 'g'),
      seal: 'Z-1',
      place: 'Shelf 1',
      keptUntil: null,
    };
    const sealing = { melt: 'N-1', portions: [portion], instrument: 'B-1' };
    recorded(await trial.do('seal-portions', sealing, 'inspector', 'custodian'));
    const refusal = { refusal: 'BlankInPortion', figures: { portion: 'P-1', state: 'sealed' } };
    const cutting = { melt: 'N-1', blanks: forAssay };
    expect(await trial.do('cut-blanks', cutting, 'assayer')).toMatchObject({
      refusals: [{ ...refusal, field: 'blanks.0' }],
    });
    expect(await measure(trial, 'N-1', [sealed])).toMatchObject({
      refusals: [refusal, { refusal: 'BlankAlreadyMeasured' }],
    });
    const gross = reading('8.01', 'g');
    const returning = { melt: 'N-1', blanks: [sealed], gross, instrument: 'B-1' };
    expect(await trial.do('return-blanks', returning, 'inspector', 'custodian')).toMatchObject({
      refusals: [refusal],
    });
    const opening = { portion: 'P-1', sealFound: 'Z-1', reason: 'A third determination.' };
    recorded(await trial.do('open-portion', opening, 'assayer', 'inspector'));
    recorded(await trial.do('cut-blanks', cutting, 'assayer'));
  });
});
