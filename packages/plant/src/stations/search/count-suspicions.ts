import type { MovementRow } from '../../journal/core-books.ts';
import { placeName } from '../account/index.ts';
import { type Lattice, ways } from './lattice.ts';
import type { SearchFacts } from './search-facts.ts';
import { lookFor, piecesText, type Suspicion } from './suspicion.ts';

const isWay = (movement: MovementRow, from: string, to: string): boolean =>
  movement.from === from && movement.to === to;

/** Deliveries whose count was taken on trust, and rejects, samples and blanks counted at one end. */
export function ofCounts(
  lattice: Lattice,
  movements: readonly MovementRow[],
): readonly Suspicion[] {
  return movements.flatMap((movement): Suspicion[] => {
    const { entry, pieces } = movement;
    if (isWay(movement, 'press-room', 'in-transit')) {
      return [
        {
          name: `delivery ${entry}`,
          kind: 'delivery miscounted',
          options: ways(lattice, 'delivery miscounted', [
            { value: -1, adds: { 'press-room': -1, 'put-up': 1 }, share: 2 / 3 },
            { value: 1, adds: { 'press-room': 1, 'put-up': -1 }, share: 1 / 3 },
          ]),
          words: (value) => `delivery ${entry} held ${pieces + value} pieces, not ${pieces}`,
          evidence: null,
          look: lookFor(
            'delivery miscounted',
            `delivery/${entry}`,
            `Compare delivery ${entry} with the stroke counter`,
          ),
        },
      ];
    }
    if (isWay(movement, 'receiving', 'press-room')) {
      return [
        {
          name: `blanks of entry ${entry}`,
          kind: 'blanks miscounted',
          options: ways(lattice, 'blanks miscounted', [
            { value: -1, adds: { 'press-room': 1 }, share: 2 / 3 },
            { value: 1, adds: { 'press-room': -1 }, share: 1 / 3 },
          ]),
          words: (value) => `the blanks of entry ${entry} were ${pieces + value}, not ${pieces}`,
          evidence: null,
          look: lookFor(
            'blanks miscounted',
            `blanks/${entry}`,
            `Weigh the blanks of melt ${movement.melt} once more`,
          ),
        },
      ];
    }
    if (!isWay(movement, 'press-room', 'scrap')) return [];
    return [
      {
        name: `rejects of entry ${entry} written twice`,
        kind: 'reject written twice',
        options: ways(lattice, 'reject written twice', [
          { value: -1, adds: { 'press-room': -1, scrap: 1 } },
        ]),
        words: () => `a reject of entry ${entry} is written twice`,
        evidence: null,
        look: lookFor('reject written twice', 'rejects', 'Count the rejects'),
      },
    ];
  });
}

/** What was done and not written. */
export function ofUnwritten(lattice: Lattice, facts: SearchFacts): readonly Suspicion[] {
  const touched = new Set(facts.movements.flatMap(({ from, to }) => [from, to]));
  const reject: Suspicion = {
    name: 'reject not written',
    kind: 'reject not written',
    options: ways(lattice, 'reject not written', [
      { value: 1, adds: { 'press-room': 1, scrap: -1 } },
    ]),
    words: (value) => `${piecesText(value)} went to the rejects and was not written`,
    evidence: null,
    look: lookFor('reject not written', 'rejects', 'Count the rejects'),
  };
  const samples = ['receiving', 'press-room', 'put-up'].map(
    (place): Suspicion => ({
      name: `sample from ${place} not written`,
      kind: 'sample not written',
      options: ways(lattice, 'sample not written', [
        { value: 1, adds: { [place]: 1, laboratory: -1 }, share: 1 / 3 },
      ]),
      words: (value) =>
        `${piecesText(value)} went from ${placeName(place)} to the laboratory and was not written`,
      evidence: null,
      look: lookFor('sample not written', 'samples', 'Count the pieces in the laboratory'),
    }),
  );
  const rejects = touched.has('press-room') ? [reject] : [];
  return [
    ...rejects,
    ofScrapOfPutUp(lattice),
    ...samples,
    ...ofArchive(lattice),
    ofUnbooked(lattice, facts),
  ];
}

/** A piece that put-up gave to the scrap: seldom beside those of the presses. */
function ofScrapOfPutUp(lattice: Lattice): Suspicion {
  return {
    name: 'scrap of put-up not written',
    kind: 'reject not written',
    options: ways(lattice, 'reject not written', [
      { value: 1, adds: { 'put-up': 1, scrap: -1 }, share: 1 / 3 },
    ]),
    words: (value) => `${piecesText(value)} went from put-up to the scrap and was not written`,
    evidence: null,
    look: lookFor('reject not written', 'rejects', 'Count the rejects'),
  };
}

/** First and last strikes, and pieces set aside, that lie in the archive without an entry. */
const ofArchive = (lattice: Lattice): readonly Suspicion[] =>
  ['press-room', 'put-up', 'strong-room'].map((place) => ({
    name: `archive piece from ${place} not written`,
    kind: 'archive piece not written',
    options: ways(lattice, 'archive piece not written', [
      { value: 1, adds: { [place]: 1, archive: -1 }, share: 1 / 3 },
    ]),
    words: (value) =>
      `${piecesText(value)} went from ${placeName(place)} to the archive and was not written`,
    evidence: null,
    look: lookFor('archive piece not written', 'archive', 'Count the pieces in the archive'),
  }));

