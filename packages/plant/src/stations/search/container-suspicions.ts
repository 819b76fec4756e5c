import { weighingRatio, withRealMinus } from '@cupel/calculation';
import type { BoxRow } from '../put-up/index.ts';
import type { PieceStandard } from '../registers/index.ts';
import { faultKinds, oddsOf } from './fault-kinds.ts';
import { type Lattice, signature } from './lattice.ts';
import type { LookAgain } from './look-again.ts';
import type { SearchFacts } from './search-facts.ts';
import { lookFor, type Suspicion } from './suspicion.ts';
import {
  evidenceWords,
  ratioOf,
  type TubeEvidence,
  weighedAgain,
  wrongTareOf,
} from './tube-evidence.ts';

/** Of tubes that are short, this part is short of a piece that lies nowhere else. */
const lostFromTube = 0.3;

/**
 * A tube whose weight proved its label is tallied by the label: when it holds one too few, the tally
 * counts one too many. One that its weight does not prove is tallied by what is in it, so that it
 * shows in the residual only when the piece that it lacks lies nowhere else.
 */
function tubeOptions(lattice: Lattice, one: TubeEvidence, of: TareAndStandard) {
  const odds = oddsOf(lattice.rates, 'tube miscounted');
  return [-1, 1].map((value) => ({
    value,
    weight: odds * ratioOf(one, value, of) * (one.isProved ? 1 : lostFromTube),
    signature: signature(lattice, { 'put-up': one.isProved ? value : 0 - value }),
  }));
}

function tubeWords(one: TubeEvidence, value: number): string {
  const holds = `tube ${one.tube} holds ${one.pieces + value}, not ${one.pieces}`;
  if (one.isProved) return holds;
  return value < 0 ? `${holds}, and the piece lies nowhere else` : `${holds}, one more than came`;
}

/** Tubes with what their weighings say. */
export function ofTubes(
  lattice: Lattice,
  evidence: readonly TubeEvidence[],
  facts: SearchFacts,
): readonly Suspicion[] {
  const { standard } = facts;
  const wrongTareRate = lattice.rates.get('wrong tare') ?? faultKinds['wrong tare'].assumedRate;
  const of = { standard, wrongTareRate };
  const tubes = evidence.map(
    (one): Suspicion => ({
      name: `tube ${one.tube}`,
      kind: 'tube miscounted',
      options: tubeOptions(lattice, one, of),
      words: (value) => tubeWords(one, value),
      // Of thousands of tubes only few are told of.
      get evidence() {
        return evidenceWords(one, of);
      },
      since: one.weighedEntry,
      get again() {
        return weighedAgain(one, standard);
      },
      look: lookFor(
        'tube miscounted',
        `tube/${one.tube}`,
        one.isProved
          ? `Weigh tube ${one.tube} once more`
          : `Weigh tube ${one.tube} once more, then open it as two`,
      ),
    }),
  );
  return [...tubes, ...evidence.flatMap((one) => ofTare(lattice, one, of))];
}

interface TareAndStandard {
  readonly standard: PieceStandard;
  readonly wrongTareRate: number;
}

/** A wrong tare less probable than this is not named. */
const leastNamed = 1e-3;

/** A tube whose weighing a wrong tare explains: it moves no piece, and spares the opening of the tube. */
function ofTare(lattice: Lattice, one: TubeEvidence, of: TareAndStandard): readonly Suspicion[] {
  const probability = wrongTareOf(one, of);
  if (probability < leastNamed) return [];
  return [
    {
      name: `tare of tube ${one.tube}`,
      kind: 'wrong tare',
      options: [
        { value: 1, weight: probability / (1 - probability), signature: signature(lattice, {}) },
      ],
      words: () => `the tare of tube ${one.tube} was left out or taken twice`,
      evidence: evidenceWords(one, of),
      since: one.weighedEntry,
      look: lookFor(
        'wrong tare',
        `tare/${one.tube}`,
        `Weigh an empty tube beside tube ${one.tube}`,
      ),
    },
  ];
}

/** A box weighed once more: its tubes stay as they were weighed. */
function boxAgain(box: BoxRow, standard: PieceStandard): LookAgain {
  const { input, output } = box.check;
  const { boxRepeatabilityGrams, boxDivisionGrams } = input.weighing;
  // A scale that shows no spread still rounds; without either nothing new would be drawn.
  const fresh = Math.max(1e-6, Math.hypot(boxRepeatabilityGrams, boxDivisionGrams / Math.sqrt(12)));
  return {
    recordedPieces: box.pieces,
    changes: [{ value: -1, pieces: -1 }],
    act: {
      kind: 'weighing',
      pieceMassGrams: input.pieceMassGrams,
      weighings: 1,
      deviationGrams: output.differenceGrams,
      predictedGrams: 0,
      lastingStandardUncertaintyGrams: Math.sqrt(
        Math.max(0, output.standardUncertaintyGrams ** 2 - fresh ** 2),
      ),
      repeatStandardUncertaintyGrams: fresh,
      badWeighingProbability: standard.badWeighingProbability,
      badWeighingSpreadGrams: standard.badWeighingSpreadGrams,
    },
  };
}

export function ofBoxes(
  lattice: Lattice,
  boxes: readonly BoxRow[],
  facts: SearchFacts,
): readonly Suspicion[] {
  const { badWeighingProbability: probability, badWeighingSpreadGrams: spreadGrams } =
    facts.standard;
  return boxes.map((box): Suspicion => {
    const { input, output } = box.check;
    const reading = {
      deviationGrams: output.differenceGrams,
      predictedGrams: 0,
      standardUncertaintyGrams: output.standardUncertaintyGrams,
    };
    const change = { pieces: -1, pieceMassGrams: input.pieceMassGrams };
    const ratio = weighingRatio(reading, change, { probability, spreadGrams });
    return {
      name: `box ${box.box}`,
      kind: 'box opened since',
      options: [
        {
          value: -1,
          weight: oddsOf(lattice.rates, 'box opened since') * ratio,
          signature: signature(lattice, {}),
        },
      ],
      words: () => `a piece left box ${box.box} between the weighing of its tubes and its own`,
      evidence: `box ${box.box} less its tubes: ${withRealMinus(output.differenceGrams.toFixed(2))} g, standard uncertainty ${output.standardUncertaintyGrams.toFixed(2)} g`,
      again: boxAgain(box, facts.standard),
      look: lookFor('box opened since', `box/${box.box}`, `Weigh box ${box.box} once more`),
    };
  });
}
