import type { Outcome } from '../../../journal/recorder.ts';
import type { Station } from '../../../journal/station.ts';
import type { Trial } from '../../../journal/trial.ts';
import { reading, recorded } from '../laboratory-trial.ts';
import { standardMillilitres, titrationOf, titrationTrial } from './titration-trial.ts';

const titrant = (lot: string) => ({
  lot,
  reagent: 'potassium bromide 0.1 mol/L',
  supplier: 'Made here',
  supplierLot: 'Of salt dried at 110 °C',
  expires: '2026-06-30',
  isTitrant: true,
});

/** An invented reference material of pure silver, enough for some titres. */
const pureSilver = {
  referenceMaterial: 'RM-AG-9',
  kind: 'pure silver',
  title: 'Pure silver nine',
  metal: 'silver',
  certificate: 'Certificate 31 of an invented maker',
  certified: [{ quantity: 'fineness', value: 999.99, unit: '‰', standardUncertainty: 0.01 }],
  received: reading('50.000', 'g'),
  validUntil: '2026-12-31',
};

/** A laboratory that titrates, with two open lots of titrant and pure silver to titre them. */
export async function titreTrial(downstream: readonly Station[] = []): Promise<Trial> {
  const trial = await titrationTrial(downstream);
  recorded(await trial.do('receive-reference-material', pureSilver, 'assayer'));
  for (const lot of ['KBR-12', 'KBR-13']) {
    recorded(await trial.do('receive-reagent-lot', titrant(lot), 'assayer'));
    recorded(await trial.do('open-reagent-lot', { lot, expires: '2026-06-30' }, 'assayer'));
  }
  return trial;
}

/** Three standards of 300 mg that take what 0.1 mol/L answers for. */
export function titre(trial: Trial, assayRun: string, change: object = {}): Promise<Outcome> {
  const standards = [0, 10, 20].map((minutes, index) => ({
    label: `N${index + 1}`,
    minutes,
    silver: reading('300.000', 'mg'),
    volumeMillilitres: standardMillilitres + (index - 1) * 0.002,
  }));
  const input = {
    assayRun,
    lot: 'KBR-12',
    referenceMaterial: 'RM-AG-9',
    standards,
    blankMillilitres: 0,
    blankStandardUncertaintyMillilitres: 0.001,
    drift: 'none',
    volumeStandardUncertaintyMillilitres: 0.002,
    instrument: 'B-1',
    ...change,
  };
  return trial.do('determine-titre', input, 'assayer');
}

/** A run whose factor is that of a titre: no standards, and nothing stated of their silver. */
export function runByTitre(
  run: Parameters<typeof titrationOf>[0] & { readonly titre: string },
): object {
  const {
    standards: _standards,
    drift: _drift,
    silverFinenessPerMille: _fineness,
    silverStandardUncertaintyPerMille: _uncertainty,
    ...stated
  } = titrationOf(run);
  return { ...stated, titre: run.titre };
}
