import { z } from 'zod';
import { massReadingSchema } from '../../journal/reading.ts';
import { idSchema } from '../registers/index.ts';
import { defectFamilies } from './bodies.ts';

const onePieceOrMore = 'a whole number of 1 piece or more';
const zeroOrMore = 'a whole number of strokes, 0 or more';

/** Fields that several commands of the press room ask for. */
export const meltField = idSchema.meta({ title: 'Melt', description: 'The melt of the blanks.' });
export const runField = idSchema.meta({ title: 'Run', description: 'The name of the run.' });
export const piecesField = z
  .int(onePieceOrMore)
  .min(1, onePieceOrMore)
  .max(10_000_000, 'at most 10 million pieces')
  .meta({ title: 'Pieces', description: 'As counted by both of you.', unit: 'pieces' });
export const grossField = massReadingSchema.meta({
  title: 'Mass of the pieces',
  description: 'As the balance sent it, container tared off.',
});
export const balanceField = idSchema.meta({
  title: 'Balance',
  description: 'The balance that weighed the pieces.',
});
export const counterField = (title: string, description: string) =>
  z
    .int(zeroOrMore)
    .min(0, zeroOrMore)
    .max(1e12, 'at most 1000000000000 strokes')
    .meta({ title, description, unit: 'strokes' });
export const familyField = z
  .enum(defectFamilies, `one of ${defectFamilies.join(', ')}`)
  .meta({ title: 'Family of the defect', description: 'Where it comes from.' });
