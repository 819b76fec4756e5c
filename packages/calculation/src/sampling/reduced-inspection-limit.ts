import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { acceptanceQualityLimits } from './attribute-tables.ts';
import { limitNumber } from './limit-number.ts';

const units = 'a whole number of pieces from 0 to 10000000';
const found = 'a whole number from 0 to 10000000';

export const reducedInspectionLimitInput = z.strictObject({
  acceptanceQualityLimitPercent: z
    .literal(acceptanceQualityLimits, `one of ${acceptanceQualityLimits.join(', ')}`)
    .meta({
      title: 'Acceptance quality limit',
      description:
        'Percent nonconforming up to 10; nonconformities per hundred pieces for every value above',
      unit: '%',
    }),
  sampleUnits: z.int(units).min(0, units).max(10_000_000, units).meta({
    title: 'Pieces examined',
    description: 'In the samples of the last ten lots, first and second samples together',
    unit: 'pieces',
  }),
  nonconformingPieces: z.int(found).min(0, found).max(10_000_000, found).meta({
    title: 'Nonconforming found in them',
    description: 'Pieces, or nonconformities where those are counted',
  }),
});

export type ReducedInspectionLimitInput = z.infer<typeof reducedInspectionLimitInput>;

export const reducedInspectionLimitOutput = z.strictObject({
  limitNumber: z.int().nullable().meta({
    title: 'Limit number',
    description: 'Nothing where too few pieces were examined, or where the table gives none',
  }),
  unitsNeeded: z.int().nullable().meta({
    title: 'Pieces needed',
    description: 'Where too few were examined; nothing elsewhere',
    unit: 'pieces',
  }),
  isMet: z.boolean().meta({ title: 'The condition on the count is met' }),
  words: z.string().meta({ title: 'In words' }),
});

export type ReducedInspectionLimitOutput = z.infer<typeof reducedInspectionLimitOutput>;

/**
 * Whether the samples of the last ten lots were good enough for reduced inspection: one of the four
 * conditions for it, the others being ten lots accepted under normal inspection, steady production
 * and the wish of the responsible authority.
 *
 * Formula: the count of nonconforming pieces in those samples is compared with the limit number that
 * Table VIII gives for the pieces examined and the acceptance quality limit; equal is good enough.
 *
 * @param input limit, one of the twenty-six columns; pieces examined and nonconforming, 0 or more
 * @returns the limit number or the pieces needed for one, whether the condition is met, and words
 * @throws DomainError for a limit that is no column
 * Validity: lots in a row, all under normal inspection and none refused. Where ten lots hold too few
 * pieces, the lots before them may be added on the same terms. Checked in reference/mil-std-105e.
 * Source: MIL-STD-105E (1989), clause 4.7.3 and Table VIII with its note
 * @example reducedInspectionLimit({ acceptanceQualityLimitPercent: 1, sampleUnits: 1250,
 *   nonconformingPieces: 8 }).isMet // false
 */
export function reducedInspectionLimit(
  input: ReducedInspectionLimitInput,
): ReducedInspectionLimitOutput {
  const { sampleUnits, nonconformingPieces: count, acceptanceQualityLimitPercent } = input;
  const answer = limitNumber(sampleUnits, acceptanceQualityLimitPercent);
  const examined = `${count} nonconforming among ${sampleUnits} pieces examined`;
  if (answer.found === 'limit') {
    const isMet = count <= answer.limitNumber;
    const words = isMet
      ? `${examined}, limit number ${answer.limitNumber}: good enough for reduced inspection.`
      : `${examined}, limit number ${answer.limitNumber}: too many for reduced inspection.`;
    return { limitNumber: answer.limitNumber, unitsNeeded: null, isMet, words };
  }
  if (answer.found === 'not tabulated') {
    const words = `${examined}: Table VIII gives no limit number for so many pieces at this limit; stay on normal inspection.`;
    return { limitNumber: null, unitsNeeded: null, isMet: false, words };
  }
  const { unitsNeeded } = answer;
  const words = `${examined}: too few pieces to judge. Add earlier lots in unbroken order, all accepted under normal inspection, until ${unitsNeeded} pieces are reached.`;
  return { limitNumber: null, unitsNeeded, isMet: false, words };
}

function drawLimit(
  input: ReducedInspectionLimitInput,
  output: ReducedInspectionLimitOutput,
): Chart[] {
  if (output.limitNumber === null) return [];
  return [
    {
      kind: 'chart',
      title: 'Nonconforming in the last lots beside the limit number',
      xTitle: '',
      yTitle: 'Nonconforming',
      series: [
        {
          label: 'found',
          kind: 'bars',
          x: [1],
          y: [input.nonconformingPieces],
          standsOut: !output.isMet,
        },
      ],
      levels: [{ y: output.limitNumber, label: `limit number ${output.limitNumber}` }],
      xNames: [{ x: 1, name: 'last ten lots' }],
    },
  ];
}

export const reducedInspectionLimitCalculation = defineCalculation({
  id: 'reduced-inspection-limit',
  version: 1,
  topic: 'sampling',
  title: 'Limit number for reduced inspection',
  purpose:
    'Tells whether the samples of the last ten lots showed few enough faulty pieces for reduced inspection to be granted.',
  source: 'MIL-STD-105E (1989), clause 4.7.3 and Table VIII with its note',
  input: reducedInspectionLimitInput,
  output: reducedInspectionLimitOutput,
  // Ten lots of letter K at 1.0: 1250 pieces, limit number 7.
  example: { acceptanceQualityLimitPercent: 1, sampleUnits: 1250, nonconformingPieces: 7 },
  compute: reducedInspectionLimit,
  draw: drawLimit,
});
