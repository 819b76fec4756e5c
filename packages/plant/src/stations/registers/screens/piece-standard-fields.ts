import { decimalOf, printDecimal, wholeNumberOf } from '../../../workbench/index.ts';
import type { PieceStandard } from '../piece-standard.ts';

/** A piece standard while it is typed: text for every figure. */
export type PieceStandardDraft = Readonly<Record<TypedField, string>>;

type TypedField =
  | Exclude<keyof PieceStandard, 'impurityTable'>
  | 'impurityEdition'
  | 'impurityLimits';

interface FigureField {
  readonly name: Exclude<keyof PieceStandard, 'impurityTable'>;
  readonly label: string;
  readonly unit?: string;
  readonly hint?: string;
  readonly isWhole?: boolean;
}

/** Figures that belong together, in the order in which they are thought of. */
export const massFigures: readonly FigureField[] = [
  { name: 'massLeastMilligrams', label: 'Least mass', unit: 'mg' },
  { name: 'massDeclaredMilligrams', label: 'Declared mass', unit: 'mg' },
  { name: 'massGreatestMilligrams', label: 'Greatest mass', unit: 'mg' },
];

export const sizeFigures: readonly FigureField[] = [
  { name: 'diameterLeastMillimetres', label: 'Least diameter', unit: 'mm' },
  { name: 'diameterGreatestMillimetres', label: 'Greatest diameter', unit: 'mm' },
  { name: 'thicknessLeastMillimetres', label: 'Least thickness', unit: 'mm' },
  { name: 'thicknessGreatestMillimetres', label: 'Greatest thickness', unit: 'mm' },
];

/** Figures that a standard may leave out. */
export const metalFigures: readonly FigureField[] = [
  { name: 'hardnessLeastVickers', label: 'Least hardness', unit: 'HV' },
  { name: 'hardnessGreatestVickers', label: 'Greatest hardness', unit: 'HV' },
  { name: 'grainSizeLeast', label: 'Coarsest grain', unit: 'G', hint: 'Least number.' },
  { name: 'grainSizeGreatest', label: 'Finest grain', unit: 'G', hint: 'Greatest number.' },
];

export const assayFigures: readonly FigureField[] = [
  {
    name: 'blanksForAssayPerMelt',
    label: 'Blanks for assay',
    unit: 'of each melt',
    isWhole: true,
    hint: 'They are cut.',
  },
  {
    name: 'duplicateLimitPerMille',
    label: 'Duplicate limit',
    unit: '‰',
    hint: 'Greatest difference of two results.',
  },
  {
    name: 'requiredConformanceProbability',
    label: 'Required probability of conformity',
    hint: 'Such as 0.95: the guard band of the verdict follows from it.',
  },
];

/** A figure of older standards beside the probability; a new one may leave it out. */
export const guardFigures: readonly FigureField[] = [
  {
    name: 'guardFactor',
    label: 'Least guard factor',
    unit: 'u',
    hint: 'Left out where the probability alone rules; 2 stands for 0.97725.',
  },
];

export const spreadFigures: readonly FigureField[] = [
  {
    name: 'pieceStandardDeviationMilligrams',
    label: 'Piece deviation',
    unit: 'mg',
    hint: 'Standard deviation, piece to piece in one lot.',
  },
  {
    name: 'lotStandardDeviationMilligrams',
    label: 'Lot deviation',
    unit: 'mg',
    hint: 'Standard deviation of lot means.',
  },
  {
    name: 'referencePieces',
    label: 'Reference pieces',
    isWhole: true,
    hint: 'Hand-counted, behind the declared mass.',
  },
];

export const packingFigures: readonly FigureField[] = [
  { name: 'piecesPerTube', label: 'Pieces in a tube', isWhole: true },
  { name: 'tubesPerBox', label: 'Tubes in a box', isWhole: true },
  { name: 'tubeTareGrams', label: 'Tube tare', unit: 'g', hint: 'Mean of empty tubes.' },
  { name: 'tubeTareStandardDeviationGrams', label: 'Tube tare deviation', unit: 'g' },
  { name: 'boxTareGrams', label: 'Box tare', unit: 'g', hint: 'Mean of empty boxes.' },
  { name: 'boxTareStandardDeviationGrams', label: 'Box tare deviation', unit: 'g' },
];

export const miscountFigures: readonly FigureField[] = [
  {
    name: 'priorMiscountProbability',
    label: 'Chance of one piece less, and of one more',
    hint: 'Before weighing, from opened tubes; such as 0.0002.',
  },
  {
    name: 'badWeighingProbability',
    label: 'Chance of a wrong weighing',
    hint: 'Not zeroed, wrong tare, lid off; such as 0.001.',
  },
  { name: 'badWeighingSpreadGrams', label: 'Spread of wrong weighings', unit: 'g' },
];

