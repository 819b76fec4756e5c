import type { MetalBalanceInput } from '@cupel/calculation';
import type { MovementRow } from '../../journal/core-books.ts';
import { placeName } from '../../journal/place.ts';
import type { Instrument } from '../registers/index.ts';

type Stratum = MetalBalanceInput['strata'][number];

/**
 * Beyond these many standard uncertainties a difference of grams is looked at, and has to be
 * explained: common practice of material accountancy (for 3, 10 CFR 74.53(b)(2)).
 */
const warnFactor = 2;
const actFactor = 3;

/** A balance with what an uncertainty needs of it. */
export interface Scale {
  readonly scale: string;
  readonly gainRelativeStandardUncertainty: number;
  /** Of one reading: repeatability and rounding. */
  readonly readingStandardDeviationGrams: number;
}

/** What the register knows of a balance, as an uncertainty needs it; rounding has the variance d²/12. */
export function scaleOf(instrument: Instrument | undefined): Scale | undefined {
  const { divisionGrams, repeatabilityGrams, gainRelative } = instrument ?? {};
  if (!instrument || divisionGrams == null || repeatabilityGrams == null || gainRelative == null) {
    return undefined;
  }
  return {
    scale: instrument.instrument,
    gainRelativeStandardUncertainty: gainRelative,
    readingStandardDeviationGrams: Math.hypot(repeatabilityGrams, divisionGrams / Math.sqrt(12)),
  };
}

/** Everything that a balance of one piece standard at one place is made of. */
export interface ShiftBalanceParts {
  readonly place: string;
  readonly pieceStandard: string;
  readonly finenessPartsPerMillion: number;
  readonly pieceMassGrams: number;
  readonly openingPieces: number;
  readonly endingPieces: number;
  /** Measured at the tally before, or by the book where nothing was measured then. */
  readonly openingMicrograms: number;
  readonly endingMicrograms: number;
  /** Weighings of which the tally's mass is the sum: one for each rack. */
  readonly endingWeighings: number;
  /** Movements at the place between the two tallies that brought or took metal; none by estimate. */
  readonly movements: readonly MovementRow[];
  /** Differences that were signed in that time: they belong to a mass that begins with the book. */
  readonly signed: readonly MovementRow[];
  /** The balance of the tally. */
  readonly tallyScale: Scale | undefined;
  /** The balances that gave the masses of the movements. */
  readonly scaleByInstrument: ReadonlyMap<string, Scale>;
  /** The balance that stands at each place. */
  readonly scaleByPlace: ReadonlyMap<string, Scale>;
}

const gramsOf = (micrograms: number): number => micrograms / 1e6;

const outsideNames: Readonly<Record<string, string>> = {
  'with-supplier': 'the supplier',
  'with-purchaser': 'the purchaser',
  ceased: 'pieces that ceased',
  difference: 'signed differences',
};

/** An end of a movement, as a sentence names it. */
const wayName = (place: string): string => outsideNames[place] ?? placeName(place);

/** Weighings of one kind: on one balance, with tares that were weighed or with one that was stored. */
interface Flow {
  readonly label: string;
  readonly scale: Scale;
  readonly sign: 1 | -1;
  readonly count: number;
  readonly micrograms: number;
  readonly storedTareDeviationGrams: number;
}

/**
 * The balance of a movement whose weighing nobody knows: the one that stands where the metal came
 * from, else where it went, else that of the tally.
 */
function standingScale(parts: ShiftBalanceParts, { from, to }: MovementRow): Scale | undefined {
  return parts.scaleByPlace.get(from) ?? parts.scaleByPlace.get(to) ?? parts.tallyScale;
}

/** The weighings of a movement, on the balances that gave its mass. */
function weighingsOf(
  parts: ShiftBalanceParts,
  movement: MovementRow,
): readonly Omit<Flow, 'label' | 'sign'>[] | string {
  const standing = standingScale(parts, movement);
  const { weighings, grossMicrograms: micrograms, from, to } = movement;
  const found = weighings.map((one) => {
    const { readings: count, grossMicrograms, storedTareDeviationGrams } = one;
    const scale = parts.scaleByInstrument.get(one.instrument) ?? standing;
    return scale && { scale, count, micrograms: grossMicrograms, storedTareDeviationGrams };
  });
  if (found.length === 0) {
    found.push(standing && { scale: standing, count: 1, micrograms, storedTareDeviationGrams: 0 });
  }
  const known = found.filter((one) => one !== undefined);
  return known.length === found.length
    ? known
    : `no balance is known in ${wayName(from)} or ${wayName(to)}`;
}

