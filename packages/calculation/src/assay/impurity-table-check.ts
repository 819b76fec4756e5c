import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  elementField,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';

const unit = 'mg/kg';
const contentField = (what: string) => numberField(what, 0, 1_000_000, unit);

export const impurityTableCheckInput = z
  .strictObject({
    standard: labelField('Standard', 'That the table belongs to'),
    edition: labelField('Edition', 'Limits change between editions: name the one in force'),
    limits: listField(
      z.strictObject({
        element: elementField(),
        limitMilligramsPerKilogram: contentField('a limit').meta({
          title: 'Greatest content',
          unit,
        }),
      }),
      'limits',
      1,
      117,
    ).meta({ title: 'Limits of single elements' }),
    groups: listField(
      z.strictObject({
        elements: listField(elementField(), 'elements', 2, 117).meta({ title: 'Elements' }),
        limitMilligramsPerKilogram: contentField('a limit').meta({
          title: 'Greatest sum of their contents',
          unit,
        }),
      }),
      'groups',
      0,
      20,
    ).meta({ title: 'Limits of sums', description: 'Such as silver and copper together' }),
    contents: listField(
      z.strictObject({
        element: elementField(),
        contentMilligramsPerKilogram: contentField('a content').nullable().meta({
          title: 'Content found',
          description: 'Null when not detected',
          unit,
        }),
        standardUncertaintyMilligramsPerKilogram: contentField('a standard uncertainty').meta({
          title: 'Standard uncertainty',
          unit,
        }),
        detectionLimitMilligramsPerKilogram: contentField('a detection limit').meta({
          title: 'Detection limit',
          unit,
        }),
      }),
      'contents',
      1,
      117,
    ).meta({ title: 'Contents', description: 'Each element once' }),
    coverageFactor: numberField('a coverage factor', 0, 10).meta({
      title: 'Coverage factor of the guard band',
      description: '0 compares the value alone; 1.645 keeps the risk of a false pass to 5 %',
    }),
  })
  .superRefine((input, context) => {
    for (const list of ['limits', 'contents'] as const) {
      const seen = new Set<string>();
      for (const [index, { element }] of input[list].entries()) {
        if (seen.has(element)) {
          const path = [list, index, 'element'];
          context.addIssue({ code: 'custom', path, message: 'each element once' });
        }
        seen.add(element);
      }
    }
  });

export type ImpurityTableCheckInput = z.infer<typeof impurityTableCheckInput>;
type Content = ImpurityTableCheckInput['contents'][number];

const states = ['within', 'undecided', 'beyond', 'not determined'] as const;
type State = (typeof states)[number];

const line = {
  state: z.enum(states).meta({ title: 'State' }),
  limitMilligramsPerKilogram: outputNumber('Limit', unit),
  highestMilligramsPerKilogram: z.number().nullable().meta({
    title: 'Highest content to reckon with',
    description: 'Found plus guard band, or the detection limit; none where not determined',
    unit,
  }),
  reason: z.string().meta({ title: 'Reason' }),
};

export const impurityTableCheckOutput = z.strictObject({
  elements: z
    .array(z.strictObject({ element: z.string().meta({ title: 'Element' }), ...line }))
    .meta({ title: 'Elements' }),
  groups: z
    .array(
      z.strictObject({
        elements: z.array(z.string().meta({ title: 'Element' })).meta({ title: 'Elements' }),
        ...line,
      }),
    )
    .meta({ title: 'Sums' }),
  notInTable: z
    .array(z.string().meta({ title: 'Element' }))
    .meta({ title: 'Found without a limit in the table' }),
  state: z.enum(states).meta({ title: 'State of the whole table' }),
  words: wordsField(),
});

export type ImpurityTableCheckOutput = z.infer<typeof impurityTableCheckOutput>;

interface Bounds {
  readonly lowest: number;
  readonly highest: number;
  readonly isFound: boolean;
}

/** Lowest and highest content to reckon with. */
function boundsOf(one: Content, coverageFactor: number): Bounds {
  const { contentMilligramsPerKilogram: found, detectionLimitMilligramsPerKilogram: limit } = one;
  if (found === null || found < limit) return { lowest: 0, highest: limit, isFound: false };
  const guard = coverageFactor * one.standardUncertaintyMilligramsPerKilogram;
  return { lowest: found - guard, highest: found + guard, isFound: true };
}

function judge(bounds: Bounds | null, limit: number): { state: State; reason: string } {
  if (bounds === null) {
    return { state: 'not determined', reason: 'no content was given for it' };
  }
  if (bounds.highest <= limit) {
    const reason = bounds.isFound
      ? 'content and guard band stay within the limit'
      : 'not found, and its detection limit stays within the limit';
    return { state: 'within', reason };
  }
  if (bounds.lowest > limit)
    return { state: 'beyond', reason: 'content less guard band exceeds the limit' };
  const reason = bounds.isFound
    ? 'the limit lies inside the guard band'
    : 'not found, but the detection limit is above the limit: a more sensitive method is needed';
  return { state: 'undecided', reason };
}

/** Bounds of a sum: guard bands of what was found join as root sum of squares, limits add. */
function groupBounds(input: ImpurityTableCheckInput, elements: readonly string[]): Bounds | null {
  const some = elements.map((name) => input.contents.find((one) => one.element === name));
  if (some.some((one) => one === undefined)) return null;
  const present = some as Content[];
  const bounds = present.map((one) => boundsOf(one, 0));
  const found = present.filter((_, i) => bounds[i]?.isFound);
  const guard =
    input.coverageFactor *
    Math.hypot(...found.map((one) => one.standardUncertaintyMilligramsPerKilogram));
  return {
    lowest: compensatedSum(bounds.map((one) => one.lowest)) - guard,
    highest: compensatedSum(bounds.map((one) => one.highest)) + guard,
    isFound: found.length > 0,
  };
}

