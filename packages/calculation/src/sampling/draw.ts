import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { allocateSample } from './allocation.ts';
import { type SeededIntegers, seededIntegers } from './seeded-integers.ts';

const containerPieces = 'a whole number from 1 to 1000000000 pieces';
const sampleSize = 'a whole number from 1 to 100000 pieces';

export const drawInput = z.strictObject({
  seed: z
    .string('at least 16 hexadecimal digits')
    .regex(/^[0-9a-fA-F]{16,1024}$/, 'at least 16 hexadecimal digits, at most 1024')
    .meta({
      title: 'Seed',
      description: 'Hexadecimal digits that nobody could choose: the hash of the entry of receipt',
    }),
  containers: z
    .array(
      z.strictObject({
        container: z
          .string('the name of the container')
          .min(1, 'the name of the container')
          .meta({ title: 'Container', description: 'Name of the drum or tray, as marked on it' }),
        pieces: z
          .int(containerPieces)
          .min(1, containerPieces)
          .max(1_000_000_000, containerPieces)
          .meta({ title: 'Pieces', description: 'Pieces in the container', unit: 'pieces' }),
        trayPieces: z
          .int('a whole number of 1 piece or more, or nothing')
          .min(1, 'a whole number of 1 piece or more, or nothing')
          .optional()
          .meta({
            title: 'Pieces per tray',
            description: 'Positions on one tray; absent where the container has no trays',
            unit: 'pieces',
          }),
      }),
      'a list of containers',
    )
    .min(1, 'at least one container')
    .max(100_000, 'at most 100000 containers')
    .meta({ title: 'Containers', description: 'In the order in which one walks past them' }),
  sampleSizePieces: z.int(sampleSize).min(1, sampleSize).max(100_000, sampleSize).meta({
    title: 'Sample size',
    description: 'Pieces to draw from all containers',
    unit: 'pieces',
  }),
});

export type DrawInput = z.infer<typeof drawInput>;

export const drawOutput = z.strictObject({
  allocation: z
    .array(
      z.strictObject({
        container: z.string().meta({ title: 'Container' }),
        pieces: z.int().meta({ title: 'Pieces to draw', unit: 'pieces' }),
      }),
    )
    .meta({ title: 'Pieces to draw from each container' }),
  picks: z
    .array(
      z.strictObject({
        pick: z.int().meta({ title: 'Pick' }),
        container: z.string().meta({ title: 'Container' }),
        tray: z.int().optional().meta({ title: 'Tray, from 1' }),
        position: z.int().meta({ title: 'Position on the tray or in the container, from 1' }),
      }),
    )
    .meta({ title: 'Picks in walking order' }),
});

export type DrawOutput = z.infer<typeof drawOutput>;

type Container = DrawInput['containers'][number];

/** Places drawn without repetition, ascending; every set of that size is equally probable. */
function placesWithoutRepetition(
  pieces: number,
  sampleSizePieces: number,
  stream: SeededIntegers,
): number[] {
  const places = new Set<number>();
  for (let last = pieces - sampleSizePieces; last < pieces; last += 1) {
    const place = stream.below(last + 1);
    places.add(places.has(place) ? last : place);
  }
  return [...places].sort((a, b) => a - b);
}

function describePlace(container: Container, place: number): { tray?: number; position: number } {
  const { trayPieces } = container;
  if (trayPieces === undefined) return { position: place + 1 };
  return { tray: Math.floor(place / trayPieces) + 1, position: (place % trayPieces) + 1 };
}

function requireDistinctNames(containers: readonly Container[]): void {
  const seen = new Set<string>();
  for (const [index, { container }] of containers.entries()) {
    requireDomain(!seen.has(container), {
      field: `containers.${index}.container`,
      value: container,
      accepted: 'a name that no other container of the list has',
    });
    seen.add(container);
  }
}