/** Movements of one direction and one counterpart, as groups of weighings of one kind. */
function flowsOf(parts: ShiftBalanceParts): readonly Flow[] | string {
  const flows = new Map<string, Flow>();
  for (const movement of [...parts.movements, ...parts.signed]) {
    if (movement.grossMicrograms === 0) continue;
    const weighings = weighingsOf(parts, movement);
    if (typeof weighings === 'string') return weighings;
    const sign = movement.to === parts.place ? 1 : -1;
    const way = sign === 1 ? `from ${wayName(movement.from)}` : `to ${wayName(movement.to)}`;
    for (const one of weighings) {
      const stored = one.storedTareDeviationGrams > 0 ? ', tare not weighed' : '';
      const label = `${way}, ${one.scale.scale}${stored}`;
      const before = flows.get(label);
      flows.set(label, {
        ...one,
        label,
        sign,
        count: (before?.count ?? 0) + one.count,
        micrograms: (before?.micrograms ?? 0) + one.micrograms,
      });
    }
  }
  return [...flows.values()];
}

/**
 * The containers that share one stored tare: those of one standard deviation. A source of error is
 * the word tare and this name.
 */
const tareGroupOf = ({ storedTareDeviationGrams }: Flow): string =>
  `not weighed, known to ±${storedTareDeviationGrams} g`;

/**
 * Weighings as a stratum. A net mass is two readings where the tare was weighed; where it was
 * stored, it is one reading and the deviation of the container.
 */
function stratumOf(flow: Flow, lot: string): Stratum {
  const { label, sign, count, micrograms, scale, storedTareDeviationGrams: stored } = flow;
  const reading = scale.readingStandardDeviationGrams;
  return {
    label,
    sign,
    count,
    massGrams: gramsOf(micrograms) / count,
    scale: scale.scale,
    randomStandardDeviationGrams: Math.hypot(reading, stored > 0 ? stored : reading),
    ...(stored > 0 ? { tareGroup: tareGroupOf(flow) } : {}),
    lot,
  };
}

/**
 * What the stored tares have in common: the value may lie as far from the mean of its containers as
 * one container does, since nobody says of how many it is the mean.
 */
function tareGroupsOf(flows: readonly Flow[]): Pick<MetalBalanceInput, 'tareGroups'> {
  const stored = flows.filter((flow) => flow.storedTareDeviationGrams > 0);
  if (stored.length === 0) return {};
  const groups = new Map(
    stored.map((flow) => [tareGroupOf(flow), flow.storedTareDeviationGrams] as const),
  );
  return {
    tareGroups: [...groups].map(([tareGroup, standardDeviationGrams]) => ({
      tareGroup,
      standardDeviationGrams,
    })),
  };
}

function piecesOf(parts: ShiftBalanceParts): NonNullable<MetalBalanceInput['pieces']> {
  const sum = (rows: readonly MovementRow[]) => rows.reduce((total, row) => total + row.pieces, 0);
  return {
    opening: parts.openingPieces,
    received: sum(parts.movements.filter((movement) => movement.to === parts.place)),
    sent: sum(parts.movements.filter((movement) => movement.from === parts.place)),
    closing: parts.endingPieces,
  };
}

/** The input of the balance, or a sentence that says why there is none. */
export function shiftBalanceInput(parts: ShiftBalanceParts): MetalBalanceInput | string {
  const { tallyScale, pieceStandard } = parts;
  if (!tallyScale) {
    return 'the register does not know division, repeatability and gain of the balance of the tally';
  }
  const flows = flowsOf(parts);
  if (typeof flows === 'string') return flows;
  const stock = (label: string, of: Pick<Flow, 'sign' | 'count' | 'micrograms'>): Flow[] =>
    of.micrograms <= 0 ? [] : [{ label, ...of, scale: tallyScale, storedTareDeviationGrams: 0 }];
  const { openingMicrograms, endingMicrograms, endingWeighings } = parts;
  const all = [
    ...stock('beginning', { sign: 1, count: 1, micrograms: openingMicrograms }),
    ...flows,
    ...stock('ending', { sign: -1, count: endingWeighings, micrograms: endingMicrograms }),
  ];
  if (all.length === 0) return 'nothing was weighed';
  const scales = new Map(all.map(({ scale }) => [scale.scale, scale]));
  return {
    strata: all.map((flow) => stratumOf(flow, pieceStandard)),
    scales: [...scales]
      .sort(([left], [right]) => (left < right ? -1 : 1))
      .map(([scale, { gainRelativeStandardUncertainty }]) => ({
        scale,
        gainRelativeStandardUncertainty,
      })),
    ...tareGroupsOf(all),
    lots: [
      {
        lot: pieceStandard,
        finenessPerMille: parts.finenessPartsPerMillion / 1000,
        standardUncertaintyPerMille: 0,
      },
    ],
    pieces: piecesOf(parts),
    pieceMassGrams: parts.pieceMassGrams,
    warnFactor,
    actFactor,
  };
}
