import type { CupellationInput, CupellationOutput } from '@cupel/calculation';
import { z } from 'zod';
import { massReadingSchema, type Reading, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import {
  aboveWhole,
  cupelledControls,
  cupelledReference,
  readingField,
} from './controls/cupelled-references.ts';
import { controlFields, referenceList } from './controls/inputs.ts';
import { joinReasons } from './controls/judge.ts';
import { cupellationInputOf, determinationsOfRun } from './cupellation-run.ts';
import { CupellationRecorded } from './entries.ts';
import { notSampled, type SampledMelt, unfitInstrument } from './melt-facts.ts';
import { muffleGrid, muffleProblems } from './muffle/grid.ts';
import { laboratoryRefusals } from './refusals.ts';
import {
  type RunFacts,
  runCalculated,
  runFacts,
  runRefusals,
  tooManyDeterminations,
} from './run-facts.ts';

const method = 'cupellation' as const;
const labelSchema = idSchema.meta({
  title: 'Label',
  description: 'As it stands on the worksheet.',
});
const uncertaintyAccepted = 'a standard uncertainty from 0 to 10 ‰';

const isEachOnce = (items: readonly { readonly label: string }[]): boolean =>
  new Set(items.map((item) => item.label)).size === items.length;

const proofSchema = z.strictObject({
  label: labelSchema,
  goldTaken: massReadingSchema.meta({ title: 'Gold taken', description: 'Proof gold weighed in.' }),
  cornet: massReadingSchema.meta({ title: 'Cornet', description: 'Gold left after parting.' }),
});

const sampleSchema = z.strictObject({
  label: labelSchema,
  blank: idSchema.meta({ title: 'Blank', description: 'That the portion was cut from.' }),
  sample: massReadingSchema.meta({ title: 'Portion', description: 'Metal weighed in.' }),
  cornet: massReadingSchema.meta({ title: 'Cornet', description: 'Gold left after parting.' }),
});

const cupellationInput = z.strictObject({
  assayRun: idSchema.meta({ title: 'Run', description: 'A name that no run has had.' }),
  melt: idSchema.meta({ title: 'Melt', description: 'The melt of all portions.' }),
  correction: z
    .enum(['absolute', 'proportional'], 'absolute or proportional')
    .meta({ title: 'Proof correction', description: 'Absolute after ISO 11426.' }),
  proofs: z
    .array(proofSchema, 'a list of proofs')
    .min(2, 'at least two proofs')
    .max(20, 'at most 20 proofs')
    .refine(isEachOnce, { error: 'proofs with different labels' })
    .meta({ title: 'Proofs', description: 'Known gold that ran beside the portions.' }),
  samples: z
    .array(sampleSchema, 'a list of portions')
    .min(1, 'at least one portion')
    .max(4, 'at most four portions of one melt')
    .refine(isEachOnce, { error: 'portions with different labels' })
    .meta({ title: 'Portions', description: 'Of this melt, in the order of the cupels.' }),
  proofGoldStandardUncertaintyPerMille: z
    .number(uncertaintyAccepted)
    .min(0, uncertaintyAccepted)
    .max(10, uncertaintyAccepted)
    .optional()
    .meta({
      title: 'Standard uncertainty of the proof gold',
      description: 'Of its fineness, from its certificate; left out where none is stated.',
      unit: '‰',
    }),
  instrument: idSchema.meta({
    title: 'Balance',
    description: 'That weighed portions and cornets.',
  }),
  extractionConfirmed: z
    .literal(true, 'true, once the extraction over furnace and parting acid runs')
    .meta({
      title: 'Extraction runs',
      description: 'Molten lead fumes, and parting acid gives off poisonous gas.',
    }),
  muffle: muffleGrid.optional(),
  references: referenceList(cupelledReference),
  ...controlFields,
});

type CupellationCommand = z.infer<typeof cupellationInput>;

/** Refuses portions of one blank that weigh more together than the blank did. */
export function portionsTooHeavy(
  input: { readonly samples: readonly { readonly blank: string; readonly sample: Reading }[] },
  sampled: SampledMelt,
): readonly Refusal[] {
  const blanks = [...new Set(input.samples.map((sample) => sample.blank))];
  return blanks.flatMap((blank) => {
    const whole = sampled.measured.get(blank)?.measurement.massMicrograms ?? 0;
    const portions = input.samples.filter((sample) => sample.blank === blank);
    const taken = portions.reduce((sum, one) => sum + readingMicrograms(one.sample), 0);
    if (taken <= whole) return [];
    return refuse(laboratoryRefusals, 'PortionsExceedBlank', {
      message: `The portions of blank ${blank} weigh ${taken / 1000} mg together; the blank weighed ${whole / 1000} mg.`,
      field: 'samples',
      figures: { blank, portionsMicrograms: taken, blankMicrograms: whole },
    });
  });
}

function voidReasonOf(output: CupellationOutput, limitMilligrams: number): string | null {
  if (output.proofsWithinLimit !== false) return null;
  return `The losses of the proofs spread over ${output.proofSpreadMilligrams} mg; the limit is ${limitMilligrams} mg.`;
}

function decideCupellation(input: CupellationCommand, facts: RunFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const portions = input.samples.map(({ blank }, index) => ({
    blank,
    field: `samples.${index}.blank`,
  }));
  const { assayRun, melt } = input;
  const labels = [...input.proofs, ...input.samples].map(({ label }) => label);
  const refusals = [
    ...unfitInstrument(facts.instrument, ['balance']),
    ...runRefusals({ assayRun, melt, method, portions, controls: input }, facts, sampled),
    ...muffleProblems(input.muffle, labels),
  ];
  const balance = facts.instrument.instrument;
  if (refusals.length > 0 || !balance) return { refusals };
  const tooHeavy = portionsTooHeavy(input, sampled);
  if (tooHeavy.length > 0) return { refusals: tooHeavy };
  const numbers: CupellationInput = cupellationInputOf(input, sampled.standard, balance);
  const computed = runCalculated<CupellationOutput>(method, numbers, readingField);
  if ('refusals' in computed) return computed;
  const { calculated, output } = computed;
  const impossible = aboveWhole(output);
  if (impossible.length > 0) return { refusals: impossible };
  const controls = cupelledControls(input, facts.controls, numbers);
  if ('refusals' in controls) return controls;
  const voidReason = joinReasons([
    voidReasonOf(output, numbers.proofSpreadLimitMilligrams ?? 0),
    controls.voidReason,
  ]);
  const tooMany = tooManyDeterminations(facts, { melt, determinations: input.samples.length });
  if (voidReason === null && tooMany.length > 0) return { refusals: tooMany };
  const blanks = input.samples.map((sample) => sample.blank);
  const body = {
    assayRun,
    melt,
    pieceStandard: sampled.standard.pieceStandard,
    correction: input.correction,
    proofs: input.proofs,
    samples: input.samples,
    proofGoldStandardUncertaintyPerMille: input.proofGoldStandardUncertaintyPerMille ?? null,
    instrument: input.instrument,
    extractionConfirmed: input.extractionConfirmed,
    state: voidReason === null ? ('valid' as const) : ('void' as const),
    voidReason,
    cupellation: calculated,
    determinations: [...determinationsOfRun(numbers, output, blanks)],
    ...(input.muffle ? { muffle: input.muffle } : {}),
    ...controls.quality,
  };
  return {
    entries: [
      draft(CupellationRecorded, body, { instrument: input.instrument }),
      ...controls.drafts,
    ],
    answer: { assayRun, state: body.state, voidReason, words: output.words },
  };
}

/** Records a cupellation run with proofs, portions and every reading. */
export const recordCupellation = defineCommand({
  command: 'record-cupellation',
  station: 'laboratory',
  title: 'Record cupellation run',
  input: cupellationInput,
  roles: ['assayer'],
  signature: 'none',
  facts: (books, input, circumstances) => runFacts(books, { ...input, method }, circumstances),
  decide: decideCupellation,
});
