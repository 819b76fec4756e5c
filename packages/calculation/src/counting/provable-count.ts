import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { normalQuantile } from '../quantity/normal.ts';
import {
  containerNoiseShape,
  deviation,
  gainField,
  grams,
  piecesField,
  positiveGrams,
  probability,
  wholePieces,
  words,
} from './counting-fields.ts';
import {
  largestProvableCount,
  misclassificationProbability,
  type NetMassModel,
  netStandardUncertainty,
} from './net-mass-uncertainty.ts';

const aRisk = 'a risk above 0, at most 0.5';

export const provableCountInput = z.strictObject({
  pieceMassGrams: positiveGrams('Mean piece mass', 'Mean of the reference pieces'),
  pieceStandardDeviationGrams: positiveGrams(
    'Piece standard deviation',
    'Piece to piece within one lot',
  ),
  lotStandardDeviationGrams: deviation(
    'Lot standard deviation',
    'Lot or die means against the reference lot',
  ),
  referencePieces: piecesField('Reference pieces', 'Hand-counted pieces behind the mean'),
  gainRelative: gainField('Relative gain uncertainty', 'Of the span of the scale'),
  ...containerNoiseShape,
  wantedPieces: piecesField('Wanted count', 'Pieces that a container should hold'),
  acceptedRisk: z
    .number(aRisk)
    .positive(aRisk)
    .max(0.5, aRisk)
    .meta({ title: 'Accepted risk', description: 'Of a wrong count; 0.001 or 0.000001' }),
});

export type ProvableCountInput = z.infer<typeof provableCountInput>;

const sources = [
  'pieces',
  'lot',
  'reference mean',
  'gain',
  'tare',
  'repeatability',
  'division',
] as const;

export const provableCountOutput = z.strictObject({
  largestPieces: wholePieces('Largest count that the scale can prove'),
  wantedIsProvable: z.boolean().meta({ title: 'The wanted count can be proved' }),
  riskAtWanted: probability('Risk of a wrong count at the wanted one'),
  proofIndexAtWanted: z
    .number()
    .meta({ title: 'Standard uncertainties between neighbouring counts at the wanted one' }),
  standardUncertaintyAtWantedGrams: grams(
    'Standard uncertainty of the net mass at the wanted count',
  ),
  budget: z
    .array(
      z.strictObject({
        source: z.enum(sources).meta({ title: 'Source' }),
        standardUncertaintyGrams: grams('Standard uncertainty'),
        sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
        largestPiecesWithout: z.int().nullable().meta({
          title: 'Largest count if this source were nothing',
          description: 'None where nothing would limit it',
          unit: 'pieces',
        }),
      }),
    )
    .meta({ title: 'Budget at the wanted count' }),
  referencePiecesNeeded: z.int().nullable().meta({
    title: 'Reference pieces needed for the wanted count',
    description: 'None where no reference, however large, would do',
    unit: 'pieces',
  }),
  words: words(),
});

export type ProvableCountOutput = z.infer<typeof provableCountOutput>;

type Source = (typeof sources)[number];

function modelOf(input: ProvableCountInput): NetMassModel {
  return {
    ...input,
    referenceMeanStandardUncertaintyGrams:
      input.pieceStandardDeviationGrams / Math.sqrt(input.referencePieces),
  };
}

/** Each source at a count, in grams. */
function uncertainties(model: NetMassModel, pieces: number): Record<Source, number> {
  return {
    pieces: Math.sqrt(pieces) * model.pieceStandardDeviationGrams,
    lot: pieces * model.lotStandardDeviationGrams,
    'reference mean': pieces * model.referenceMeanStandardUncertaintyGrams,
    gain: pieces * model.pieceMassGrams * model.gainRelative,
    tare: model.tareStandardDeviationGrams,
    repeatability: model.repeatabilityGrams,
    division: model.divisionGrams * Math.sqrt(model.readingsTaken / 12),
  };
}

function without(model: NetMassModel, source: Source): NetMassModel {
  const change: Record<Source, Partial<NetMassModel>> = {
    pieces: { pieceStandardDeviationGrams: 0 },
    lot: { lotStandardDeviationGrams: 0 },
    'reference mean': { referenceMeanStandardUncertaintyGrams: 0 },
    gain: { gainRelative: 0 },
    tare: { tareStandardDeviationGrams: 0 },
    repeatability: { repeatabilityGrams: 0 },
    division: { divisionGrams: 0 },
  };
  return { ...model, ...change[source] };
}

/** Largest count beyond which nothing useful is said. */
const mostPieces = 1_000_000_000;

function largestOrNull(model: NetMassModel, risk: number): number | null {
  const growing =
    model.pieceStandardDeviationGrams +
    model.lotStandardDeviationGrams +
    model.referenceMeanStandardUncertaintyGrams +
    model.gainRelative;
  if (growing === 0) return null;
  const found = largestProvableCount(model, risk);
  return found > mostPieces ? null : found;
}

/** Reference pieces with which the wanted count is just proved; null where none would do. */
function referenceNeeded(input: ProvableCountInput): number | null {
  const z = -normalQuantile(input.acceptedRisk / 2);
  const rest = netStandardUncertainty(
    without(modelOf(input), 'reference mean'),
    input.wantedPieces,
  );
  const room = (input.pieceMassGrams / (2 * z)) ** 2 - rest ** 2;
  if (room <= 0) return null;
  const needed = (input.wantedPieces * input.pieceStandardDeviationGrams) ** 2 / room;
  return needed > mostPieces ? null : Math.max(1, Math.ceil(needed));
}

