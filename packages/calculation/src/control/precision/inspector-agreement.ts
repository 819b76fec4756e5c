import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { requireDomain } from '../../quantity/domain.ts';
import {
  type CountedShare,
  type InspectorAgreementInput,
  type InspectorAgreementOutput,
  inspectorAgreementInput,
  inspectorAgreementOutput,
} from './inspector-agreement-schema.ts';
import {
  countedShare,
  countItems,
  crossTable,
  itemCounts,
  judgementsOf,
} from './inspector-tally.ts';
import { cohenKappa, fleissKappa } from './kappa.ts';
import { inWords } from './precision-fields.ts';

export {
  type InspectorAgreementInput,
  type InspectorAgreementOutput,
  inspectorAgreementInput,
  inspectorAgreementOutput,
} from './inspector-agreement-schema.ts';

type Item = InspectorAgreementInput['items'][number];
type InspectorRow = InspectorAgreementOutput['inspectors'][number];

function requireKnownCategories(input: InspectorAgreementInput): void {
  const known = new Set(input.categories);
  const accepted = `one of ${input.categories.join(', ')}`;
  requireDomain(known.size === input.categories.length, {
    field: 'categories',
    value: input.categories.join(', '),
    accepted: 'categories that differ',
  });
  const used = [
    ...input.faultCategories.map((value) => ({ field: 'faultCategories', value })),
    ...input.items.flatMap((item, index) => [
      ...(item.standard === undefined
        ? []
        : [{ field: `items.${index}.standard`, value: item.standard }]),
      ...item.judgements.map(({ category }) => ({
        field: `items.${index}.judgements`,
        value: category,
      })),
    ]),
  ];
  const unknown = used.find(({ value }) => !known.has(value));
  if (unknown) requireDomain(false, { ...unknown, accepted });
}

const allAlike = (categories: readonly string[]): boolean =>
  categories.every((category) => category === categories[0]);

/** Judgements, out of those on items whose standard is as asked, that are as asked. */
function judgementShare(
  items: readonly Item[],
  inspector: string,
  isCounted: (standard: string) => boolean,
  holds: (category: string) => boolean,
  confidence: number,
): CountedShare | null {
  const judged = items
    .filter((item) => item.standard !== undefined && isCounted(item.standard))
    .flatMap((item) => judgementsOf(item, inspector));
  return countedShare(judged.filter(holds).length, judged.length, confidence);
}

function inspectorRow(input: InspectorAgreementInput, inspector: string): InspectorRow {
  const { items, categories, weights } = input;
  const confidence = input.confidencePercent / 100;
  const faults = new Set(input.faultCategories);
  const own = (item: Item) => judgementsOf(item, inspector);
  const pairs = items.flatMap((item) =>
    item.standard === undefined
      ? []
      : own(item).map((category) => [category, item.standard] as [string, string]),
  );
  const isFault = (category: string) => faults.has(category);
  const isSound = (category: string) => !faults.has(category);
  const hasFaults = faults.size > 0;
  return {
    inspector,
    withinSelf: countItems(
      items,
      (item) => own(item).length >= 2,
      (item) => allAlike(own(item)),
      confidence,
    ),
    withStandard: countItems(
      items,
      (item) => item.standard !== undefined && own(item).length >= 1,
      (item) => own(item).every((category) => category === item.standard),
      confidence,
    ),
    misses: hasFaults ? judgementShare(items, inspector, isFault, isSound, confidence) : null,
    falseAlarms: hasFaults ? judgementShare(items, inspector, isSound, isFault, confidence) : null,
    standardKappa:
      pairs.length === 0 ? null : cohenKappa(crossTable(pairs, categories), weights, confidence),
  };
}