function worstOf(all: readonly State[]): State {
  const order: readonly State[] = ['beyond', 'not determined', 'undecided', 'within'];
  return order.find((state) => all.includes(state)) ?? 'within';
}

/**
 * Impurities of a melt against the table of a standard and edition: each element and each sum within,
 * undecided, beyond, or not determined.
 *
 * Formula: with guard band k·u, within when content + k·u is at or below the limit, beyond when
 * content − k·u is above it, else undecided. An element not found is within when its detection
 * limit is; a sum adds contents and the detection limits of what was not found, guard bands as root
 * sum of squares. The whole table is as its worst line.
 *
 * @param input limits and contents, each element once, in mg/kg; standard and edition by name
 * @returns one line per limit with state and reason, elements found without a limit; not rounded
 * @throws nothing beyond what the schema refuses
 * Validity: the limits are those given: the calculation holds no table of its own. Contents
 * independent of each other.
 * Source: decision with guard band JCGM 106:2012, 8.3 (from memory); detection limit beside a limit:
 * common practice
 * @example impurityTableCheck(impurityTableCheckCalculation.example).state // 'undecided'
 */
export function impurityTableCheck(input: ImpurityTableCheckInput): ImpurityTableCheckOutput {
  const boundsByElement = new Map(
    input.contents.map((one) => [one.element, boundsOf(one, input.coverageFactor)]),
  );
  const elements = input.limits.map(({ element, limitMilligramsPerKilogram }) => {
    const bounds = boundsByElement.get(element) ?? null;
    const highest = bounds?.highest ?? null;
    return {
      element,
      ...judge(bounds, limitMilligramsPerKilogram),
      limitMilligramsPerKilogram,
      highestMilligramsPerKilogram: highest,
    };
  });
  const groups = input.groups.map((group) => {
    const bounds = groupBounds(input, group.elements);
    return {
      elements: [...group.elements],
      ...judge(bounds, group.limitMilligramsPerKilogram),
      limitMilligramsPerKilogram: group.limitMilligramsPerKilogram,
      highestMilligramsPerKilogram: bounds?.highest ?? null,
    };
  });
  const limited = new Set([
    ...input.limits.map((one) => one.element),
    ...input.groups.flatMap((group) => group.elements),
  ]);
  const notInTable = input.contents
    .filter((one) => !limited.has(one.element) && boundsByElement.get(one.element)?.isFound)
    .map((one) => one.element);
  const state = worstOf([...elements, ...groups].map((one) => one.state));
  const lines = [
    ...elements.map((one) => ({ name: one.element, ...one })),
    ...groups.map((one) => ({ ...one, name: one.elements.join(' and ') })),
  ].filter((one) => one.state !== 'within');
  const named = lines.map((one) => ` ${one.name}: ${one.state}, ${one.reason}.`).join('');
  const extra = notInTable.length === 0 ? '' : ` Found without a limit: ${notInTable.join(', ')}.`;
  const words = `${input.standard}, ${input.edition}: ${state}.${named}${extra}`;
  return { elements, groups, notInTable, state, words };
}

function drawTable(_input: ImpurityTableCheckInput, output: ImpurityTableCheckOutput): Chart[] {
  const shown = output.elements.filter(
    (one) => one.highestMilligramsPerKilogram !== null && one.limitMilligramsPerKilogram > 0,
  );
  return [
    {
      kind: 'chart',
      title: 'Highest content to reckon with, over its limit',
      xTitle: 'Element',
      yTitle: 'Content over limit',
      series: [
        {
          label: 'share',
          kind: 'bars',
          x: shown.map((_, i) => i + 1),
          y: shown.map(
            (one) => (one.highestMilligramsPerKilogram ?? 0) / one.limitMilligramsPerKilogram,
          ),
        },
      ],
      levels: [{ y: 1, label: 'limit' }],
      xNames: shown.map((one, i) => ({ x: i + 1, name: one.element })),
    },
  ];
}

const exampleContent = (element: string, found: number | null, detectionLimit: number) => ({
  element,
  contentMilligramsPerKilogram: found,
  standardUncertaintyMilligramsPerKilogram: 0.05 * (found ?? 0),
  detectionLimitMilligramsPerKilogram: detectionLimit,
});

export const impurityTableCheckCalculation = defineCalculation<
  ImpurityTableCheckInput,
  ImpurityTableCheckOutput
>({
  id: 'impurity-table-check',
  version: 1,
  topic: 'assay',
  title: 'Impurities against a table',
  purpose:
    'Compares the impurities of a melt with the table of a standard and edition, guard band and detection limits considered, and says what is within, undecided, beyond or missing.',
  source:
    'Decision with guard band JCGM 106:2012, 8.3 (from memory); detection limit beside a limit: common practice; the limits are those of the standard and edition given',
  input: impurityTableCheckInput,
  output: impurityTableCheckOutput,
  example: {
    standard: 'Purchase specification for fine gold',
    edition: 'third, in force',
    limits: [
      { element: 'Ag', limitMilligramsPerKilogram: 90 },
      { element: 'Cu', limitMilligramsPerKilogram: 50 },
      { element: 'Pb', limitMilligramsPerKilogram: 20 },
    ],
    groups: [{ elements: ['Ag', 'Cu'], limitMilligramsPerKilogram: 120 }],
    contents: [
      exampleContent('Ag', 82, 1),
      exampleContent('Cu', 31, 1),
      exampleContent('Pb', null, 2),
      exampleContent('Fe', 12, 1),
    ],
    coverageFactor: 2,
  },
  compute: impurityTableCheck,
  draw: drawTable,
});