/**
 * The pieces to take out of a lot, drawn by lot so that nobody can steer the choice and anybody can
 * repeat it; it serves every sampling order on received blanks.
 *
 * Formula: the sample is shared among the containers in proportion to their pieces (largest
 * remainders, at least one each where the sample suffices); in each container the places are
 * drawn without repetition from the stream of `seededIntegers`: for j from N − n to N − 1 a number
 * from 0 to j is drawn and taken, or j itself if it was taken before (Floyd). Containers draw in
 * list order from one stream.
 *
 * @param input seed of at least 16 hexadecimal digits; containers in walking order, each with 1 or
 * more pieces and, where it has trays, the positions on one tray; sample size, 1 to all pieces
 * @returns pieces per container, and the picks by container, tray and position, numbered from 1
 * @throws DomainError for a sample above the pieces there are, or a container named twice
 * Validity: every piece of a container has the same chance, and every set of pieces too; where
 * shares must be rounded, chances differ between containers by less than one piece. Shown by
 * chi-square tests in laws/draw; fixed vectors in reference/seeded-draw.
 * Source: W. G. Cochran (1977), Sampling Techniques, 3rd edition, 5.5; J. Bentley and R. Floyd
 * (1987), A sample of brilliance, Communications of the ACM 30(9); D. Blackman and S. Vigna (2021)
 * @example draw({ seed: '0123456789abcdef', containers: [{ container: 'drum 1', pieces: 10 }],
 *   sampleSizePieces: 2 }).picks.length // 2
 */
export function draw(input: DrawInput): DrawOutput {
  requireDistinctNames(input.containers);
  const stream = seededIntegers(input.seed);
  const shares = allocateSample(
    input.containers.map((container) => container.pieces),
    input.sampleSizePieces,
    stream,
  );
  const allocation: DrawOutput['allocation'] = [];
  const picks: DrawOutput['picks'] = [];
  for (const [index, container] of input.containers.entries()) {
    const pieces = shares[index] ?? 0;
    allocation.push({ container: container.container, pieces });
    for (const place of placesWithoutRepetition(container.pieces, pieces, stream)) {
      picks.push({
        pick: picks.length + 1,
        container: container.container,
        ...describePlace(container, place),
      });
    }
  }
  return { allocation, picks };
}

/** Above this many containers bars would be thinner than a line. */
const greatestBarCount = 200;

function drawChart(input: DrawInput, output: DrawOutput): Chart[] {
  if (input.containers.length > greatestBarCount) return [];
  const numbers = input.containers.map((_, index) => index + 1);
  return [
    {
      kind: 'chart',
      title: 'Pieces drawn from each container',
      xTitle: 'Container, in the order of the list',
      yTitle: 'Pieces',
      series: [
        {
          label: 'drawn',
          kind: 'bars',
          x: numbers,
          y: output.allocation.map((share) => share.pieces),
        },
      ],
    },
  ];
}

export const drawCalculation = defineCalculation({
  id: 'draw',
  version: 1,
  topic: 'sampling',
  title: 'Draw of the sample',
  purpose:
    'Which pieces to take, by container, tray and position: drawn by lot from a seed, so that nobody can steer the choice and anybody can repeat it.',
  source:
    'W. G. Cochran (1977), Sampling Techniques, 3rd edition, 5.5 and 9A.5; J. Bentley and R. Floyd (1987), Communications of the ACM 30(9); D. Blackman and S. Vigna (2021), ACM Transactions on Mathematical Software 47(4), generator xoshiro256**',
  input: drawInput,
  output: drawOutput,
  // The seed is the SHA-256 of no bytes at all (FIPS 180-4), a number that nobody chose.
  example: {
    seed: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
    containers: [
      { container: 'drum 1', pieces: 1200, trayPieces: 50 },
      { container: 'drum 2', pieces: 1200, trayPieces: 50 },
      { container: 'drum 3', pieces: 800, trayPieces: 50 },
    ],
    sampleSizePieces: 8,
  },
  compute: draw,
  draw: drawChart,
});
