import { describe, expect, it } from 'vitest';
import { trialOfRegisters } from './registers-trial.ts';
import { drumBalance } from './trial-registers.ts';

/** The trial stands on 2026-03-02, so that ten years end on 2036-03-02. */
const inTime = '2036-03-02';
const late = '2036-03-03';

const berta = { person: 'berta', name: 'Berta Crane', roles: ['assayer'] };
const method = { method: 'cupellation', until: late };
const lot = { lot: 'L-1', reagent: 'acid', supplier: 'Depot', isTitrant: false };

const acts: readonly (readonly [string, string, object, string])[] = [
  [
    'an approval',
    'register-supplier',
    { supplier: 's', name: 'S', approvedUntil: late },
    'approvedUntil',
  ],
  ['an authorisation', 'enrol-person', { ...berta, methods: [method] }, 'methods.0.until'],
  [
    'a calibration',
    'register-instrument',
    { ...drumBalance, calibrationDue: late },
    'calibrationDue',
  ],
  ['a reagent', 'receive-reagent-lot', { ...lot, supplierLot: '1', expires: late }, 'expires'],
];

describe('a last day further ahead than anybody means', () => {
  it.each(acts)('is refused for %s', async (_what, command, input, field) => {
    const trial = await trialOfRegisters();
    expect(await trial.refused(command, input)).toMatchObject([
      { refusal: 'DayTooFarAhead', field, figures: { day: late, latest: inTime } },
    ]);
    const nearer = JSON.parse(JSON.stringify(input).replaceAll(late, inTime));
    expect(await trial.recorded(command, nearer)).toHaveLength(1);
  });

  it('is refused for reference material after thirty years', async () => {
    const trial = await trialOfRegisters();
    const silver = {
      referenceMaterial: 'RM-1',
      kind: 'fine silver',
      title: 'Fine silver one',
      metal: 'silver',
      certificate: 'Certificate 12',
      certified: [{ quantity: 'fineness', value: 999.7, unit: '‰', standardUncertainty: 0.005 }],
      received: { text: '5.000', unit: 'g', typed: true },
    };
    const receive = 'receive-reference-material';
    expect(await trial.refused(receive, { ...silver, validUntil: '2056-03-03' })).toMatchObject([
      { refusal: 'DayTooFarAhead', field: 'validUntil' },
    ]);
    await trial.recorded(receive, { ...silver, validUntil: '2056-03-02' });
  });
});
