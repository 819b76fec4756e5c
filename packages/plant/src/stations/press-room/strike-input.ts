import { z } from 'zod';
import { lengthReadingSchema, massReadingSchema } from '../../journal/reading.ts';
import { idSchema, type PieceStandard, reasonSchema } from '../registers/index.ts';
import { occasions, photographSchema } from './bodies.ts';
import type { RunRow } from './books.ts';
import type { ExaminedRun } from './hold-scope.ts';
import { familyField, runField } from './inputs.ts';
import type { NamedInstrument } from './instrument-check.ts';

const strikeAccepted = 'a whole number of strokes since the run began, 1 or more';

const instrumentField = (reading: string) =>
  idSchema.meta({ title: `Instrument: ${reading}`, description: `What measured the ${reading}.` });

export const recordStrikeInput = z
  .strictObject({
    run: runField,
    occasion: z
      .enum(occasions, `one of ${occasions.join(', ')}`)
      .meta({ title: 'Occasion', description: 'First, roving or last strike of the run.' }),
    strikeNumber: z.int(strikeAccepted).min(1, strikeAccepted).max(1e9, strikeAccepted).meta({
      title: 'Strike number',
      description: 'Strokes of the press since the run began: its counter less the counter before.',
    }),
    mass: massReadingSchema.meta({ title: 'Mass', description: 'Of this piece.' }),
    diameter: lengthReadingSchema.meta({ title: 'Diameter', description: 'Of this piece.' }),
    thickness: lengthReadingSchema.meta({ title: 'Thickness', description: 'Of this piece.' }),
    instruments: z.strictObject({
      mass: instrumentField('mass'),
      diameter: instrumentField('diameter'),
      thickness: instrumentField('thickness'),
    }),
    photographs: z
      .array(photographSchema, 'one photograph or more')
      .min(1, 'one photograph or more')
      .max(12, 'at most 12 photographs')
      .meta({ title: 'Photographs', description: 'Both faces and the edge.' }),
    verdict: z
      .enum(['approved', 'fault'], 'approved or fault')
      .meta({ title: 'Verdict', description: 'What you judge.' }),
    defect: z
      .strictObject({
        family: familyField,
        words: reasonSchema.meta({ title: 'Defect', description: 'What you see.' }),
      })
      .nullable(),
  })
  .refine((strike) => (strike.verdict === 'fault') === (strike.defect !== null), {
    error: 'a defect with its family when the verdict is fault, and none when it is approved',
    path: ['defect'],
  });

export type RecordStrikeInput = z.infer<typeof recordStrikeInput>;

/** What the rule of a strike knows. */
export interface StrikeFacts {
  readonly run: RunRow | undefined;
  /** Blanks of its melt that came to the press room so far. */
  readonly blanksTaken: number;
  readonly standard: PieceStandard | undefined;
  readonly instruments: Readonly<Record<'mass' | 'diameter' | 'thickness', NamedInstrument>>;
  readonly examined: ExaminedRun | undefined;
  readonly otherRunsOfMelt: readonly ExaminedRun[];
  readonly otherRunsOfShift: readonly ExaminedRun[];
}