/** Tubes, up to a box of them, that lie where no entry says: one is as likely as all others together. */
function ofUnbooked(lattice: Lattice, facts: SearchFacts): Suspicion {
  const { piecesPerTube, tubesPerBox } = facts.standard;
  const options = Array.from({ length: tubesPerBox }, (_, at) => at + 1).flatMap((tubes) => {
    const pieces = tubes * piecesPerTube;
    const isWhole = tubes === 1 || tubes === tubesPerBox;
    const share = isWhole ? 1 / 6 : 1 / (6 * Math.max(1, tubesPerBox - 2));
    return [
      { value: pieces, adds: { 'put-up': pieces, 'strong-room': -pieces }, share },
      { value: -pieces, adds: { 'put-up': -pieces, 'strong-room': pieces }, share },
    ];
  });
  const named = (value: number): string => {
    const tubes = Math.abs(value) / piecesPerTube;
    if (tubes === tubesPerBox) return `a box of ${Math.abs(value)} pieces`;
    return tubes === 1 ? `a tube of ${piecesPerTube} pieces` : `${tubes} tubes of ${piecesPerTube}`;
  };
  return {
    name: 'tubes not booked',
    kind: 'tube or box not booked',
    options: ways(lattice, 'tube or box not booked', options),
    words: (value) =>
      value > 0
        ? `${named(value)} went to the strong room and the entry is missing`
        : `${named(value)} stayed in put-up and the entry says the strong room`,
    evidence: null,
    look: lookFor('tube or box not booked', 'unbooked', 'Look for tubes or a box without an entry'),
  };
}

/** Deliveries that lie in put-up and that nobody has accepted. */
export function ofOpenDeliveries(
  lattice: Lattice,
  movements: readonly MovementRow[],
): readonly Suspicion[] {
  const accepted = movements.filter((movement) => isWay(movement, 'in-transit', 'put-up'));
  const left = new Map<string, number>();
  for (const { melt, pieces } of accepted) {
    const key = `${melt} ${pieces}`;
    left.set(key, (left.get(key) ?? 0) + 1);
  }
  return movements.flatMap((movement): Suspicion[] => {
    if (!isWay(movement, 'press-room', 'in-transit')) return [];
    const key = `${movement.melt} ${movement.pieces}`;
    const count = left.get(key) ?? 0;
    if (count > 0) {
      left.set(key, count - 1);
      return [];
    }
    const { entry, pieces } = movement;
    return [
      {
        name: `delivery ${entry} not accepted`,
        kind: 'delivery not accepted',
        options: ways(lattice, 'delivery not accepted', [
          { value: pieces, adds: { 'in-transit': pieces, 'put-up': -pieces } },
        ]),
        words: () => `delivery ${entry} of ${pieces} pieces has come and nobody has accepted it`,
        evidence: null,
        look: lookFor(
          'delivery not accepted',
          `accept/${entry}`,
          `Ask put-up for delivery ${entry}`,
        ),
      },
    ];
  });
}

/** The ways that pieces go from place to place; tubes and boxes are suspected whole. */
const usualWays: readonly (readonly [from: string, to: string])[] = [
  ['receiving', 'press-room'],
  ['receiving', 'laboratory'],
  ['press-room', 'scrap'],
  ['press-room', 'in-transit'],
  ['in-transit', 'put-up'],
  ['put-up', 'scrap'],
  ['put-up', 'archive'],
];

/** The numbers of pieces that a forgotten move can have had: what is missing at one end or too many at the other. */
function likelySizes(lattice: Lattice, from: string, to: string): readonly number[] {
  const residual = (place: string) =>
    lattice.cells.find((cell) => cell.place === place)?.residualPieces ?? 0;
  const ends = [residual(from), 0 - residual(to)].filter((pieces) => pieces > 1);
  return [...new Set(ends.flatMap((pieces) => [pieces - 1, pieces, pieces + 1]))];
}

/** Pieces that went a usual way, any number of them, without an entry. */
export function ofForgottenMoves(lattice: Lattice): readonly Suspicion[] {
  return usualWays.map(([from, to]): Suspicion => {
    const sizes = likelySizes(lattice, from, to);
    const options = sizes.map((pieces) => ({
      value: pieces,
      adds: { [from]: pieces, [to]: -pieces },
      share: 1 / sizes.length,
    }));
    return {
      name: `move from ${from} to ${to} not recorded`,
      kind: 'move not recorded',
      options: ways(lattice, 'move not recorded', options),
      words: (value) =>
        `${piecesText(value)} went from ${placeName(from)} to ${placeName(to)} and the entry is missing`,
      evidence: null,
      look: lookFor(
        'move not recorded',
        `forgotten/${from}/${to}`,
        `Ask who moved pieces from ${placeName(from)} to ${placeName(to)}`,
      ),
    };
  });
}
