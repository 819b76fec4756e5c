import {
  type FinenessByDifferenceOutput,
  finenessByDifferenceInputSchema,
} from '@cupel/calculation';
import { z } from 'zod';
import type { Calculated } from '../../journal/calculated.ts';
import type { Refusal } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import type { Determination } from './bodies.ts';
import { controlFields, referenceFields, referenceList } from './controls/inputs.ts';
import { type FoundReference, type FoundValue, judgeControls } from './controls/judge.ts';
import { DifferenceRecorded } from './entries.ts';
import { notSampled, unfitInstrument } from './melt-facts.ts';
import {
  type RunFacts,
  readingsNotAccepted,
  runCalculated,
  runFacts,
  runRefusals,
  tooManyDeterminations,
} from './run-facts.ts';

const method = 'fineness-by-difference' as const;
const { impurities, policy } = finenessByDifferenceInputSchema.shape;

const referenceSchema = z.strictObject({ ...referenceFields, impurities });

const differenceInput = z.strictObject({
  assayRun: idSchema.meta({ title: 'Run', description: 'A name that no run has had.' }),
  melt: idSchema.meta({ title: 'Melt', description: 'The melt of all solutions.' }),
  policy,
  solutions: z
    .array(
      z.strictObject({
        label: idSchema.meta({ title: 'Label', description: 'As it stands on the vessel.' }),
        blank: idSchema.meta({ title: 'Blank', description: 'That the portion was cut from.' }),
        impurities,
      }),
      'a list of solutions',
    )
    .min(1, 'at least one solution')
    .max(4, 'at most four solutions of one melt')
    .refine((items) => new Set(items.map((item) => item.label)).size === items.length, {
      error: 'solutions with different labels',
    })
    .meta({ title: 'Solutions', description: 'Each of one portion of the melt.' }),
  instrument: idSchema.meta({ title: 'Spectrometer', description: 'That measured the contents.' }),
  references: referenceList(referenceSchema),
  ...controlFields,
});

type DifferenceCommand = z.infer<typeof differenceInput>;

interface ComputedSolution {
  readonly solution: {
    readonly label: string;
    readonly blank: string;
    readonly difference: Calculated;
  };
  readonly determination: Determination;
}

/**
 * One solution computed. All of its uncertainty counts as the method's: calibration and detection
 * limits are the same for every solution, so that several solutions do not make it smaller; what
 * differs between solutions shows in their spread.
 */
function computeSolution(
  input: DifferenceCommand,
  metal: string,
  index: number,
): ComputedSolution | { readonly refusals: readonly Refusal[] } {
  const {
    label,
    blank,
    impurities: found,
  } = input.solutions[index] as DifferenceCommand['solutions'][number];
  const at = `solutions.${index}`;
  const numbers = { metal, impurities: found, policy: input.policy };
  const computed = runCalculated<FinenessByDifferenceOutput>(
    method,
    numbers,
    (field) => `${at}.${field}`,
  );
  if ('refusals' in computed) return computed;
  const { finenessPerMille, standardUncertaintyPerMille } = computed.output;
  if (standardUncertaintyPerMille === 0) {
    const accepted = 'standard uncertainties of which at least one is above 0 mg/kg';
    const field = `${at}.impurities`;
    return { refusals: [readingsNotAccepted({ field, value: 'without uncertainty', accepted })] };
  }
  return {
    solution: { label, blank, difference: computed.calculated },
    determination: {
      label,
      blank,
      finenessPerMille,
      ownStandardUncertaintyPerMille: 0,
      runStandardUncertaintyPerMille: 0,
      methodStandardUncertaintyPerMille: standardUncertaintyPerMille,
    },
  };
}

/** The content of an element as a control compares it: one not found lies evenly below its limit. */
function contentOf(
  impurity: DifferenceCommand['solutions'][number]['impurities'][number],
): FoundValue {
  const { element: quantity, detectionLimitMilligramsPerKilogram: limit } = impurity;
  const found = impurity.contentMilligramsPerKilogram;
  return {
    quantity,
    unit: 'mg/kg',
    value: found ?? limit / 2,
    // JCGM 100:2008, 4.3.7: an even distribution from 0 to the limit.
    standardUncertainty:
      found === null ? limit / Math.sqrt(12) : impurity.standardUncertaintyMilligramsPerKilogram,
  };
}

