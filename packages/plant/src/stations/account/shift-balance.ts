import type { MetalBalanceInput } from '@cupel/calculation';
import type { MovementRow } from '../../journal/core-books.ts';
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
  /** Of one net weighing: repeatability, and the rounding of gross and tare. */
  readonly randomStandardDeviationGrams: number;
}

/**
 * What the register knows of a balance, as an uncertainty needs it. A net mass comes from two
 * readings, so that its rounding has the variance 2 d²/12 and its repeatability counts twice.
 */
export function scaleOf(instrument: Instrument | undefined): Scale | undefined {
  const { divisionGrams, repeatabilityGrams, gainRelative } = instrument ?? {};
  if (!instrument || divisionGrams == null || repeatabilityGrams == null || gainRelative == null) {
    return undefined;
  }
  return {
    scale: instrument.instrument,
    gainRelativeStandardUncertainty: gainRelative,
    randomStandardDeviationGrams: Math.sqrt(2 * repeatabilityGrams ** 2 + divisionGrams ** 2 / 6),
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
  /** Movements at the place between the two tallies that brought or took metal. */
  readonly movements: readonly MovementRow[];
  /** Differences that were signed in that time: they belong to a mass that begins with the book. */
  readonly signed: readonly MovementRow[];
  /** The balance of the tally. */
  readonly tallyScale: Scale | undefined;
  /** The balance that weighs at each place. */
  readonly scaleByPlace: ReadonlyMap<string, Scale>;
}

const gramsOf = (micrograms: number): number => micrograms / 1e6;

interface Flow {
  readonly scale: Scale;
  readonly sign: 1 | -1;
  readonly count: number;
  readonly micrograms: number;
}

/** Movements of one direction and one counterpart, as one group of weighings. */
function flowStrata(parts: ShiftBalanceParts): readonly Stratum[] | string {
  const flows = new Map<string, Flow>();
  for (const movement of [...parts.movements, ...parts.signed]) {
    if (movement.grossMicrograms === 0) continue;
    const sign = movement.to === parts.place ? 1 : -1;
    const scale =
      parts.scaleByPlace.get(movement.from) ??
      parts.scaleByPlace.get(movement.to) ??
      parts.tallyScale;
    if (!scale) return `no balance is known at ${movement.from} or ${movement.to}`;
    const label = sign === 1 ? `from ${movement.from}` : `to ${movement.to}`;
    const before = flows.get(label);
    flows.set(label, {
      scale,
      sign,
      count: (before?.count ?? 0) + 1,
      micrograms: (before?.micrograms ?? 0) + movement.grossMicrograms,
    });
  }
  return [...flows].map(([label, flow]) => stratumOf(label, flow, parts.pieceStandard));
}

function stratumOf(label: string, flow: Flow, lot: string): Stratum {
  return {
    label,
    sign: flow.sign,
    count: flow.count,
    massGrams: gramsOf(flow.micrograms) / flow.count,
    scale: flow.scale.scale,
    randomStandardDeviationGrams: flow.scale.randomStandardDeviationGrams,
    lot,
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
  const flows = flowStrata(parts);
  if (typeof flows === 'string') return flows;
  const stock = (label: string, flow: Omit<Flow, 'scale'>): readonly Stratum[] =>
    flow.micrograms <= 0 ? [] : [stratumOf(label, { ...flow, scale: tallyScale }, pieceStandard)];
  const strata = [
    ...stock('beginning', { sign: 1, count: 1, micrograms: parts.openingMicrograms }),
    ...flows,
    ...stock('ending', {
      sign: -1,
      count: parts.endingWeighings,
      micrograms: parts.endingMicrograms,
    }),
  ];
  if (strata.length === 0) return 'nothing was weighed';
  const known = new Map(
    [...parts.scaleByPlace.values(), tallyScale].map((one) => [one.scale, one]),
  );
  const names = [...new Set(strata.map((stratum) => stratum.scale))].sort();
  return {
    strata: [...strata],
    scales: names.flatMap((name) => {
      const scale = known.get(name);
      return scale
        ? [{ scale: name, gainRelativeStandardUncertainty: scale.gainRelativeStandardUncertainty }]
        : [];
    }),
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
