import {
  badWeighingProbability,
  type ContainerReading,
  compareSiblings,
  weighingRatio,
  weighingRatioWithTare,
  wrongTareProbability,
} from '@cupel/calculation';
import type { TubeRow } from '../put-up/index.ts';
import type { PieceStandard } from '../registers/index.ts';
import type { LookAgain } from './look-again.ts';
import { probabilityWords } from './probability-words.ts';

/** A weighed tube as evidence: where its mass lies and where its siblings say that it should. */
export interface TubeEvidence {
  readonly tube: string;
  readonly pieces: number;
  /** Whether its weight proved the label, so that a tally took the label on trust. */
  readonly isProved: boolean;
  readonly netGrams: number;
  readonly reading: ContainerReading;
  readonly weighings: number;
  /** Entry of the newest weighing. */
  readonly weighedEntry: number;
  /** Mean mass of an empty tube that was taken off; 0 where the tube itself was weighed empty. */
  readonly storedTareGrams: number;
  /** What each weighing draws anew. */
  readonly repeatStandardUncertaintyGrams: number;
}

/** A balance as evidence needs it. */
export interface EvidenceBalance {
  readonly repeatabilityGrams: number;
  readonly divisionGrams: number;
  readonly gainRelative: number;
}

/** The mean piece mass assumed before the siblings correct it: the declared mass. */
const nominalGrams = (standard: PieceStandard): number => standard.massDeclaredMilligrams / 1000;

function deviationOf(tube: TubeRow, standard: PieceStandard): { mean: number; deviation: number } {
  const nets = tube.readings.map(({ netMicrograms }) => netMicrograms / 1e6);
  const mean = nets.reduce((sum, net) => sum + net, 0) / nets.length;
  return { mean, deviation: mean - tube.pieces * nominalGrams(standard) };
}

/** Standard uncertainty of one weighing by itself. */
const repeatUncertainty = (balance: EvidenceBalance): number =>
  Math.hypot(balance.repeatabilityGrams, balance.divisionGrams / Math.sqrt(12));

/** Standard uncertainty of a tube's mass from what it does not share with its siblings. */
function ownUncertainty(tube: TubeRow, standard: PieceStandard, balance: EvidenceBalance): number {
  const weighings = tube.readings.length;
  const tare = tube.readings.every(({ isTareWeighed }) => isTareWeighed)
    ? balance.repeatabilityGrams
    : standard.tubeTareStandardDeviationGrams;
  const pieces = Math.sqrt(tube.pieces) * (standard.pieceStandardDeviationMilligrams / 1000);
  return Math.hypot(pieces, tare, repeatUncertainty(balance) / Math.sqrt(weighings));
}

/** Per piece, what all tubes of a melt on one balance share: lot mean about the declared mass, and span. */
function sharedPerPiece(standard: PieceStandard, balance: EvidenceBalance): number {
  const spread = (standard.massGreatestMilligrams - standard.massLeastMilligrams) / 1000;
  const lot = Math.hypot(standard.lotStandardDeviationMilligrams / 1000, spread / Math.sqrt(12));
  return Math.max(1e-9, Math.hypot(lot, balance.gainRelative * nominalGrams(standard)));
}

function evidenceOfSiblings(
  tubes: readonly TubeRow[],
  standard: PieceStandard,
  balance: EvidenceBalance,
): readonly TubeEvidence[] {
  const shared = sharedPerPiece(standard, balance);
  const containers = tubes.map((tube) => ({
    pieces: tube.pieces,
    deviationGrams: deviationOf(tube, standard).deviation,
    standardUncertaintyGrams: ownUncertainty(tube, standard, balance),
  }));
  const odd = {
    probability: standard.badWeighingProbability + 2 * standard.priorMiscountProbability,
    spreadGrams: Math.max(standard.badWeighingSpreadGrams, nominalGrams(standard)),
  };
  const predictions =
    containers.length < 2
      ? containers.map((one) => ({
          predictedGrams: 0,
          standardUncertaintyGrams: Math.hypot(one.standardUncertaintyGrams, one.pieces * shared),
        }))
      : compareSiblings(containers, { sharedPerPieceGrams: shared, odd });
  return tubes.map((tube, at) => ({
    tube: tube.tube,
    pieces: tube.pieces,
    isProved: tube.state === 'proved' || tube.state === 'packed',
    netGrams: deviationOf(tube, standard).mean,
    weighings: tube.readings.length,
    weighedEntry: tube.readings.at(-1)?.entry ?? 0,
    storedTareGrams: tube.readings.some(({ isTareWeighed }) => isTareWeighed)
      ? 0
      : standard.tubeTareGrams,
    repeatStandardUncertaintyGrams: repeatUncertainty(balance),
    reading: {
      deviationGrams: containers[at]?.deviationGrams ?? 0,
      predictedGrams: predictions[at]?.predictedGrams ?? 0,
      standardUncertaintyGrams: predictions[at]?.standardUncertaintyGrams ?? 1,
    },
  }));
}

