import { type MassSlip, massSlips } from '@cupel/calculation';
import { placeName } from '../account/index.ts';
import type { PieceStandard } from '../registers/index.ts';
import { oddsOf } from './fault-kinds.ts';
import { type Lattice, signature } from './lattice.ts';
import type { SearchFacts } from './search-facts.ts';
import { lookFor, type Suspicion } from './suspicion.ts';

/** A mass that fits its pieces only by a slip of the decimal sign or the unit. */
export interface FoundSlip {
  readonly suspicion: Suspicion;
  readonly probability: number;
  /** By place, how many of the grams missing there are this slip's. */
  readonly gramsByPlace: ReadonlyMap<string, number>;
}

interface Written {
  readonly name: string;
  readonly pieces: number;
  readonly grams: number;
  /** Where its mass counts, and with which sign a heavier truth makes less missing there. */
  readonly counts: readonly { readonly place: string; readonly sign: 1 | -1 }[];
  readonly look: { readonly look: string; readonly title: string };
}

/** Standard uncertainty of the mass of so many pieces: what they share, what each has, and the balance. */
function uncertaintyOf(pieces: number, standard: PieceStandard): number {
  const spread = (standard.massGreatestMilligrams - standard.massLeastMilligrams) / 1000;
  const shared = Math.hypot(standard.lotStandardDeviationMilligrams / 1000, spread / Math.sqrt(12));
  const own = Math.sqrt(pieces) * (standard.pieceStandardDeviationMilligrams / 1000);
  return Math.hypot(pieces * shared, own, 0.1);
}

/** Entries that a tally's book counted, and the tallies themselves. */
function writtenMasses({ cells, movements }: SearchFacts): readonly Written[] {
  const tallyOf = new Map(cells.map(({ place, tally }) => [place, tally]));
  const entries = movements
    .filter(({ estimated, grossMicrograms }) => !estimated && grossMicrograms > 0)
    .map((movement): Written => {
      const { entry, line, from, to } = movement;
      const isCounted = (place: string): boolean => entry <= (tallyOf.get(place) ?? 0);
      const name = `entry ${entry}${line > 1 ? `, line ${line}` : ''}`;
      return {
        name,
        pieces: movement.pieces,
        grams: movement.grossMicrograms / 1e6,
        counts: [
          ...(isCounted(from) ? [{ place: from, sign: 1 as const }] : []),
          ...(isCounted(to) ? [{ place: to, sign: -1 as const }] : []),
        ],
        look: { look: name, title: `Compare ${name} with its paper` },
      };
    });
  const tallies = cells.flatMap(({ place, piecesTally, gramsTally }): Written[] =>
    gramsTally === null
      ? []
      : [
          {
            name: `tally of ${place}`,
            pieces: piecesTally,
            grams: gramsTally,
            counts: [{ place, sign: 1 }],
            look: {
              look: `mass/${place}`,
              title: `Read the mass of the tally of ${placeName(place)} again on the balance`,
            },
          },
        ],
  );
  return [...entries, ...tallies].filter(({ pieces }) => pieces >= 1);
}

function foundSlip(lattice: Lattice, written: Written, slip: MassSlip): FoundSlip {
  const weight = oddsOf(lattice.rates, 'mass slip', 1 / 6) * slip.ratio;
  const { name, grams, look } = written;
  const evidence = `${grams.toFixed(2)} g are written of ${written.pieces} pieces: ${slip.words}`;
  return {
    probability: weight / (1 + weight),
    gramsByPlace: new Map(
      written.counts.map(({ place, sign }) => [place, sign * slip.missingGrams]),
    ),
    suspicion: {
      name: `mass of ${name}`,
      kind: 'mass slip',
      options: [{ value: 1, weight, signature: signature(lattice, {}) }],
      words: () => `the mass of ${name} is wrong: ${slip.words}`,
      evidence,
      look: lookFor('mass slip', look.look, look.title),
    },
  };
}

/** Slips less probable than this are not named. */
const leastNamed = 1e-3;

/** Masses of entries and tallies that only a slip of the sign or unit makes fit their pieces. */
export function massSlipsIn(lattice: Lattice, facts: SearchFacts): readonly FoundSlip[] {
  const { standard } = facts;
  const bad = {
    probability: standard.badWeighingProbability,
    spreadGrams: standard.badWeighingSpreadGrams,
  };
  const pieceGrams = standard.massDeclaredMilligrams / 1000;
  return writtenMasses(facts).flatMap((written) => {
    const standardUncertaintyGrams = uncertaintyOf(written.pieces, standard);
    const [slip] = massSlips({ ...written, standardUncertaintyGrams }, pieceGrams, bad);
    const found = slip && foundSlip(lattice, written, slip);
    return found && found.probability >= leastNamed ? [found] : [];
  });
}

/** How many of the grams missing at a place are slips that are more likely than not. */
export function slippedGrams(slips: readonly FoundSlip[], place: string): number {
  return slips
    .filter(({ probability }) => probability >= 0.5)
    .reduce((sum, { gramsByPlace }) => sum + (gramsByPlace.get(place) ?? 0), 0);
}
