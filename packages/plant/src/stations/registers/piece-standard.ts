import { attributePlanInput, impurityTableCheckInput, lowerTail } from '@cupel/calculation';
import { z } from 'zod';
import { metals } from '../../journal/place.ts';
import { idSchema, titleSchema } from './identity.ts';
import { slipsOf } from './standard-slips.ts';

/** The methods by which a melt's fineness is found here. */
export const assayMethods = ['cupellation', 'fineness-by-difference', 'titration'] as const;

export type AssayMethod = (typeof assayMethods)[number];

const above = (unit: string, title: string, description: string) =>
  z
    .number(`a number of ${unit} above 0`)
    .positive(`a number of ${unit} above 0`)
    .meta({ title, description, unit });

const from0 = (unit: string, title: string, description: string) =>
  z
    .number(`a number of ${unit}, 0 or more`)
    .min(0, `a number of ${unit}, 0 or more`)
    .meta({ title, description, unit });

const count = (most: number, title: string, description: string) => {
  const accepted = `a whole number from 1 to ${most}`;
  return z.int(accepted).min(1, accepted).max(most, accepted).meta({ title, description });
};

const chance = (title: string, description: string) => {
  const accepted = 'a probability above 0, at most 0.25';
  return z.number(accepted).positive(accepted).max(0.25, accepted).meta({ title, description });
};

const identityFields = {
  pieceStandard: idSchema.meta({ title: 'Piece standard', description: 'Its id.' }),
  title: titleSchema.meta({ title: 'Title', description: 'What people call this kind of piece.' }),
  metal: z
    .enum(metals, `one of ${metals.join(', ')}`)
    .meta({ title: 'Metal', description: 'The metal that is guaranteed.' }),
};

const finenessAccepted = 'a whole number of parts per million from 1 to 1000000';
const limitAccepted = 'a fineness above 0 ‰ and at most 1000 ‰';

const requiredAccepted = 'a probability from 0.5, below 1';
const duplicateAccepted = 'a difference above 0 ‰, at most 20 ‰';

const finenessFields = {
  finenessDeclaredPartsPerMillion: z
    .int(finenessAccepted)
    .min(1, finenessAccepted)
    .max(1_000_000, finenessAccepted)
    .meta({ title: 'Declared fineness', description: '999.9 ‰ is 999900 ppm.', unit: 'ppm' }),
  finenessLimitPerMille: z
    .number(limitAccepted)
    .positive(limitAccepted)
    .max(1000, limitAccepted)
    .meta({ title: 'Least fineness', description: 'What every melt must reach.', unit: '‰' }),
  assayMethod: z
    .enum(assayMethods, `one of ${assayMethods.join(', ')}`)
    .meta({ title: 'Method of assay', description: 'How the fineness of a melt is found.' }),
  blanksForAssayPerMelt: count(100, 'Blanks for assay', 'Blanks of each melt that are cut.'),
  guardFactor: from0(
    'standard uncertainties',
    'Least guard factor',
    'Asks for at least the probability that it stands for; left out where that below rules alone.',
  )
    .max(10, 'a number of standard uncertainties from 0 to 10')
    .exactOptional(),
  requiredConformanceProbability: z
    .number(requiredAccepted)
    .min(0.5, requiredAccepted)
    .lt(1, requiredAccepted)
    .meta({ title: 'Required probability of conformity', description: 'Such as 0.95.' }),
  duplicateLimitPerMille: z
    .number(duplicateAccepted)
    .positive(duplicateAccepted)
    .max(20, duplicateAccepted)
    .meta({
      title: 'Duplicate limit',
      description: 'Greatest difference of two results.',
      unit: '‰',
    }),
};

const dimensionFields = {
  massDeclaredMilligrams: above('mg', 'Declared mass', 'Of one piece.'),
  massLeastMilligrams: above('mg', 'Least mass', 'No piece may be lighter.'),
  massGreatestMilligrams: above('mg', 'Greatest mass', 'No piece may be heavier.'),
  diameterLeastMillimetres: above('mm', 'Least diameter', 'Of one piece.'),
  diameterGreatestMillimetres: above('mm', 'Greatest diameter', 'Of one piece.'),
  thicknessLeastMillimetres: above('mm', 'Least thickness', 'Of one piece.'),
  thicknessGreatestMillimetres: above('mm', 'Greatest thickness', 'Of one piece.'),
  inspectionLevel: attributePlanInput.shape.inspectionLevel,
  acceptanceQualityLimitPercent: attributePlanInput.shape.acceptanceQualityLimitPercent,
};

const countingFields = {
  pieceStandardDeviationMilligrams: above('mg', 'Piece deviation', 'Piece to piece in one lot.'),
  lotStandardDeviationMilligrams: from0('mg', 'Lot deviation', 'Lot means among each other.'),
  referencePieces: count(1_000_000, 'Reference pieces', 'Hand-counted, behind the declared mass.'),
  piecesPerTube: count(1000, 'Pieces in a tube', 'The count on the label.'),
  tubesPerBox: count(1000, 'Tubes in a box', 'The count on the label.'),
  tubeTareGrams: from0('g', 'Tube tare', 'Mean mass of an empty tube.'),
  tubeTareStandardDeviationGrams: from0('g', 'Tube tare deviation', 'One tube against another.'),
  boxTareGrams: from0('g', 'Box tare', 'Mean mass of an empty box.'),
  boxTareStandardDeviationGrams: from0('g', 'Box tare deviation', 'One box against another.'),
  priorMiscountProbability: chance(
    'Chance of one piece less, and of one more, before weighing',
    'From opened tubes.',
  ),
  badWeighingProbability: chance('Chance of a wrong weighing', 'Not zeroed, wrong tare, lid off.'),
  badWeighingSpreadGrams: above('g', 'Spread of wrong weighings', 'Standard deviation.'),
};