/** What the run finds of a reference portion: its fineness, and the content of each element. */
function findReference(
  reference: z.infer<typeof referenceSchema>,
  index: number,
  of: { readonly metal: string; readonly policy: DifferenceCommand['policy'] },
): FoundReference | { readonly refusals: readonly Refusal[] } {
  const numbers = { metal: of.metal, impurities: reference.impurities, policy: of.policy };
  const computed = runCalculated<FinenessByDifferenceOutput>(
    method,
    numbers,
    (field) => `references.${index}.${field}`,
  );
  if ('refusals' in computed) return computed;
  const { finenessPerMille: value, standardUncertaintyPerMille } = computed.output;
  const fineness = { quantity: 'fineness', unit: '‰', value };
  return {
    label: reference.label,
    referenceMaterial: reference.referenceMaterial,
    taken: reference.taken,
    readings: [],
    calculated: computed.calculated,
    found: [
      { ...fineness, standardUncertainty: standardUncertaintyPerMille },
      ...reference.impurities.map(contentOf),
    ],
  };
}

function differenceControls(
  input: DifferenceCommand,
  facts: RunFacts,
  metal: string,
): ReturnType<typeof judgeControls> {
  const { assayRun, policy: handling, references: portions = [] } = input;
  const computed = portions.map((one, index) =>
    findReference(one, index, { metal, policy: handling }),
  );
  const bad = computed.flatMap((one) => ('refusals' in one ? one.refusals : []));
  if (bad.length > 0) return { refusals: bad };
  const references = computed.flatMap((one) => ('refusals' in one ? [] : [one]));
  return judgeControls({ assayRun, references, controls: input }, facts.controls);
}

function decideDifference(input: DifferenceCommand, facts: RunFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const { assayRun, melt } = input;
  const portions = input.solutions.map(({ blank }, index) => ({
    blank,
    field: `solutions.${index}.blank`,
  }));
  const refusals = [
    ...unfitInstrument(facts.instrument, ['spectrometer']),
    ...runRefusals({ assayRun, melt, method, portions, controls: input }, facts, sampled),
  ];
  if (refusals.length > 0) return { refusals };
  const computed = portions.map((_, index) =>
    computeSolution(input, sampled.standard.metal, index),
  );
  const bad = computed.flatMap((one) => ('refusals' in one ? one.refusals : []));
  if (bad.length > 0) return { refusals: bad };
  const good = computed.flatMap((one) => ('refusals' in one ? [] : [one]));
  const controls = differenceControls(input, facts, sampled.standard.metal);
  if ('refusals' in controls) return controls;
  const { voidReason } = controls;
  const tooMany = tooManyDeterminations(facts, { melt, determinations: portions.length });
  if (voidReason === null && tooMany.length > 0) return { refusals: tooMany };
  const body = {
    assayRun,
    melt,
    pieceStandard: sampled.standard.pieceStandard,
    policy: input.policy,
    solutions: good.map((one) => one.solution),
    instrument: input.instrument,
    state: voidReason === null ? ('valid' as const) : ('void' as const),
    voidReason,
    determinations: good.map((one) => one.determination),
    ...controls.quality,
  };
  return {
    entries: [
      draft(DifferenceRecorded, body, { instrument: input.instrument }),
      ...controls.drafts,
    ],
    answer: {
      assayRun,
      state: body.state,
      voidReason,
      determinations: body.determinations.map(({ label, finenessPerMille }) => ({
        label,
        finenessPerMille,
      })),
    },
  };
}

/** Records the impurities found in solutions of a melt of high purity. */
export const recordDifference = defineCommand({
  command: 'record-difference',
  station: 'laboratory',
  title: 'Record difference run',
  input: differenceInput,
  roles: ['assayer'],
  signature: 'none',
  facts: (books, input, circumstances) => runFacts(books, { ...input, method }, circumstances),
  decide: decideDifference,
});
