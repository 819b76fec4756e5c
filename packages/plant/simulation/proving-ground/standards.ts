import { boxAgainstTubes, countByWeight } from '@cupel/calculation';
import { type DemonstrationStandard, heron, lantern } from '../demonstration/cast.ts';
import { balances, instruments } from '../demonstration/instruments.ts';
import type { PlantSize } from './ground.ts';

/** The piece standards of the plant, with containers of its size. */
export type Standards = readonly DemonstrationStandard[];

/** The containers of a larger tube and box are heavier in proportion. */
function filled(standard: typeof heron | typeof lantern, size: PlantSize): DemonstrationStandard {
  const { piecesPerTube = standard.piecesPerTube, tubesPerBox = standard.tubesPerBox } = size;
  const tubes = piecesPerTube / standard.piecesPerTube;
  const boxes = (tubes * tubesPerBox) / standard.tubesPerBox;
  return {
    ...standard,
    piecesPerTube,
    tubesPerBox,
    tubeTareGrams: standard.tubeTareGrams * tubes,
    tubeTareStandardDeviationGrams: standard.tubeTareStandardDeviationGrams * tubes,
    boxTareGrams: standard.boxTareGrams * boxes,
    boxTareStandardDeviationGrams: standard.boxTareStandardDeviationGrams * boxes,
  };
}

export function standardsOf(size: PlantSize): Standards {
  return [filled(heron, size), filled(lantern, size)];
}

export function standardNamed(standards: Standards, name: string): DemonstrationStandard {
  const found = standards.find(({ pieceStandard }) => pieceStandard === name);
  if (!found) throw new RangeError(`there is no piece standard ${name}`);
  return found;
}

/** Declared relative uncertainty of span of a balance. */
function gainOf(name: 'tubes' | 'boxes'): number {
  const { instrument } = balances[name];
  return instruments.find((one) => one.instrument === instrument)?.gainRelative ?? 0;
}

/** What the balances can prove of the containers of a standard. */
interface Provable {
  readonly pieceStandard: string;
  readonly piecesPerTube: number;
  readonly tubesPerBox: number;
  /** The most pieces in a tube whose count the tube balance proves, as the record judges it. */
  readonly mostPieces: number;
  readonly isTubeProvable: boolean;
  readonly isBoxProvable: boolean;
}

/** Asks the calculations that the record itself asks, with a weighing that is right to the gram. */
export function provable(standard: DemonstrationStandard): Provable {
  const { tubes, boxes } = balances;
  const pieceMassGrams = standard.massDeclaredMilligrams / 1000;
  const netGrams = standard.piecesPerTube * pieceMassGrams;
  const count = countByWeight({
    nominalPieces: standard.piecesPerTube,
    pieceMassGrams,
    pieceStandardDeviationGrams: standard.pieceStandardDeviationMilligrams / 1000,
    lotStandardDeviationGrams: standard.lotStandardDeviationMilligrams / 1000,
    referencePieces: standard.referencePieces,
    gainRelative: gainOf('tubes'),
    tareStandardDeviationGrams: tubes.repeatabilityGrams,
    repeatabilityGrams: tubes.repeatabilityGrams,
    divisionGrams: tubes.divisionGrams,
    readingsTaken: 2,
    netReadingsGrams: [netGrams],
    priorMiscountProbability: standard.priorMiscountProbability,
    badWeighingProbability: standard.badWeighingProbability,
    badWeighingSpreadGrams: standard.badWeighingSpreadGrams,
  });
  const grossGrams = netGrams + standard.tubeTareGrams;
  const box = boxAgainstTubes({
    tubeGrossGrams: Array.from({ length: standard.tubesPerBox }, () => grossGrams),
    boxGrossGrams: standard.tubesPerBox * grossGrams + standard.boxTareGrams,
    boxTareGrams: standard.boxTareGrams,
    pieceMassGrams,
    weighing: {
      tubeRepeatabilityGrams: tubes.repeatabilityGrams,
      tubeDivisionGrams: tubes.divisionGrams,
      boxTareStandardDeviationGrams: boxes.repeatabilityGrams,
      boxRepeatabilityGrams: boxes.repeatabilityGrams,
      boxDivisionGrams: boxes.divisionGrams,
      gainRelativeEachScale: Math.max(gainOf('tubes'), gainOf('boxes')),
    },
  });
  return {
    pieceStandard: standard.pieceStandard,
    piecesPerTube: standard.piecesPerTube,
    tubesPerBox: standard.tubesPerBox,
    mostPieces: count.largestProvableCount.atRiskOneInThousand,
    isTubeProvable: count.verdict === 'proved',
    isBoxProvable: box.verdict !== 'cannot-prove',
  };
}

/** Why a plant with such containers could not prove what it fills; nothing where it can. */
export function unprovable(size: PlantSize): readonly string[] {
  return standardsOf(size)
    .map(provable)
    .flatMap((of) => {
      const { pieceStandard, piecesPerTube, tubesPerBox, mostPieces } = of;
      const tube = `the tube balance cannot prove ${piecesPerTube} pieces of ${pieceStandard} in one tube; it proves up to ${mostPieces}`;
      const box = `the box balance cannot see one piece of ${pieceStandard} leave a box of ${tubesPerBox} tubes of ${piecesPerTube}`;
      return [...(of.isTubeProvable ? [] : [tube]), ...(of.isBoxProvable ? [] : [box])];
    });
}
