import type { Reading } from '../../src/journal/reading.ts';
import type { Chance } from '../chance.ts';
import { makeGrains, section, sectionPhotograph, testLine } from './grains.ts';
import { hardnessTester, microscope } from './new-piece.ts';
import type { MeltAtWork, Scene } from './state.ts';

/** The hardness of the annealed blanks as it really is, and the force of the tester (HV 0.5). */
const trueHardness = 73;
const testForceNewtons = 4.903;

/** A pixel of the microscope on the metal, in micrometres. */
const micrometresPerPixel = 1.4;

/** A diagonal as it is read: the Vickers number is 0.1891 F/d², with d in millimetres. */
function diagonal(chance: Chance): Reading {
  const micrometres = 1000 * Math.sqrt((0.1891 * testForceNewtons) / trueHardness);
  return { text: chance.normal(micrometres, 0.7).toFixed(1), unit: 'µm', typed: true };
}

/** Hardness and grain size of the first blank for assay, where its piece sets limits to them. */
export async function examineMetal(scene: Scene, melt: MeltAtWork): Promise<void> {
  const { standard } = melt.truth;
  if (!('hardnessLeastVickers' in standard)) return;
  const examined = { melt: melt.truth.melt, blank: melt.assayBlanks[0] };
  const { hand, chance } = scene;
  await hand.do({
    by: 'wren',
    command: 'measure-hardness',
    input: {
      ...examined,
      instrument: hardnessTester.instrument,
      testForceNewtons,
      spacingGroup: 'light metals, lead and tin',
      forceRelativeStandardUncertaintyPercent: 0.5,
      diagonalStandardUncertaintyMicrometres: 0.6,
      indentations: ['A', 'B', 'C', 'D', 'E'].map((label) => ({
        label,
        first: diagonal(chance),
        second: diagonal(chance),
      })),
    },
    seconds: 400,
  });
  const grains = makeGrains(chance);
  const kept = await scene.attachments.keep(sectionPhotograph(grains));
  if (!kept.kept || kept.sha256 === undefined) throw new Error('a photograph was not kept');
  await hand.do({
    by: 'wren',
    command: 'examine-structure',
    input: {
      ...examined,
      instrument: microscope.instrument,
      photographSha256: kept.sha256,
      picture: { widthPixels: section.width, heightPixels: section.height },
      scale: { kind: 'stated', micrometresPerPixel },
      preparation: 'Embedded, ground and polished, etched in ammonia with hydrogen peroxide',
      lines: Array.from({ length: 14 }, (_, index) =>
        testLine(grains, `L${index + 1}`, 16 * (index + 1)),
      ),
    },
    seconds: 600,
  });
}
