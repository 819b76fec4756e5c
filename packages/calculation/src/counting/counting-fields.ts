import { z } from 'zod';

const aMass = 'a mass above 0 g';
const zeroOrMore = 'a value of 0 g or more';
const aProbability = 'a probability above 0, at most 0.25';
const aGain = 'a relative value from 0 to 0.1';
const aCount = 'a whole number from 1 to 100000 pieces';

export const positiveGrams = (title: string, description: string) =>
  z.number(aMass).positive(aMass).meta({ title, description, unit: 'g' });
export const deviation = (title: string, description: string) =>
  z.number(zeroOrMore).min(0, zeroOrMore).meta({ title, description, unit: 'g' });
export const probabilityField = (title: string, description: string) =>
  z
    .number(aProbability)
    .positive(aProbability)
    .max(0.25, aProbability)
    .meta({ title, description });
export const gainField = (title: string, description: string) =>
  z.number(aGain).min(0, aGain).max(0.1, aGain).meta({ title, description });
export const piecesField = (title: string, description: string) =>
  z.int(aCount).min(1, aCount).max(100_000, aCount).meta({ title, description, unit: 'pieces' });
export const labelField = (what: string) => {
  const accepted = `a label of the ${what} of 1 to 100 characters`;
  return z
    .string(accepted)
    .min(1, accepted)
    .max(100, accepted)
    .meta({ title: `Label of the ${what}` });
};

export const grams = (title: string) => z.number().meta({ title, unit: 'g' });
export const probability = (title: string) => z.number().meta({ title });
export const wholePieces = (title: string) => z.int().meta({ title, unit: 'pieces' });
export const words = () => z.string().meta({ title: 'In words' });

/** What makes the net mass of one container uncertain beside its pieces. */
export const containerNoiseShape = {
  tareStandardDeviationGrams: deviation(
    'Tare standard deviation',
    'Tare and packaging, one container against another',
  ),
  repeatabilityGrams: deviation('Repeatability', 'Standard deviation of repeated readings'),
  divisionGrams: positiveGrams('Division', 'Smallest step that the scale shows'),
  readingsTaken: z.literal([1, 2], '1 or 2').meta({
    title: 'Readings taken',
    description: '2 when the tare is weighed too, 1 when it is a stored constant',
  }),
};

/** What is believed beforehand of a wrong count and of a wrong weighing. */
export const priorChancesShape = {
  priorMiscountProbability: probabilityField(
    'Chance of one piece less, and of one more, before weighing',
    'From opened tubes; 0.0001 to 0.001 for a machine or template fill',
  ),
  badWeighingProbability: probabilityField(
    'Chance that a weighing is itself wrong',
    'Not zeroed, wrong tare, lid off, finger on the pan',
  ),
};
