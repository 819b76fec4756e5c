import { newSupplier, otter, people } from './cast.ts';
import { openLot } from './equip.ts';
import { dayAfter } from './founding.ts';
import type { Scene } from './state.ts';
import { titrationOfSilver } from './stated-methods.ts';

const instrument = (id: string, title: string, kind: string) => ({
  instrument: id,
  title,
  kind,
  place: 'laboratory',
  divisionGrams: null,
  repeatabilityGrams: null,
  gainRelative: null,
});

/** What the laboratory bought for the new piece. */
export const burette = instrument('BUR-1', 'Burette with silver electrode', 'burette');
export const hardnessTester = instrument(
  'HRD-1',
  'Hardness tester for small forces',
  'hardness tester',
);
export const microscope = instrument('MSC-1', 'Microscope of the laboratory', 'microscope');

/** Certified in the silver that the titrant is held against, and in the alloy that runs beside the portions. */
export const certifiedPure = { perMille: 999.98, standardUncertainty: 0.01 } as const;
export const certifiedAlloyPerMille = 925.14;

const material = (
  referenceMaterial: string,
  kind: string,
  of: { readonly title: string; readonly value: number; readonly standardUncertainty: number },
) => ({
  referenceMaterial,
  kind,
  title: of.title,
  metal: 'silver',
  certificate: `Certificate ${referenceMaterial.slice(3)} of Lindwater Reference Metals`,
  certified: [
    {
      quantity: 'fineness',
      value: of.value,
      unit: '‰',
      standardUncertainty: of.standardUncertainty,
    },
  ],
  received: { text: '20.000', unit: 'g', typed: true },
});

export const pureSilver = material('RM-S9999-1', 'pure silver', {
  title: 'Pure silver for titres, wire',
  value: certifiedPure.perMille,
  standardUncertainty: certifiedPure.standardUncertainty,
});
export const silverAlloy = material('RM-S925-3', 'silver alloy 925', {
  title: 'Silver alloy 925, chips',
  value: certifiedAlloyPerMille,
  standardUncertainty: 0.12,
});

/** The titrant: made in the laboratory, and held against pure silver before each run. */
export const titrant = {
  lot: 'KB-01',
  reagent: 'potassium bromide 0.1 mol/L',
  supplier: 'Made in the laboratory',
  supplierLot: 'Of salt FL 19-0330, dried at 110 °C',
  isTitrant: true,
} as const;

/** The plant takes up a new piece: its standard and supplier, and all that its assay needs. */
export async function takeUpNewPiece({ hand, equipment }: Scene): Promise<void> {
  if (!equipment) return;
  const { date } = equipment.today;
  const by = (person: 'orla' | 'tamsin') => (command: string, input: object) =>
    hand.do({ by: person, command, input, seconds: 20 });
  const [chief, assayer] = [by('orla'), by('tamsin')];
  await chief('register-piece-standard', otter);
  await chief('register-supplier', { ...newSupplier, approvedUntil: dayAfter(date, 300) });
  for (const one of [burette, hardnessTester, microscope]) {
    await chief('register-instrument', { ...one, calibrationDue: dayAfter(date, 200) });
  }
  await chief('state-method', titrationOfSilver);
  for (const { person, name, roles, methods } of people) {
    if (methods.length === 0) continue;
    const until = dayAfter(date, 330);
    const held = [...methods, 'titration'].map((method) => ({ method, until }));
    await chief('change-person', { person, name, roles, methods: held, active: true });
  }
  for (const one of [pureSilver, silverAlloy]) {
    await assayer('receive-reference-material', { ...one, validUntil: dayAfter(date, 500) });
  }
  await assayer('receive-reagent-lot', { ...titrant, expires: dayAfter(date, 120) });
  await openLot(hand, titrant.lot, date);
}