function describe(input: ProvableCountInput, output: Omit<ProvableCountOutput, 'words'>): string {
  const risk = input.acceptedRisk;
  const greatest = output.budget.reduce((top, one) =>
    one.sharePercent > top.sharePercent ? one : top,
  );
  const first = output.wantedIsProvable
    ? `This scale proves ${input.wantedPieces} pieces (up to ${output.largestPieces} at a risk of ${risk}).`
    : `This scale cannot prove ${input.wantedPieces} pieces at a risk of ${risk}, only up to ${output.largestPieces}.`;
  const second = ` The greatest part of the uncertainty, ${greatest.sharePercent.toFixed(0)} %, comes from the ${greatest.source}.`;
  if (output.wantedIsProvable) return first + second;
  return output.referencePiecesNeeded === null
    ? `${first}${second} No reference, however large, would do: weigh fewer pieces at a time or cure that source.`
    : `${first}${second} A reference of ${output.referencePiecesNeeded} hand-counted pieces would do.`;
}

/**
 * How many pieces a scale can prove by weight at a stated risk, what hinders it, and how large a reference
 * the wanted count needs.
 *
 * Formula: largest n with μ/2 ≥ z(1 − risk/2)·s(n), s(n)² = n·sp² + n²·(sb² + sp²/N) + (n·μ·g)² + sT² + sr² +
 * Q·d²/12; reference needed N ≥ (n·sp)²/((μ/2z)² − s'(n)²), s' without the reference mean.
 *
 * @param input masses and deviations in grams, piece deviation above 0; counts 1 to 100000; risk above 0, at
 * most 0.5
 * @returns largest count, risk and budget at the wanted one; null where no number is the answer; not rounded
 * Validity: as `netMassVariance`; normal errors, good weighings. Shown in reference/counting.
 * Source: JCGM 100:2008, 5.1.2; common practice of counting by weight; S. H. Steiner and R. J. MacKay, Scale
 * counting
 * @example provableCount(provableCountCalculation.example).largestPieces // 217
 */
export function provableCount(input: ProvableCountInput): ProvableCountOutput {
  const model = modelOf(input);
  const { wantedPieces, acceptedRisk: risk } = input;
  const u = netStandardUncertainty(model, wantedPieces);
  const parts = uncertainties(model, wantedPieces);
  const riskAtWanted = misclassificationProbability(input.pieceMassGrams, u);
  const output = {
    largestPieces: largestProvableCount(model, risk),
    wantedIsProvable: riskAtWanted <= risk,
    riskAtWanted,
    proofIndexAtWanted: input.pieceMassGrams / u,
    standardUncertaintyAtWantedGrams: u,
    budget: sources.map((source) => ({
      source,
      standardUncertaintyGrams: parts[source],
      sharePercent: 100 * (parts[source] / u) ** 2,
      largestPiecesWithout: largestOrNull(without(model, source), risk),
    })),
    referencePiecesNeeded: referenceNeeded(input),
  };
  return { ...output, words: describe(input, output) };
}

const curvePoints = 100;

function drawProvableCount(input: ProvableCountInput, output: ProvableCountOutput): Chart[] {
  const model = modelOf(input);
  const most = Math.ceil(1.5 * Math.max(output.largestPieces, input.wantedPieces, 10));
  const step = Math.max(1, Math.floor(most / curvePoints));
  const x = Array.from({ length: Math.floor(most / step) }, (_, index) => 1 + index * step);
  const z = -normalQuantile(input.acceptedRisk / 2);
  return [
    {
      kind: 'chart',
      title: 'Standard uncertainties between neighbouring counts',
      xTitle: 'Pieces in the container',
      yTitle: 'Piece mass over standard uncertainty',
      series: [
        {
          label: 'this scale',
          kind: 'line',
          x,
          y: x.map((pieces) => input.pieceMassGrams / netStandardUncertainty(model, pieces)),
        },
      ],
      levels: [{ y: 2 * z, label: `risk ${input.acceptedRisk}` }],
      marks: [
        { x: input.wantedPieces, label: 'wanted' },
        { x: output.largestPieces, label: 'largest' },
      ],
    },
  ];
}

export const provableCountCalculation = defineCalculation({
  id: 'largest-provable-count',
  version: 1,
  topic: 'counting',
  title: 'Largest provable count',
  purpose:
    'How many pieces a scale can prove by weight at a stated risk, which source of error hinders it most, and how many hand-counted reference pieces the wanted count needs.',
  source:
    'JCGM 100:2008, 5.1.2, law of propagation of uncertainty; S. H. Steiner and R. J. MacKay, Scale counting, for the sources of error; common practice',
  input: provableCountInput,
  output: provableCountOutput,
  // The silver tube of reference/counting, CNT-001 and CNT-002.
  example: {
    pieceMassGrams: 31.1,
    pieceStandardDeviationGrams: 0.05,
    lotStandardDeviationGrams: 0.02,
    referencePieces: 50,
    gainRelative: 0.0001,
    tareStandardDeviationGrams: 0.15,
    repeatabilityGrams: 0.05,
    divisionGrams: 0.1,
    readingsTaken: 2,
    wantedPieces: 500,
    acceptedRisk: 0.001,
  },
  compute: provableCount,
  draw: drawProvableCount,
});
