import { describe, expect, it } from 'vitest';
import { draft } from '../../../journal/station.ts';
import { trialOfRegisters } from '../registers-trial.ts';
import { draftReferenceMaterialUsed, ReferenceMaterialUsed } from './entries.ts';

/** An invented reference material. */
const silver = {
  referenceMaterial: 'RM-1',
  kind: 'fine silver',
  title: 'Fine silver one',
  metal: 'silver',
  certificate: 'Certificate 12',
  attachmentSha256: 'a'.repeat(64),
  certified: [{ quantity: 'fineness', value: 999.7, unit: '‰', standardUncertainty: 0.005 }],
  received: { text: '5.000', unit: 'g', typed: true },
  validUntil: '2026-12-31',
};

const names = (refusals: readonly { refusal: string }[]) => refusals.map((one) => one.refusal);

describe('a reference material', () => {
  it('is received with its certificate and mass, and retired with a reason', async () => {
    const trial = await trialOfRegisters();
    const receive = 'receive-reference-material';
    expect(await trial.recorded(receive, silver, 'assayer')).toEqual([
      { kind: 'ReferenceMaterialReceived', body: silver },
    ]);
    expect(names(await trial.refused(receive, silver))).toEqual([
      'ReferenceMaterialAlreadyReceived',
    ]);
    const retire = { referenceMaterial: 'RM-1', reason: 'The bottle broke.' };
    await trial.recorded('retire-reference-material', retire);
    expect(names(await trial.refused('retire-reference-material', retire))).toEqual([
      'ReferenceMaterialRetired',
    ]);
    const none = { ...retire, referenceMaterial: 'NONE' };
    expect(names(await trial.refused('retire-reference-material', none))).toEqual([
      'ReferenceMaterialUnknown',
    ]);
    expect(await trial.ask('reference-materials', {}, 'auditor')).toMatchObject({
      referenceMaterials: [
        { massRemainingMicrograms: 5_000_000, retired: { reason: 'The bottle broke.' } },
      ],
    });
    expect(
      await trial.ask('reference-material', { referenceMaterial: 'RM-1' }, 'auditor'),
    ).toMatchObject({ row: { uses: 0 }, uses: [] });
    expect(await trial.ask('reference-material', { referenceMaterial: 'X' }, 'auditor')).toBeNull();
  });

  it('is certified in ‰ for a fineness and in mg/kg for an element, each once', async () => {
    const trial = await trialOfRegisters();
    const refused = async (certified: readonly object[]) =>
      (await trial.refused('receive-reference-material', { ...silver, certified }))[0]?.field;
    const [fineness] = silver.certified;
    expect(await refused([{ ...fineness, unit: 'mg/kg' }])).toBe('certified.0.unit');
    expect(await refused([{ ...fineness, quantity: 'Xx' }])).toBe('certified.0.quantity');
    expect(await refused([{ ...fineness, standardUncertainty: 0 }])).toBe(
      'certified.0.standardUncertainty',
    );
    expect(await refused([{ ...fineness }, { ...fineness }])).toBe('certified');
  });

  it('is certified within what a metal can be: no slip of the point, no exchanged figures', async () => {
    const trial = await trialOfRegisters();
    const refused = async (change: object) => {
      const certified = [{ ...silver.certified[0], ...change }];
      return (await trial.refused('receive-reference-material', { ...silver, certified }))[0];
    };
    expect(await refused({ value: 9997 })).toMatchObject({
      field: 'certified.0.value',
      figures: { value: 9997, accepted: 'at most 1000 ‰, which is the whole metal' },
    });
    expect(await refused({ value: 0.005, standardUncertainty: 999.7 })).toMatchObject({
      field: 'certified.0.standardUncertainty',
    });
    const copper = { quantity: 'Cu', unit: 'mg/kg' };
    expect(await refused({ ...copper, value: 1_000_001 })).toMatchObject({
      field: 'certified.0.value',
    });
    expect(await refused({ ...copper, value: 3, standardUncertainty: 30 })).toMatchObject({
      figures: { accepted: 'a standard uncertainty of at most 3 mg/kg beside this value' },
    });
    const none = [{ ...copper, value: 0, standardUncertainty: 0.2 }];
    await trial.recorded('receive-reference-material', { ...silver, certified: none });
  });

  it('is drawn on by an entry of its own', () => {
    const body = { referenceMaterial: 'RM-1', massMicrograms: 500_000, usedFor: 'D-1' };
    expect(draftReferenceMaterialUsed(body)).toEqual(draft(ReferenceMaterialUsed, body));
  });
});
