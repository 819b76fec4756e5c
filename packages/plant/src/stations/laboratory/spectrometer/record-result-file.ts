import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { controlFields, referenceFields, referenceList } from '../controls/inputs.ts';
import { keptFileSchema, setAsideSchema } from '../exchange/file-bodies.ts';
import { linesTwice } from '../exchange/lines-twice.ts';
import { type MeltFacts, meltFacts, notSampled } from '../melt-facts.ts';
import { recordDifference } from '../record-difference.ts';
import { blanksOf } from './blanks-of-file.ts';
import { type ResultFileRow, type ResultMappingRow, resultFiles, resultMappings } from './books.ts';
import { evaluateResults, type ResultsEvaluated, sampleLabels } from './contents.ts';
import { ResultFileTaken } from './entries.ts';
import { spectrometerRefusals } from './refusals.ts';
import {
  type ResultFileFigures,
  readTableSchema,
  resultMappingSchema,
  resultMethodSchema,
} from './result-bodies.ts';
import { isSame } from './same-mapping.ts';

const labelForm = 'a label of 1 to 80 characters';
const solutionLabel = z
  .string(labelForm)
  .min(1, labelForm)
  .max(80, labelForm)
  .meta({ title: 'Label in the file' });

const resultFileInput = z.strictObject({
  assayRun: idSchema.meta({ title: 'Run', description: 'A name that no run has had.' }),
  melt: idSchema.meta({ title: 'Melt', description: 'The melt of all solutions.' }),
  policy: z
    .enum(['zero', 'half', 'limit'], 'one of zero, half, limit')
    .meta({ title: 'An element below its detection limit counts as' }),
  instrument: idSchema.meta({ title: 'Spectrometer', description: 'That measured the contents.' }),
  file: keptFileSchema.meta({ title: 'File', description: 'As it is kept beside the journal.' }),
  mapping: resultMappingSchema.meta({ title: 'Mapping', description: 'By which it was read.' }),
  method: resultMethodSchema.meta({ title: 'Method' }),
  table: readTableSchema.meta({ title: 'Table', description: 'As it was read.' }),
  setAside: setAsideSchema,
  solutions: z
    .array(
      z.strictObject({
        label: idSchema.meta({ title: 'Label', description: 'Of the solution in the run.' }),
        solution: solutionLabel,
        blank: idSchema.meta({ title: 'Blank', description: 'That the portion was cut from.' }),
      }),
      'a list of solutions',
    )
    .min(1, 'at least one solution')
    .max(4, 'at most four solutions of one melt')
    .refine((all) => new Set(all.map(({ solution }) => solution)).size === all.length, {
      error: 'each solution of the file once',
    })
    .meta({ title: 'Solutions' }),
  references: referenceList(z.strictObject({ ...referenceFields, solution: solutionLabel })),
  reagentLots: controlFields.reagentLots,
  reason: reasonSchema
    .nullable()
    .meta({ title: 'Why the run counts', description: 'Where the file raises a doubt.' }),
});

type ResultFileInput = z.infer<typeof resultFileInput>;

interface ResultFileFacts {
  readonly melt: MeltFacts;
  readonly confirmed: ResultMappingRow | undefined;
  /** Runs that were taken from the same file. */
  readonly earlier: readonly ResultFileRow[];
  readonly evaluated: ResultsEvaluated | undefined;
  /** The difference run that the figures make, with what its own rule needs to know. */
  readonly run: { readonly input: unknown; readonly facts: unknown } | undefined;
}

/** What was found in a solution of the file, as a difference run takes it. */
function impuritiesOf(figures: ResultFileFigures, solution: string) {
  return figures.findings
    .filter((one) => one.solution === solution)
    .map((one) => ({
      element: one.element,
      contentMilligramsPerKilogram: one.contentMilligramsPerKilogram,
      standardUncertaintyMilligramsPerKilogram: one.standardUncertaintyMilligramsPerKilogram,
      detectionLimitMilligramsPerKilogram: one.detectionLimitMilligramsPerKilogram,
    }));
}

/** The run as its own command takes it; the blanks of the file are among its controls. */
function differenceInput(input: ResultFileInput, figures: ResultFileFigures) {
  const { references = [], reagentLots } = input;
  const blanks = blanksOf(input.table, figures.calibrations);
  return {
    assayRun: input.assayRun,
    melt: input.melt,
    policy: input.policy,
    instrument: input.instrument,
    solutions: input.solutions.map(({ label, solution, blank }) => ({
      label,
      blank,
      impurities: impuritiesOf(figures, solution),
    })),
    ...(references.length === 0
      ? {}
      : {
          references: references.map(({ solution, ...reference }) => ({
            ...reference,
            impurities: impuritiesOf(figures, solution),
          })),
        }),
    ...(blanks.length === 0 ? {} : { blanks }),
    ...(reagentLots === undefined ? {} : { reagentLots }),
  };
}

async function resultFileFacts(
  books: BookReader,
  input: ResultFileInput,
  circumstances: Circumstances,
): Promise<ResultFileFacts> {
  const melt = await meltFacts(books, input.melt);
  const solutions = input.solutions.map(({ solution }) => solution);
  const references = (input.references ?? []).map(({ solution }) => solution);
  const { table, method, policy } = input;
  const evaluated =
    melt.known === 'sampled'
      ? evaluateResults({
          table,
          method,
          policy,
          solutions,
          references,
          metal: melt.standard.metal,
        })
      : undefined;
  const run =
    evaluated && 'figures' in evaluated ? differenceInput(input, evaluated.figures) : undefined;
  return {
    melt,
    confirmed: await books.get(resultMappings, input.instrument),
    earlier: await books.select(resultFiles, { by: 'byFile', prefix: [input.file.sha256] }),
    evaluated,
    run: run && { input: run, facts: await recordDifference.facts(books, run, circumstances) },
  };
}

