import { weighingRatio } from '@cupel/calculation';
import type { BoxRow } from '../put-up/index.ts';
import type { PieceStandard } from '../registers/index.ts';
import { oddsOf } from './fault-kinds.ts';
import { type Lattice, signature } from './lattice.ts';
import type { SearchFacts } from './search-facts.ts';
import { lookFor, type Suspicion } from './suspicion.ts';
import { evidenceWords, ratioOf, type TubeEvidence } from './tube-evidence.ts';

/** Of tubes that are short, this part is short of a piece that lies nowhere else. */
const lostFromTube = 0.3;

/**
 * A tube whose weight proved its label is tallied by the label: when it holds one too few, the tally
 * counts one too many. One that its weight does not prove is tallied by what is in it, so that it
 * shows in the residual only when the piece that it lacks lies nowhere else.
 */
function tubeOptions(lattice: Lattice, one: TubeEvidence, standard: PieceStandard) {
  const odds = oddsOf(lattice.rates, 'tube miscounted');
  return [-1, 1].map((value) => ({
    value,
    weight: odds * ratioOf(one, value, standard) * (one.isProved ? 1 : lostFromTube),
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
  return evidence.map(
    (one): Suspicion => ({
      name: `tube ${one.tube}`,
      kind: 'tube miscounted',
      options: tubeOptions(lattice, one, standard),
      words: (value) => tubeWords(one, value),
      evidence: evidenceWords(one, standard),
      look: lookFor(
        'tube miscounted',
        `tube/${one.tube}`,
        one.isProved
          ? `Weigh tube ${one.tube} once more`
          : `Weigh tube ${one.tube} once more, then open it as two`,
      ),
    }),
  );
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
      evidence: `box ${box.box} less its tubes: ${output.differenceGrams.toFixed(2)} g, standard uncertainty ${output.standardUncertaintyGrams.toFixed(2)} g`,
      look: lookFor('box opened since', `box/${box.box}`, `Weigh box ${box.box} once more`),
    };
  });
}
