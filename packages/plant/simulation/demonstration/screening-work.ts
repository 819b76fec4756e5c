import type { Chance } from '../chance.ts';
import type { DemonstrationStandard } from './cast.ts';
import { screeningSpectrometer } from './laboratory-stock.ts';
import type { MeltAtWork, Scene } from './state.ts';

/** A melt whose first screening deviates: copper was smeared over the blank. */
const smearedMelt = 'FS-006';
const smearPerMille = -14;

/** The surfaces of gold are all looked at, those of silver now and then. */
const screenedSilver: readonly string[] = [smearedMelt, 'OS-002', 'FS-009'];

const readings = (perMille: number, chance: Chance): readonly number[] =>
  Array.from({ length: 4 }, () => Number(chance.normal(perMille, 0.4).toFixed(2)));

const matched = (standard: DemonstrationStandard) => ({
  label: `Matched ${standard.finenessLimitPerMille}`,
  certifiedFinenessPerMille: standard.finenessLimitPerMille,
  certifiedStandardUncertaintyPerMille: 0.2,
});

async function screen(
  scene: Scene,
  melt: MeltAtWork,
  of: { readonly chance: Chance; readonly smearPerMille: number },
): Promise<void> {
  const { standard, finenessPerMille, melt: id } = melt.truth;
  const reads = finenessPerMille + of.smearPerMille;
  await scene.hand.do({
    by: 'wren',
    command: 'screen-by-fluorescence',
    input: {
      melt: id,
      blank: melt.assayBlanks[0],
      instrument: screeningSpectrometer.instrument,
      pieceReadings: readings(reads, of.chance),
      standards: [
        { ...matched(standard), readings: readings(standard.finenessLimitPerMille, of.chance) },
      ],
      surfaceStandardUncertaintyPerMille: 1.5,
      confidencePercent: 99,
    },
    seconds: 30,
  });
}

/** Looks at the surface of one blank before it is cut; a deviation is answered before the assay. */
export async function screenSurface(scene: Scene, melt: MeltAtWork): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  const { chance } = equipment;
  const { melt: id, standard } = melt.truth;
  if (standard.metal === 'silver' && !screenedSilver.includes(id)) return;
  if (id === smearedMelt) {
    await screen(scene, melt, { chance, smearPerMille });
    await scene.hand.do({
      by: 'orla',
      command: 'answer-screening',
      input: {
        melt: id,
        finding: 'fault of the screening',
        reason: 'Copper of the drum was smeared over the blank; wiped and read again.',
      },
      seconds: 60,
    });
  }
  await screen(scene, melt, { chance, smearPerMille: 0 });
}
