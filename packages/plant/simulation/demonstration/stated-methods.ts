/** Cautions are reminders: the rules of the site, the law and trained people come first. */
const siteRules =
  'The rules of the site, local law and the data sheets go before every word here; only people trained for it do this work.';

const furnace =
  'Lead fumes are poisonous and molten lead burns: furnace only with its extraction running, face shield, heat gloves and closed shoes; nothing damp into a hot cupel.';

const partingAcid =
  'Nitric acid burns, and with metal it gives off brown poisonous gas: under the extraction, with goggles, gloves and apron; acid into water, never water into acid.';

/** How gold is found. */
export const cupellationOfGold = {
  method: 'cupellation-of-gold',
  title: 'Cupellation of gold alloys',
  assayMethod: 'cupellation',
  calculation: 'cupellation',
  scope: { metal: 'gold', leastPerMille: 333, greatestPerMille: 990 },
  determinationsAtLeast: 2,
  referenceMaterials: [{ by: 'kind', name: 'gold alloy 750', perRun: 1 }],
  greatestNormalizedError: 1,
  blanks: [],
  reagents: ['parting acid', 'inquartation silver'],
  cautions: [furnace, partingAcid, siteRules],
  notes: 'Portions of 250 mg in four foils of lead, cupelled beside two proofs and one reference.',
} as const;

/** How fine silver is found, with so many portions of its reference material in a run. */
export function differenceOfSilver(references: number, notes: string) {
  return {
    method: 'difference-of-silver',
    title: 'Fine silver by difference',
    assayMethod: 'fineness-by-difference',
    calculation: 'fineness-by-difference',
    scope: { metal: 'silver', leastPerMille: 998, greatestPerMille: 1000 },
    determinationsAtLeast: 2,
    referenceMaterials: [{ by: 'kind', name: 'fine silver', perRun: references }],
    greatestNormalizedError: 1,
    blanks: [
      { quantity: 'Cu', unit: 'mg/kg', greatest: 0.5 },
      { quantity: 'Fe', unit: 'mg/kg', greatest: 0.3 },
    ],
    reagents: ['nitric acid', 'argon'],
    cautions: [
      partingAcid,
      'Argon takes the place of air: bottles are chained, the room is aired, and nobody enters on an alarm.',
      siteRules,
    ],
    notes,
  };
}

export const oneReference = 'One portion of the reference material in every run.';
export const twoReferences =
  'Two portions of the reference material in every run, before and after the samples, since a run was void on its only one.';

const silverSolution =
  'Solutions of silver stain skin and blind eyes: goggles and gloves; they are collected, never poured away, and never brought together with ammonia.';

/** How the silver of alloys is found: the factor of the titrant comes from pure silver, on the day of the run. */
export const titrationOfSilver = {
  method: 'titration-of-silver',
  title: 'Silver alloys by potentiometric titration',
  assayMethod: 'titration',
  calculation: 'titration',
  scope: { metal: 'silver', leastPerMille: 800, greatestPerMille: 999 },
  determinationsAtLeast: 2,
  referenceMaterials: [{ by: 'kind', name: 'silver alloy 925', perRun: 1 }],
  greatestNormalizedError: 1,
  blanks: [],
  reagents: ['potassium bromide 0.1 mol/L'],
  greatestTitreAgeHours: 12,
  cautions: [partingAcid, silverSolution, siteRules],
  notes:
    'Portions of 325 mg after ISO 11427; the titre of the day stands for standards in the run.',
} as const;
