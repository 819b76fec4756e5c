import type { Chance } from '../chance.ts';
import type { Equipment } from './equipment.ts';
import { impuritiesOf } from './impurities.ts';
import { acidOnDay, certifiedGoldPerMille, certifiedSilver } from './laboratory-stock.ts';
import { weighMilligrams } from './readings.ts';

/** The first day on which a run of silver holds two portions of the reference material. */
const twoReferencesFrom = 8;

/** Controls of a run of gold, cupelled beside its portions with the same loss of the furnace. */
export function goldControls(
  { chance }: Equipment,
  cornet: (goldMilligrams: number, chance: Chance) => ReturnType<typeof weighMilligrams>,
) {
  const portion = 250 + chance.normal(0, 0.4);
  return {
    references: [
      {
        label: 'R1',
        referenceMaterial: 'RM-G750-2',
        taken: weighMilligrams(portion, chance),
        cornet: cornet((portion * certifiedGoldPerMille) / 1000, chance),
      },
    ],
    reagentLots: ['PA-07', 'IS-03'],
  };
}

/** A reference portion of fine silver; in a spoiled one copper came from a vessel. */
function silverReference(chance: Chance, label: string, isSpoiled: boolean) {
  const found = impuritiesOf(certifiedSilver.finenessPerMille, chance);
  const dirty = found.map((one) =>
    isSpoiled && one.element === 'Cu'
      ? {
          ...one,
          contentMilligramsPerKilogram: Number(
            ((one.contentMilligramsPerKilogram ?? 0) + 17.4).toFixed(2),
          ),
        }
      : one,
  );
  return {
    label,
    referenceMaterial: 'RM-S999-5',
    taken: weighMilligrams(500 + chance.normal(0, 0.8), chance),
    impurities: dirty,
  };
}

const blankOf = (label: string, quantity: string, value: number) => ({
  label,
  quantity,
  unit: 'mg/kg',
  value: Number(Math.max(0, value).toFixed(3)),
});

/** Controls of a run of silver; the reference of a spoiled run fails. */
export function silverControls({ chance, today }: Equipment, isSpoiled: boolean) {
  const labels = today.day >= twoReferencesFrom ? ['R1', 'R2'] : ['R1'];
  return {
    references: labels.map((label) => silverReference(chance, label, isSpoiled)),
    blanks: [
      blankOf('N1', 'Cu', chance.normal(0.14, 0.03)),
      blankOf('N2', 'Fe', chance.normal(0.06, 0.015)),
    ],
    reagentLots: [acidOnDay(today.day), 'AR-21'],
  };
}
