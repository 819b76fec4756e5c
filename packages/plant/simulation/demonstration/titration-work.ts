import { calculationById, type EndPointOutput, runCalculation } from '@cupel/calculation';
import { endPointInputOf } from '../../src/stations/laboratory/titration/confirm-end-point.ts';
import type { Chance } from '../chance.ts';
import { firstEntryOf } from './equipment.ts';
import { titratedGrams } from './laboratory-metal-work.ts';
import {
  burette,
  certifiedAlloyPerMille,
  certifiedPure,
  pureSilver,
  silverAlloy,
  titrant,
} from './new-piece.ts';
import { weighMilligrams } from './readings.ts';
import { type MeltAtWork, nextNumber, type Scene } from './state.ts';

const molesPerLitre = 0.1;
/** Silver that a millilitre of the bottle really takes: a little less than its making says, in mg. */
const trueFactor = 10.78682 * 0.9994;
const startVolumeMillilitres = 100;
/** Of silver bromide, rounded. */
const solubilityProduct = 5e-13;

/** How well the burette delivers, and what the potential scatters by. */
const buretteMillilitres = 0.005;
const potentialMillivolts = 0.15;

const method = {
  kind: 'precipitation curve',
  startVolumeMillilitres,
  electrode: { kind: 'fitted' },
} as const;

/** Potential of a silver electrode by the equation of Nernst, so far before or after the end point. */
function potentialAt(volume: number, endPoint: number): number {
  const excess = (molesPerLitre * (endPoint - volume)) / (startVolumeMillilitres + volume);
  const root = Math.sqrt(excess * excess + 4 * solubilityProduct);
  // After the end point the difference of two near numbers is taken by its conjugate.
  const silver = excess > 0 ? (excess + root) / 2 : (2 * solubilityProduct) / (root - excess);
  return 500 + 59.16 * Math.log10(silver);
}

/** Where the titrator reads: closer the nearer it comes to the jump. */
const places = [
  -8, -5, -3, -2, -1.2, -0.7, -0.4, -0.2, -0.1, -0.04, 0.03, 0.1, 0.2, 0.4, 0.9, 2, 4,
];

/** A vessel of so much silver as it was titrated; the assayer confirms the end point that is found. */
function titrated(silverMilligrams: number, minutes: number, chance: Chance) {
  const endPoint = silverMilligrams / trueFactor + chance.normal(0, 0.003);
  const curve = places.map((place) => {
    const volumeMillilitres = Number((endPoint + place).toFixed(3));
    const potential = potentialAt(volumeMillilitres, endPoint);
    const shown = Number(chance.normal(potential, potentialMillivolts).toFixed(1));
    return { volumeMillilitres, potentialMillivolts: shown };
  });
  const settings = { method, buretteStandardUncertaintyMillilitres: buretteMillilitres };
  const result = runCalculation(calculationById('end-point'), endPointInputOf(curve, settings));
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.problems));
  const found = (result.output as EndPointOutput).endPointMillilitres;
  return {
    minutes,
    curve,
    origin: 'file' as const,
    fileName: 'titrator.csv',
    endPointConfirmedMillilitres: found,
  };
}

/** The factor of the bottle, against pure silver before the run. */
async function determineTitre({ hand, chance }: Scene, assayRun: string): Promise<void> {
  const standards = [0, 12, 24].map((minutes, index) => {
    const silver = 300 + chance.normal(0, 0.8);
    const pure = (silver * certifiedPure.perMille) / 1000;
    return {
      label: `T${index + 1}`,
      minutes,
      silver: weighMilligrams(silver, chance),
      volumeMillilitres: Number((pure / trueFactor + chance.normal(0, 0.004)).toFixed(3)),
    };
  });
  await hand.do({
    by: 'tamsin',
    command: 'determine-titre',
    input: {
      assayRun,
      lot: titrant.lot,
      referenceMaterial: pureSilver.referenceMaterial,
      standards,
      blankMillilitres: 0.004,
      blankStandardUncertaintyMillilitres: 0.002,
      drift: 'none',
      volumeStandardUncertaintyMillilitres: buretteMillilitres,
      instrument: 'BAL-L1',
    },
    seconds: 2400,
  });
}

/** Titrates a melt by the factor of the day, with a portion of the reference alloy beside its own. */
export async function titrate(scene: Scene, melt: MeltAtWork): Promise<void> {
  const { hand, chance, equipment } = scene;
  const titre = nextNumber(scene, 'TF-', 4);
  await determineTitre(scene, titre);
  const portion = (finenessPerMille: number, minutes: number) => {
    const milligrams = 1000 * titratedGrams + chance.normal(0, 0.8);
    const silver = (milligrams * finenessPerMille) / 1000;
    return {
      mass: weighMilligrams(milligrams, chance),
      vessel: titrated(silver, minutes, chance),
    };
  };
  const samples = melt.assayBlanks.map((blank, index) => {
    const { mass, vessel } = portion(melt.truth.finenessPerMille, 14 * (index + 1));
    return { label: `A${index + 1}`, blank, sample: mass, ...vessel };
  });
  const { mass, vessel } = portion(certifiedAlloyPerMille, 0);
  const { referenceMaterial } = silverAlloy;
  const recorded = await hand.do({
    by: 'tamsin',
    command: 'record-titration',
    input: {
      assayRun: nextNumber(scene, 'TI-', 4),
      melt: melt.truth.melt,
      titrant: titrant.lot,
      halide: 'bromide',
      titrantMolesPerLitre: molesPerLitre,
      method,
      titre,
      buretteStandardUncertaintyMillilitres: buretteMillilitres,
      reagentBlank: {
        kind: 'stated',
        volumeMillilitres: 0.004,
        standardUncertaintyMillilitres: 0.002,
      },
      samples,
      references: [{ label: 'R1', referenceMaterial, taken: mass, ...vessel }],
      balance: 'BAL-L1',
      instrument: burette.instrument,
      reagentLots: [titrant.lot],
    },
    seconds: 3000,
  });
  equipment?.runs.push({
    melt: melt.truth.melt,
    entry: firstEntryOf(recorded),
    reagentLots: [titrant.lot],
  });
}