const hardnessForm = 'a hardness above 0 HV, up to 5000 HV';
const hardness = (title: string) =>
  z
    .number(hardnessForm)
    .positive(hardnessForm)
    .max(5000, hardnessForm)
    .exactOptional()
    .meta({ title, description: 'Of a blank; left out where the standard sets none.', unit: 'HV' });

const grainForm = 'a grain size number from -5 to 20';
const grainSize = (title: string, description: string) =>
  z
    .number(grainForm)
    .min(-5, grainForm)
    .max(20, grainForm)
    .exactOptional()
    .meta({ title, description });

/** What the metal of a blank must be beside its fineness; older standards state none of it. */
const metalFields = {
  hardnessLeastVickers: hardness('Least hardness'),
  hardnessGreatestVickers: hardness('Greatest hardness'),
  grainSizeLeast: grainSize('Coarsest grain', 'Least number G; left out where there is none.'),
  grainSizeGreatest: grainSize('Finest grain', 'Greatest number G; left out where there is none.'),
};

const impurityLimits = impurityTableCheckInput.shape.limits;

/** Greatest contents of single elements in a melt, as an edition of the standard sets them. */
const impurityFields = {
  impurityTable: z
    .strictObject({
      edition: titleSchema.meta({
        title: 'Edition',
        description: 'Of the table: limits change from one edition to the next.',
      }),
      limits: impurityLimits,
    })
    .exactOptional()
    .meta({ title: 'Impurity table', description: 'Left out where the standard has none.' }),
};

const limitPairs = [
  ['massLeastMilligrams', 'massDeclaredMilligrams'],
  ['massDeclaredMilligrams', 'massGreatestMilligrams'],
  ['diameterLeastMillimetres', 'diameterGreatestMillimetres'],
  ['thicknessLeastMillimetres', 'thicknessGreatestMillimetres'],
  ['hardnessLeastVickers', 'hardnessGreatestVickers'],
  ['grainSizeLeast', 'grainSizeGreatest'],
] as const;

interface TableIssue {
  readonly path: readonly (string | number)[];
  readonly message: string;
}

/** What is wrong with an impurity table beside the rest of its standard. */
function impurityTableIssues(standard: {
  readonly assayMethod: AssayMethod;
  readonly impurityTable?: { readonly limits: readonly { readonly element: string }[] };
}): readonly TableIssue[] {
  const { impurityTable, assayMethod } = standard;
  if (!impurityTable) return [];
  const elements = impurityTable.limits.map(({ element }) => element);
  const repeated = elements.flatMap((element, index): TableIssue[] =>
    elements.indexOf(element) < index
      ? [{ path: ['limits', index, 'element'], message: 'each element once' }]
      : [],
  );
  if (assayMethod === 'fineness-by-difference') return repeated;
  const message = `no table where the fineness is found by ${assayMethod}, which determines no impurities`;
  return [{ path: [], message }, ...repeated];
}

/** What a kind of piece must be, and the figures by which it is sampled, assayed and counted. */
export const pieceStandardSchema = z
  .strictObject({
    ...identityFields,
    ...finenessFields,
    ...dimensionFields,
    ...metalFields,
    ...impurityFields,
    ...countingFields,
  })
  .superRefine((standard, context) => {
    for (const [lower, upper] of limitPairs) {
      const [least, greatest] = [standard[lower], standard[upper]];
      if (least === undefined || greatest === undefined || least <= greatest) continue;
      context.addIssue({
        code: 'custom',
        path: [lower],
        message: `at most ${upper}, which is ${greatest}`,
      });
    }
    if (standard.assayMethod === 'titration' && standard.metal !== 'silver') {
      context.addIssue({
        code: 'custom',
        path: ['assayMethod'],
        message: `another method for ${standard.metal}, since titration finds silver`,
      });
    }
    for (const { field, message } of slipsOf(standard)) {
      context.addIssue({ code: 'custom', path: [field], message });
    }
    for (const { path, message } of impurityTableIssues(standard)) {
      context.addIssue({ code: 'custom', path: ['impurityTable', ...path], message });
    }
    const declaredPerMille = standard.finenessDeclaredPartsPerMillion / 1000;
    if (standard.finenessLimitPerMille > declaredPerMille) {
      context.addIssue({
        code: 'custom',
        path: ['finenessLimitPerMille'],
        message: `at most the declared fineness, which is ${declaredPerMille} ‰`,
      });
    }
  });

export type PieceStandard = Readonly<z.infer<typeof pieceStandardSchema>>;

/** The probability nearest to 1 that can be asked for. */
const mostProbability = 1 - Number.EPSILON;

/**
 * The probability of conformity that a melt must show to pass: the one that the standard states, or
 * that which its least guard factor stands for where the uncertainty is well known, whichever is
 * greater. A half shares the risk; less than that would pass what more probably does not conform.
 * Source: JCGM 106:2012, 8.3.2 (guard factor and probability of conformity for one limit).
 */
export function requiredProbabilityOf(
  standard: Pick<PieceStandard, 'guardFactor' | 'requiredConformanceProbability'>,
): number {
  const { guardFactor = 0, requiredConformanceProbability } = standard;
  const asked = Math.max(requiredConformanceProbability, lowerTail(guardFactor));
  return Math.min(asked, mostProbability);
}
