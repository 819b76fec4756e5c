import { z } from 'zod';
import { defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { elementField, listField, numberField, outputNumber, wordsField } from './fields.ts';

const methods = [
  'cupellation',
  'titration with bromide',
  'titration with chloride',
  'difference by spectrometry',
  'screen',
] as const;
type Method = (typeof methods)[number];
const metals = ['gold', 'silver'] as const;

export const methodScopeInput = z
  .strictObject({
    metal: z.enum(metals, { error: 'gold or silver' }).meta({ title: 'Metal to determine' }),
    method: z.enum(methods, { error: `one of ${methods.join(', ')}` }).meta({ title: 'Method' }),
    expectedFinenessPerMille: numberField('a fineness', 0, 1000, '‰').meta({
      title: 'Declared or expected fineness',
      unit: '‰',
    }),
    otherElements: listField(
      z.strictObject({
        element: elementField(),
        contentPerMille: numberField('a content', 0, 1000, '‰').meta({
          title: 'Content declared or known',
          unit: '‰',
        }),
      }),
      'elements',
      0,
      117,
    ).meta({
      title: 'Other elements of the alloy',
      description: 'Each once; what is not named counts as absent',
    }),
    editionScope: z
      .strictObject({
        lowestPerMille: numberField('a fineness', 0, 1000, '‰').meta({
          title: 'Lowest',
          unit: '‰',
        }),
        highestPerMille: numberField('a fineness', 0, 1000, '‰').meta({
          title: 'Highest',
          unit: '‰',
        }),
      })
      .optional()
      .meta({
        title: 'Range of the edition in use',
        description:
          'Where another edition or the own validation rules; none takes the range below',
      }),
  })
  .superRefine((input, context) => {
    const seen = new Set<string>([input.metal === 'gold' ? 'Au' : 'Ag']);
    for (const [index, { element }] of input.otherElements.entries()) {
      if (seen.has(element)) {
        const path = ['otherElements', index, 'element'];
        const message = 'each element once, and not the metal itself';
        context.addIssue({ code: 'custom', path, message });
      }
      seen.add(element);
    }
  });

export type MethodScopeInput = z.infer<typeof methodScopeInput>;

export const methodScopeOutput = z.strictObject({
  scope: z.enum(['inside', 'inside with conditions', 'outside']).meta({ title: 'Scope' }),
  lowestPerMille: outputNumber('Lowest fineness', '‰'),
  highestPerMille: outputNumber('Highest fineness', '‰'),
  reasons: z
    .array(
      z.strictObject({
        weight: z.enum(['excludes', 'condition']).meta({ title: 'Weight' }),
        reason: z.string().meta({ title: 'Reason' }),
        source: z.string().meta({ title: 'Source' }),
      }),
    )
    .meta({ title: 'Reasons' }),
  instead: z.string().nullable().meta({
    title: 'Method to use instead',
    description: 'None where the method is inside its scope, or none is known here',
  }),
  words: wordsField(),
});

export type MethodScopeOutput = z.infer<typeof methodScopeOutput>;
type Reason = MethodScopeOutput['reasons'][number];

interface Range {
  readonly metal: (typeof metals)[number];
  readonly lowest: number;
  readonly highest: number;
  readonly source: string;
}

const silverTitration = (source: string): readonly Range[] => [
  { metal: 'silver', lowest: 100, highest: 999, source },
];

/** Ranges of fineness by method; a screen has none that decides. */
const ranges: Readonly<Record<Method, readonly Range[]>> = {
  cupellation: [{ metal: 'gold', lowest: 100, highest: 999.5, source: 'ISO 11426:2021, scope' }],
  'titration with bromide': silverTitration('ISO 11427:2024, scope'),
  'titration with chloride': silverTitration('ISO 13756:2024, scope'),
  'difference by spectrometry': [
    { metal: 'gold', lowest: 999, highest: 1000, source: 'ISO 15093:2020, clause 1' },
    { metal: 'silver', lowest: 999, highest: 1000, source: 'ISO 15096:2020, clause 1' },
  ],
  screen: [],
};

const condition = (reason: string, source: string): Reason => ({
  weight: 'condition',
  reason,
  source,
});
const excluded = (reason: string, source: string): Reason => ({
  weight: 'excludes',
  reason,
  source,
});

type Contents = (element: string) => number;

/** Greatest sum of iridium, rhodium and ruthenium beside which a cornet is gold, in ‰. */
const greatestPlatinumResidue = 0.25;

function cupellationReasons(content: Contents): Reason[] {
  const residue = compensatedSum(['Ir', 'Rh', 'Ru'].map(content));
  const reasons: Reason[] = [];
  if (residue > greatestPlatinumResidue) {
    reasons.push(
      excluded(
        `iridium, rhodium and ruthenium together ${residue} ‰, above ${greatestPlatinumResidue} ‰, stay in the cornet`,
        'ISO 11426:2021, scope',
      ),
    );
  }
  if (content('Ni') > 0) {
    reasons.push(
      condition('nickel: 4 g of lead more or scorification', 'ISO 11426:2014, 7.3 as quoted'),
    );
  }
  if (content('Pd') > 0 || content('Pt') > 0) {
    reasons.push(
      condition(
        'palladium or platinum: the modified procedure, proofs that hold as much',
        'ISO 11426:1997, scope',
      ),
    );
  }
  return reasons;
}

function titrationReasons(method: Method, content: Contents): Reason[] {
  const reasons: Reason[] = [];
  if (content('Pd') > 0) {
    const source =
      method === 'titration with chloride'
        ? 'ISO 13756:2024, 8.2.2 (contents list)'
        : 'common practice';
    reasons.push(condition('palladium is to be removed before the titration', source));
  }
  if (content('Hg') > 0) {
    reasons.push(excluded('mercury is titrated with the silver', 'common practice'));
  }
  if (content('Sn') > 0 || content('Sb') > 0) {
    reasons.push(
      condition(
        'tin or antimony leaves a residue in nitric acid: keep it in solution',
        'common practice',
      ),
    );
  }
  return reasons;
}

function alloyReasons(input: MethodScopeInput): Reason[] {
  const content: Contents = (element) =>
    input.otherElements.find((one) => one.element === element)?.contentPerMille ?? 0;
  if (input.method === 'cupellation') return cupellationReasons(content);
  if (input.method.startsWith('titration')) return titrationReasons(input.method, content);
  if (input.method === 'difference by spectrometry' && input.metal === 'silver') {
    return [
      condition(
        'what nitric acid leaves is dissolved in aqua regia, read as well and added',
        'ISO 15096:2020, clause 4 as quoted',
      ),
    ];
  }
  return [];
}

function rangeReasons(input: MethodScopeInput, range: Range | undefined): Reason[] {
  if (input.method === 'screen') {
    return [excluded('a screen raises doubts and decides nothing', 'common practice')];
  }
  if (range === undefined) {
    return [excluded(`${input.method} does not determine ${input.metal}`, 'common practice')];
  }
  const { expectedFinenessPerMille: fineness } = input;
  if (fineness < range.lowest) {
    return [excluded(`${fineness} ‰ lies below ${range.lowest} ‰`, range.source)];
  }
  return fineness > range.highest
    ? [excluded(`${fineness} ‰ lies above ${range.highest} ‰`, range.source)]
    : [];
}

/** First method in whose range the fineness lies, for this metal. */
function methodInstead(input: MethodScopeInput): string | null {
  const { metal, expectedFinenessPerMille: fineness } = input;
  return (
    methods.find((method) =>
      ranges[method].some(
        (one) =>
          method !== input.method &&
          one.metal === metal &&
          fineness >= one.lowest &&
          fineness <= one.highest,
      ),
    ) ?? null
  );
}

/**
 * Whether a metal of declared fineness and alloy lies inside the scope of a method, with reasons: to be
 * asked before the portion is weighed, not after the result.
 *
 * Formula: cupellation of gold 100 to 999.5 ‰, without more than 0.25 ‰ of iridium, rhodium and
 * ruthenium together; titration of silver 100 to 999 ‰; difference from 999 ‰ for gold and silver.
 * A screen is inside no scope. Elements of the alloy add conditions or exclude.
 *
 * @param input metal, method, fineness in ‰, other elements in ‰; a range of the edition in use
 * @returns scope, range, reasons with their sources, and another method where there is one
 * @throws DomainError when metal and other elements together exceed 1000.5 ‰, or a range is empty
 * Validity: ranges as the scopes state them ('preferably'); the laboratory's own validation comes first.
 * Source: ISO 11426:2021, ISO 11427:2024, ISO 13756:2024, scopes; ISO 15093:2020 and ISO
 * 15096:2020, clause 1; common practice where the reason says so
 * @example methodScope(methodScopeCalculation.example).scope // 'outside'
 */
export function methodScope(input: MethodScopeInput): MethodScopeOutput {
  const total = compensatedSum(input.otherElements.map((one) => one.contentPerMille));
  requireDomain(total + input.expectedFinenessPerMille <= 1000.5, {
    field: 'otherElements',
    value: `${total} ‰`,
    accepted: `contents that together with ${input.expectedFinenessPerMille} ‰ do not exceed 1000 ‰`,
  });
  const known = ranges[input.method].find((one) => one.metal === input.metal);
  const stated = input.editionScope;
  requireDomain(stated === undefined || stated.lowestPerMille < stated.highestPerMille, {
    field: 'editionScope.highestPerMille',
    value: stated?.highestPerMille,
    accepted: `a fineness above the lowest of ${stated?.lowestPerMille} ‰`,
  });
  const range =
    known === undefined || stated === undefined
      ? known
      : {
          ...known,
          lowest: stated.lowestPerMille,
          highest: stated.highestPerMille,
          source: 'range of the edition in use, as stated',
        };
  const reasons = [...rangeReasons(input, range), ...alloyReasons(input)];
  const isOutside = reasons.some((one) => one.weight === 'excludes');
  const scope = isOutside
    ? ('outside' as const)
    : reasons.length > 0
      ? ('inside with conditions' as const)
      : ('inside' as const);
  const instead = isOutside ? methodInstead(input) : null;
  const because = reasons.length === 0 ? '' : ` ${reasons.map((one) => one.reason).join('; ')}.`;
  const other = instead === null ? '' : ` By its fineness it belongs to ${instead}.`;
  return {
    scope,
    lowestPerMille: range?.lowest ?? 0,
    highestPerMille: range?.highest ?? 0,
    reasons,
    instead,
    words: `${input.metal === 'gold' ? 'Gold' : 'Silver'} of ${input.expectedFinenessPerMille} ‰ by ${input.method}: ${scope}.${because}${other}`,
  };
}

export const methodScopeCalculation = defineCalculation<MethodScopeInput, MethodScopeOutput>({
  id: 'method-scope',
  version: 1,
  topic: 'assay',
  title: 'Scope of a method',
  purpose:
    'Says whether a metal of declared fineness and alloy lies inside the scope of a method, on what conditions, why not, and which method to use instead.',
  source:
    'ISO 11426:2021, ISO 11427:2024, ISO 13756:2024, scopes; ISO 15093:2020 and ISO 15096:2020, clause 1; common practice where a reason says so',
  input: methodScopeInput,
  output: methodScopeOutput,
  // ISO 11426:2021: above 999.5 ‰ the difference method takes over.
  example: {
    metal: 'gold',
    method: 'cupellation',
    expectedFinenessPerMille: 999.9,
    otherElements: [],
  },
  compute: methodScope,
});