function pairRows(
  input: InspectorAgreementInput,
  inspectors: readonly string[],
): InspectorAgreementOutput['pairs'] {
  return inspectors.flatMap((first, index) =>
    inspectors.slice(index + 1).flatMap((second) => {
      const pairs = input.items.flatMap((item) => {
        const [one, other] = [judgementsOf(item, first), judgementsOf(item, second)];
        const repeats = Math.min(one.length, other.length);
        return Array.from(
          { length: repeats },
          (_, k) => [one[k] as string, other[k] as string] as [string, string],
        );
      });
      if (pairs.length === 0) return [];
      const table = crossTable(pairs, input.categories);
      return [
        { first, second, ...cohenKappa(table, input.weights, input.confidencePercent / 100) },
      ];
    }),
  );
}

function fleissRow(input: InspectorAgreementInput): InspectorAgreementOutput['fleiss'] {
  const counts = itemCounts(input.items, input.categories);
  if (!counts) return null;
  const { overall, byCategory } = fleissKappa(counts);
  return {
    judgementsPerItem: input.items[0]?.judgements.length ?? 0,
    ...overall,
    byCategory: byCategory.map((one, index) => ({
      category: input.categories[index] ?? '',
      ...one,
    })),
  };
}

function shareWords(name: string, share: CountedShare | null): string[] {
  if (!share) return [];
  return [
    `${name} ${inWords(share.percent)} % (${share.count} of ${share.of}, ${inWords(share.lowerPercent)} to ${inWords(share.upperPercent)} %)`,
  ];
}

function agreementWords(output: Omit<InspectorAgreementOutput, 'words'>): string {
  const people = output.inspectors.map((row) => {
    const parts = [
      ...shareWords('agrees with himself on', row.withinSelf),
      ...shareWords('with the standard on', row.withStandard),
      ...shareWords('misses', row.misses),
      ...shareWords('false alarms', row.falseAlarms),
    ];
    return parts.length > 0 ? `${row.inspector}: ${parts.join('; ')}.` : '';
  });
  const kappa = output.fleiss?.kappa;
  const together =
    kappa === null || kappa === undefined
      ? ''
      : `All judgements together: kappa ${inWords(kappa)}, where 0 is chance and 1 is full agreement.`;
  const all = shareWords('All agree on', output.betweenInspectors).map((text) => `${text}.`);
  return [...people, ...all, together].filter((text) => text !== '').join(' ');
}

/**
 * Agreement of inspectors who sort items into categories: with themselves, with each other and with
 * what is known of the items.
 *
 * Formula: shares of items on which every judgement agrees, with exact intervals; misses and false
 * alarms per judgement; Cohen's kappa of two inspectors and against the standard, Fleiss' kappa of
 * all judgements, overall and by category (see `cohenKappa`, `fleissKappa`).
 *
 * @param input categories, those that mean a fault, items with their judgements and, where known, the
 *   category they should get; weights of disagreement; confidence in %
 * @returns shares with intervals and kappas with their tests, nothing rounded
 * @throws DomainError for a category that is not in the list
 * Validity: items drawn from what inspectors meet at work, judged without knowing earlier
 * judgements. See reference/kappa.
 * Source: J. Cohen (1960, 1968); J. L. Fleiss (1971); J. L. Fleiss, J. Cohen and B. S. Everitt (1969); C. J.
 * Clopper and E. S. Pearson (1934); ISO 14468:2010 for the use
 * @example inspectorAgreement(inspectorAgreementCalculation.example).pairs[0].kappa // 0.4841629
 */
export function inspectorAgreement(input: InspectorAgreementInput): InspectorAgreementOutput {
  requireKnownCategories(input);
  const { items } = input;
  const confidence = input.confidencePercent / 100;
  const inspectors = [
    ...new Set(items.flatMap((item) => item.judgements.map((judgement) => judgement.inspector))),
  ];
  const categoriesOf = (item: Item) => item.judgements.map((judgement) => judgement.category);
  const output = {
    itemCount: items.length,
    inspectors: inspectors.map((inspector) => inspectorRow(input, inspector)),
    betweenInspectors:
      inspectors.length < 2
        ? null
        : countItems(
            items,
            (item) => new Set(item.judgements.map((one) => one.inspector)).size >= 2,
            (item) => allAlike(categoriesOf(item)),
            confidence,
          ),
    allWithStandard: countItems(
      items,
      (item) => item.standard !== undefined,
      (item) => categoriesOf(item).every((category) => category === item.standard),
      confidence,
    ),
    pairs: pairRows(input, inspectors),
    fleiss: fleissRow(input),
  };
  return { ...output, words: agreementWords(output) };
}

