import { z } from 'zod';
import { acceptanceQualityLimits, severities } from './attribute-tables.ts';
import { severityHistory, switchingEditions } from './severity-history.ts';
import { inspectionSeverities } from './severity-machine.ts';

export const inspectionSeverityInput = z.strictObject({
  edition: z.enum(switchingEditions, `one of ${switchingEditions.join(', ')}`).meta({
    title: 'Rules',
    description: 'Reduced inspection by limit numbers (MIL-STD-105E) or by a score (ISO 2859-1)',
  }),
  acceptanceQualityLimitPercent: z
    .literal(acceptanceQualityLimits, `one of ${acceptanceQualityLimits.join(', ')}`)
    .meta({
      title: 'Acceptance quality limit',
      description: 'Of the class of fault that this series is about',
      unit: '%',
    }),
  beginsUnder: z.enum(severities, `one of ${severities.join(', ')}`).meta({
    title: 'Severity of the first lot',
    description: 'Normal unless the parties agreed otherwise',
  }),
  reducedInspection: z.enum(['wanted', 'not wanted'], 'wanted or not wanted').meta({
    title: 'Reduced inspection at the beginning',
    description: 'Wanted: production is steady and the responsible authority asks for it',
  }),
  history: severityHistory,
});

export type InspectionSeverityInput = z.infer<typeof inspectionSeverityInput>;

const severity = (title: string) => z.enum(inspectionSeverities).meta({ title });

const step = z.strictObject({
  event: z.string().meta({ title: 'Event' }),
  lot: z.string().nullable().meta({ title: 'Lot', description: 'Nothing for other events' }),
  inspectedUnder: z
    .enum(severities)
    .nullable()
    .meta({ title: 'Severity of its plan', description: 'Nothing for other events' }),
  outcome: z
    .enum(['accepted', 'not accepted'])
    .nullable()
    .meta({ title: 'Outcome', description: 'Nothing for other events' }),
  counts: z.boolean().meta({
    title: 'Counts for the severity',
    description: 'Lots presented again, or judged after the end of inspection, do not',
  }),
  severityAfter: severity('Severity from then on'),
  score: z.int().nullable().meta({
    title: 'Switching score',
    description: 'ISO 2859-1 under normal inspection, and where it led to reduced; else nothing',
  }),
  change: z
    .string()
    .nullable()
    .meta({ title: 'Why the severity changed', description: 'Nothing where it did not' }),
});

export const inspectionSeverityOutput = z.strictObject({
  severity: severity('Severity of the next lot'),
  reason: z.string().meta({ title: 'Reason' }),
  decidedBy: z
    .array(z.string().meta({ title: 'Lot' }))
    .meta({ title: 'Lots that brought about this severity' }),
  standing: z.string().meta({ title: 'What was earned or lost since' }),
  score: z.int().nullable().meta({
    title: 'Switching score',
    description: 'ISO 2859-1 under normal inspection, and where it led to reduced; else nothing',
  }),
  limitCheck: z
    .strictObject({
      lots: z.int().meta({ title: 'Lots looked at' }),
      sampleUnits: z.int().meta({ title: 'Pieces examined in them', unit: 'pieces' }),
      nonconforming: z.int().meta({ title: 'Nonconforming in them' }),
      limitNumber: z.int().nullable().meta({
        title: 'Limit number',
        description: 'Nothing where too few pieces were examined, or where the table gives none',
      }),
      isMet: z.boolean().meta({ title: 'The limit number is kept' }),
    })
    .nullable()
    .meta({
      title: 'Limit number for reduced inspection',
      description: 'MIL-STD-105E on normal, from ten accepted lots on',
    }),
  steps: z.array(step).meta({ title: 'History, step by step' }),
  words: z.string().meta({ title: 'In words' }),
});

export type InspectionSeverityOutput = z.infer<typeof inspectionSeverityOutput>;