const allFigures = [
  ...massFigures,
  ...sizeFigures,
  ...assayFigures,
  ...spreadFigures,
  ...packingFigures,
  ...miscountFigures,
];

export const emptyPieceStandard: PieceStandardDraft = {
  pieceStandard: '',
  title: '',
  metal: '',
  finenessDeclaredPartsPerMillion: '',
  finenessLimitPerMille: '',
  assayMethod: '',
  blanksForAssayPerMelt: '',
  guardFactor: '',
  requiredConformanceProbability: '',
  duplicateLimitPerMille: '',
  massDeclaredMilligrams: '',
  massLeastMilligrams: '',
  massGreatestMilligrams: '',
  diameterLeastMillimetres: '',
  diameterGreatestMillimetres: '',
  thicknessLeastMillimetres: '',
  thicknessGreatestMillimetres: '',
  hardnessLeastVickers: '',
  hardnessGreatestVickers: '',
  grainSizeLeast: '',
  grainSizeGreatest: '',
  inspectionLevel: '',
  acceptanceQualityLimitPercent: '',
  pieceStandardDeviationMilligrams: '',
  lotStandardDeviationMilligrams: '',
  referencePieces: '',
  piecesPerTube: '',
  tubesPerBox: '',
  tubeTareGrams: '',
  tubeTareStandardDeviationGrams: '',
  boxTareGrams: '',
  boxTareStandardDeviationGrams: '',
  priorMiscountProbability: '',
  badWeighingProbability: '',
  badWeighingSpreadGrams: '',
  impurityEdition: '',
  impurityLimits: '',
};

/** The form filled with the figures of another standard; its id and title stay to be chosen. */
export function draftLike(standard: PieceStandard): PieceStandardDraft {
  const { finenessDeclaredPartsPerMillion: declared, impurityTable, ...figures } = standard;
  const named: Readonly<Record<string, string | number | undefined>> = figures;
  const filled = Object.fromEntries(
    Object.keys(emptyPieceStandard).map((name) => {
      const value = named[name] ?? '';
      return [name, typeof value === 'number' ? printDecimal(String(value)) : value];
    }),
  ) as Record<TypedField, string>;
  return {
    ...filled,
    impurityEdition: impurityTable?.edition ?? '',
    impurityLimits: (impurityTable?.limits ?? [])
      .map(
        ({ element, limitMilligramsPerKilogram: limit }) =>
          `${element} ${printDecimal(String(limit))}`,
      )
      .join('\n'),
    pieceStandard: '',
    title: '',
    finenessDeclaredPartsPerMillion: printDecimal(String(declared / 1000)),
    // The limit is chosen from a list by its own text.
    acceptanceQualityLimitPercent: String(standard.acceptanceQualityLimitPercent),
  };
}

/**
 * A fineness typed in ‰ as whole parts per million; text with more than three decimals is no whole
 * number of them and goes as it stands, so that the plant refuses it by name.
 */
export function partsPerMillionOf(typedPerMille: string): number | string | null {
  const value = decimalOf(typedPerMille);
  if (typeof value !== 'number') return value;
  const partsPerMillion = Math.round(value * 1000);
  return partsPerMillion / 1000 === value ? partsPerMillion : typedPerMille;
}

/** The table as it is typed: a line for each element with its greatest content, as `Ag 90`. */
function impurityTableOf(draft: PieceStandardDraft): object {
  const lines = draft.impurityLimits.split('\n').filter((line) => line.trim() !== '');
  if (lines.length === 0 && draft.impurityEdition.trim() === '') return {};
  const limits = lines.map((line) => {
    const [element = '', ...limit] = line.trim().split(/\s+/);
    return { element, limitMilligramsPerKilogram: decimalOf(limit.join(' ')) };
  });
  return { impurityTable: { edition: draft.impurityEdition.trim(), limits } };
}

/** The standard as the command takes one. */
export function pieceStandardInput(draft: PieceStandardDraft): Readonly<Record<string, unknown>> {
  const figures = allFigures.map(({ name, isWhole }) => [
    name,
    isWhole ? wholeNumberOf(draft[name]) : decimalOf(draft[name]),
  ]);
  const stated = [...metalFigures, ...guardFigures]
    .filter(({ name }) => draft[name].trim() !== '')
    .map(({ name }) => [name, decimalOf(draft[name])]);
  return {
    ...Object.fromEntries([...figures, ...stated]),
    pieceStandard: draft.pieceStandard.trim(),
    title: draft.title.trim(),
    metal: draft.metal,
    finenessDeclaredPartsPerMillion: partsPerMillionOf(draft.finenessDeclaredPartsPerMillion),
    finenessLimitPerMille: decimalOf(draft.finenessLimitPerMille),
    assayMethod: draft.assayMethod,
    inspectionLevel: draft.inspectionLevel,
    acceptanceQualityLimitPercent: decimalOf(draft.acceptanceQualityLimitPercent),
    ...impurityTableOf(draft),
  };
}
