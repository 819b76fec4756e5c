import { invariant } from '../../journal/fault.ts';
import type { FurtherRound } from '../receiving/index.ts';
import type { CertifiedMelt, NamedCalculation } from './content.ts';
import type { MeltFacts } from './issue-facts.ts';

const named = (
  name: string,
  entry: number,
  calculated: object | null,
): readonly NamedCalculation[] =>
  calculated === null
    ? []
    : [{ name, entry, calculated: calculated as NamedCalculation['calculated'] }];

const nameOfRound = ({ round }: FurtherRound): string => `further draw ${round}`;

/** The draws of a round: of its places, and of each substitute. */
function calculationsOfRound(row: FurtherRound): readonly NamedCalculation[] {
  const { drawn, substitutions } = row;
  if (!drawn) return [];
  return [
    ...named(nameOfRound(row), drawn.entry, drawn.draw),
    ...substitutions.flatMap(({ entry, blank, draw }) =>
      named(`substitute for ${blank} in entry ${entry}`, entry, draw),
    ),
  ];
}

function furtherOf(row: FurtherRound) {
  invariant(row.taken, `round ${row.round} of melt ${row.melt} was not taken`);
  return {
    round: row.round,
    asked: { entry: row.askedEntry, instant: row.askedAt },
    reason: row.reason,
    drawn: { entry: row.taken.entry, instant: row.taken.instant },
    drawnFrom: [...new Set(row.taken.blanks.map(({ drum }) => drum))],
    blanks: row.taken.blanks.map(({ blank }) => blank),
  };
}

/** How the blanks of a melt were drawn, first and further ones. */
export function samplingOf(melt: MeltFacts): CertifiedMelt['sampling'] {
  const { sampling } = melt;
  invariant(sampling?.drawnEntry, `melt ${melt.melt} is certified without a sample`);
  const { entry, orderedAt, drawnEntry, plan, draw, assayDraw, physicalDraw } = sampling;
  const further = melt.further.filter(({ state }) => state === 'taken');
  return {
    samplePieces: sampling.samplePieces,
    words: `${sampling.samplePieces} of ${sampling.pieces} blanks, ${sampling.physicalPieces} for the physical checks under ${sampling.severity} inspection and ${sampling.assayPieces} for assay`,
    drawnFrom: [...new Set(sampling.blanks.map((blank) => blank.drum))],
    ordered: { entry, instant: orderedAt },
    drawn: { entry: drawnEntry, instant: melt.drawnInstant },
    seedEntry: sampling.seedEntry,
    calculations: [
      ...named('plan', entry, plan),
      ...named('draw', entry, draw),
      ...named('draw for assay', entry, assayDraw),
      ...named('draw for the physical checks', entry, physicalDraw),
      ...further.flatMap(calculationsOfRound),
    ],
    blanks: sampling.blanks.map((blank) => blank.blank),
    ...(further.length > 0 ? { further: further.map(furtherOf) } : {}),
  };
}