function notConfirmed(input: ResultFileInput, { confirmed }: ResultFileFacts): readonly Refusal[] {
  const { mapping, method, instrument } = input;
  const isConfirmed =
    confirmed && isSame(confirmed.mapping, mapping) && isSame(confirmed.method, method);
  if (isConfirmed) return [];
  return [
    refuse(spectrometerRefusals, 'ResultMappingNotConfirmed', {
      message: `Nobody has confirmed that the files of ${instrument} are read in this way.`,
      field: 'mapping',
      figures: { instrument },
    }),
  ];
}

function strangeReferences({ table, references = [] }: ResultFileInput): readonly Refusal[] {
  const labels = sampleLabels(table);
  return references.flatMap(({ solution }, index) =>
    labels.includes(solution)
      ? []
      : [
          refuse(spectrometerRefusals, 'SolutionNotInFile', {
            message: `The file has no sample ${solution}; it has ${labels.join(', ') || 'none'}.`,
            field: `references.${index}.solution`,
            figures: { solution, labels: [...labels] },
          }),
        ],
  );
}

function strangeSolutions(input: ResultFileInput, facts: ResultFileFacts): readonly Refusal[] {
  const labels = sampleLabels(input.table);
  return input.solutions.flatMap(({ solution }, index): readonly Refusal[] => {
    const field = `solutions.${index}.solution`;
    if (!labels.includes(solution)) {
      return [
        refuse(spectrometerRefusals, 'SolutionNotInFile', {
          message: `The file has no sample ${solution}; it has ${labels.join(', ') || 'none'}.`,
          field,
          figures: { solution, labels: [...labels] },
        }),
      ];
    }
    const earlier = facts.earlier.find((row) =>
      row.solutions.some((one) => one.solution === solution),
    );
    if (!earlier) return [];
    return [
      refuse(spectrometerRefusals, 'SolutionAlreadyTaken', {
        message: `Sample ${solution} of ${input.file.name} was taken for run ${earlier.assayRun} in entry ${earlier.entry}.`,
        field,
        figures: { solution, assayRun: earlier.assayRun, entry: earlier.entry },
      }),
    ];
  });
}

function signalsUnread(evaluated: ResultsEvaluated | undefined): readonly Refusal[] {
  if (!evaluated || !('unread' in evaluated)) return [];
  return evaluated.unread.map(({ element, accepted }) =>
    refuse(spectrometerRefusals, 'SignalsNotCalibrated', {
      message: `The signals of ${element} give no content; needed is ${accepted}.`,
      field: 'method.standards',
      figures: { element, accepted },
    }),
  );
}

function limitsMissing(evaluated: ResultsEvaluated | undefined): readonly Refusal[] {
  if (!evaluated || !('missing' in evaluated)) return [];
  return evaluated.missing.map(({ solution, element, accepted }) =>
    refuse(spectrometerRefusals, 'DetectionLimitUnknown', {
      message: `${element} was not found in ${solution}; needed is ${accepted}.`,
      field: 'method.limits',
      figures: { solution, element },
    }),
  );
}

function doubtful(input: ResultFileInput, { doubts }: ResultFileFigures): readonly Refusal[] {
  if (doubts.length === 0 || input.reason !== null) return [];
  return [
    refuse(spectrometerRefusals, 'ResultsDoubtful', {
      message: doubts.join(' '),
      field: 'reason',
      figures: { doubts: [...doubts] },
    }),
  ];
}

function decideResultFile(
  input: ResultFileInput,
  facts: ResultFileFacts,
  circumstances: Circumstances,
): Decision {
  if (facts.melt.known !== 'sampled') return { refusals: [notSampled(input.melt, facts.melt)] };
  const refusals = [
    ...notConfirmed(input, facts),
    ...strangeSolutions(input, facts),
    ...strangeReferences(input),
    ...linesTwice(input.table.rows, input.setAside),
    ...signalsUnread(facts.evaluated),
    ...limitsMissing(facts.evaluated),
  ];
  const { evaluated, run } = facts;
  if (refusals.length > 0 || !evaluated || !('figures' in evaluated) || !run) return { refusals };
  const { figures } = evaluated;
  const doubts = doubtful(input, figures);
  if (doubts.length > 0) return { refusals: doubts };
  const recorded = recordDifference.decide(run.input, run.facts, circumstances);
  if ('refusals' in recorded) return recorded;
  const { reason, references = [], reagentLots: _lots, ...file } = input;
  const taken = {
    ...file,
    references: references.map(({ label, solution, referenceMaterial }) => ({
      label,
      solution,
      referenceMaterial,
    })),
    figures,
    reason: figures.doubts.length > 0 ? reason : null,
  };
  const { instrument } = input;
  return {
    entries: [...recorded.entries, draft(ResultFileTaken, taken, { instrument })],
    ...(recorded.answer ? { answer: recorded.answer } : {}),
  };
}

/** Records a difference run from the result file of a spectrometer. */
export const recordResultFile = defineCommand({
  command: 'record-result-file',
  station: 'laboratory',
  title: 'Record difference run from a file',
  input: resultFileInput,
  roles: ['assayer'],
  signature: 'none',
  facts: resultFileFacts,
  decide: decideResultFile,
});