function drawAgreement(_input: InspectorAgreementInput, output: InspectorAgreementOutput): Chart[] {
  const places = output.inspectors.map((row, index) => ({ row, x: index + 1 }));
  const series = (label: string, share: (row: InspectorRow) => CountedShare | null) => {
    const known = places.flatMap(({ row, x }) => {
      const one = share(row);
      return one ? [{ x, one }] : [];
    });
    return {
      label,
      kind: 'points' as const,
      x: known.map(({ x }) => x),
      y: known.map(({ one }) => one.percent),
      lower: known.map(({ one }) => one.lowerPercent),
      upper: known.map(({ one }) => one.upperPercent),
    };
  };
  const all = [
    series('himself', (row) => row.withinSelf),
    series('standard', (row) => row.withStandard),
    series('misses', (row) => row.misses),
    series('alarms', (row) => row.falseAlarms),
  ].filter((one) => one.x.length > 0);
  const xNames = places.map(({ row, x }) => ({ x, name: row.inspector }));
  const shares: Chart = {
    kind: 'chart',
    title: 'Agreement and errors of the inspectors',
    xTitle: 'Inspector',
    yTitle: 'Share, %',
    series: all,
    xNames,
  };
  const byCategory = output.fleiss?.byCategory.filter((one) => one.kappa !== null) ?? [];
  const kappas: Chart = {
    kind: 'chart',
    title: 'Kappa by category, all judgements',
    xTitle: 'Category',
    yTitle: 'Kappa',
    series: [
      {
        label: 'kappa',
        kind: 'bars',
        x: byCategory.map((_, index) => index + 1),
        y: byCategory.map((one) => one.kappa ?? 0),
      },
    ],
    xNames: byCategory.map((one, index) => ({ x: index + 1, name: one.category })),
  };
  return [...(all.length > 0 ? [shares] : []), ...(byCategory.length > 0 ? [kappas] : [])];
}

/** Two raters on nineteen items in three categories, counts by first and second category. */
const exampleTable = [
  ['sound', 'marked', 4],
  ['sound', 'faulty', 1],
  ['marked', 'marked', 8],
  ['faulty', 'marked', 1],
  ['faulty', 'faulty', 5],
] as const;

export const inspectorAgreementCalculation = defineCalculation<
  InspectorAgreementInput,
  InspectorAgreementOutput
>({
  id: 'inspector-agreement',
  version: 1,
  topic: 'control',
  title: 'Agreement of inspectors',
  purpose:
    'Whether inspectors who sort pieces by eye agree with themselves, with each other and with pieces whose faults are known; how often they miss a fault or raise a false alarm.',
  source:
    'J. Cohen (1960, 1968); J. L. Fleiss (1971); J. L. Fleiss, J. Cohen and B. S. Everitt (1969); C. J. Clopper and E. S. Pearson (1934); ISO 14468:2010 for the use',
  input: inspectorAgreementInput,
  output: inspectorAgreementOutput,
  // A published test of kappa: 0.4842, standard error 0.1380, without agreement 0.1484 (reference/kappa).
  example: {
    categories: ['sound', 'marked', 'faulty'],
    faultCategories: ['faulty'],
    items: exampleTable
      .flatMap(([first, second, count]) => Array.from({ length: count }, () => [first, second]))
      .map(([first = '', second = ''], index) => ({
        name: `Piece ${index + 1}`,
        judgements: [
          { inspector: 'First', category: first },
          { inspector: 'Second', category: second },
        ],
      })),
    weights: 'none',
    confidencePercent: 95,
  },
  compute: inspectorAgreement,
  draw: drawAgreement,
});