/** The tubes of a period as evidence, each foretold from the others of its melt on the same balance. */
export function tubeEvidence(
  tubes: readonly TubeRow[],
  standard: PieceStandard,
  balances: ReadonlyMap<string, EvidenceBalance>,
): readonly TubeEvidence[] {
  const siblings = Map.groupBy(
    tubes,
    ({ melt, readings }) => `${melt}\n${readings.at(-1)?.instrument ?? ''}`,
  );
  return [...siblings.values()].flatMap((group) => {
    const balance = balances.get(group[0]?.readings.at(-1)?.instrument ?? '');
    return balance ? evidenceOfSiblings(group, standard, balance) : [];
  });
}

const badOf = (standard: PieceStandard) => ({
  probability: standard.badWeighingProbability,
  spreadGrams: standard.badWeighingSpreadGrams,
});

const faultsOf = (evidence: TubeEvidence, standard: PieceStandard, wrongTareRate: number) => ({
  bad: badOf(standard),
  tare: { probability: wrongTareRate, tareGrams: evidence.storedTareGrams },
});

/** How much better so many pieces more or less explain the weighing. */
export function ratioOf(
  evidence: TubeEvidence,
  pieces: number,
  of: { readonly standard: PieceStandard; readonly wrongTareRate: number },
): number {
  const { standard, wrongTareRate } = of;
  const change = { pieces, pieceMassGrams: nominalGrams(standard) };
  return evidence.storedTareGrams > 0
    ? weighingRatioWithTare(evidence.reading, change, faultsOf(evidence, standard, wrongTareRate))
    : weighingRatio(evidence.reading, change, badOf(standard));
}

/** Probability that the stored tare was left out or taken twice, while the count is right. */
export function wrongTareOf(
  evidence: TubeEvidence,
  of: { readonly standard: PieceStandard; readonly wrongTareRate: number },
): number {
  const { standard, wrongTareRate } = of;
  if (evidence.storedTareGrams <= 0) return 0;
  const change = { pieces: 0, pieceMassGrams: nominalGrams(standard) };
  return wrongTareProbability(
    evidence.reading,
    change,
    faultsOf(evidence, standard, wrongTareRate),
  );
}

/** A tube weighed once more, before it is. */
export function weighedAgain(evidence: TubeEvidence, standard: PieceStandard): LookAgain {
  const { reading, weighings, repeatStandardUncertaintyGrams } = evidence;
  const fresh = repeatStandardUncertaintyGrams / Math.sqrt(weighings);
  return {
    recordedPieces: evidence.pieces,
    changes: [
      { value: -1, pieces: -1 },
      { value: 1, pieces: 1 },
    ],
    act: {
      kind: 'weighing',
      pieceMassGrams: nominalGrams(standard),
      weighings,
      deviationGrams: reading.deviationGrams,
      predictedGrams: reading.predictedGrams,
      lastingStandardUncertaintyGrams: Math.sqrt(
        Math.max(0, reading.standardUncertaintyGrams ** 2 - fresh ** 2),
      ),
      repeatStandardUncertaintyGrams,
      badWeighingProbability: standard.badWeighingProbability,
      badWeighingSpreadGrams: standard.badWeighingSpreadGrams,
    },
  };
}

/** What a weighing says by itself: "601.9 g: 19 fit 0.963, a bad weighing 0.037: weigh again first". */
export function evidenceWords(
  evidence: TubeEvidence,
  of: { readonly standard: PieceStandard; readonly wrongTareRate: number },
): string {
  const { standard } = of;
  const prior = standard.priorMiscountProbability;
  const counts = [-1, 0, 1].map((change) => ({
    change,
    weight: (change === 0 ? 1 - 2 * prior : prior) * ratioOf(evidence, change, of),
  }));
  const total = counts.reduce((sum, { weight }) => sum + weight, 0);
  const best = counts.reduce((most, one) => (one.weight > most.weight ? one : most));
  const bad = counts.reduce(
    (sum, { change, weight }) =>
      sum +
      (weight / total) *
        badWeighingProbability(
          evidence.reading,
          { pieces: change, pieceMassGrams: nominalGrams(standard) },
          badOf(standard),
        ),
    0,
  );
  const tare = wrongTareOf(evidence, of);
  const tared = tare > 1e-3 ? `, a wrong tare ${probabilityWords(tare)}` : '';
  const again = bad > 1e-3 || tare > 1e-3 ? ': weigh again first' : '';
  return `${evidence.netGrams.toFixed(2)} g: ${evidence.pieces + best.change} fit ${probabilityWords(best.weight / total)}, a bad weighing ${probabilityWords(bad)}${tared}${again}`;
}
