import type { FinenessByDifferenceOutput } from '@cupel/calculation';
import type { Reading } from '../../../journal/reading.ts';
import type { CsvValue } from '../../../tables/csv.ts';
import { plainDecimal } from '../../../tables/number-form.ts';
import type { AssayRunRow, DeterminationRow, ResultRow, RulingRow } from '../books.ts';
import { milligramDigits } from './reading-digits.ts';

/** A determination with all that stands about it in one row. */
interface DeterminationFacts {
  readonly determination: DeterminationRow;
  readonly run: AssayRunRow;
  readonly limitPerMille: number | null;
  /** The result that stands for the melt; nothing while none is signed. */
  readonly result: ResultRow | undefined;
  readonly ruling: RulingRow | undefined;
}

export const determinationHeads = [
  'Melt',
  'Piece standard',
  'Run',
  'Method',
  'Determination',
  'Blank',
  'State',
  'Why it does not count',
  'Portion, mg',
  'Cornet, mg',
  'Impurities, mg/kg',
  'Sum of impurities, mg/kg',
  'Fineness, ‰',
  'Own standard uncertainty, ‰',
  'Standard uncertainty of the run, ‰',
  'Standard uncertainty of the method, ‰',
  'Instrument',
  'Recorded by',
  'Recorded at, UTC',
  'Entry',
  'Result of the melt, ‰',
  'Standard uncertainty of the result, ‰',
  'Least fineness, ‰',
  'Verdict',
  'State of the result',
  'Ruling',
] as const;

interface Impurity {
  readonly element: string;
  readonly contentMilligramsPerKilogram: number | null;
  readonly detectionLimitMilligramsPerKilogram: number;
}

/** A weighed portion, whatever the method made of it. */
interface WeighedSample {
  readonly label: string;
  readonly sample: Reading;
  readonly cornet?: Reading;
}

function impurityText(one: Impurity): string {
  const { contentMilligramsPerKilogram: content, detectionLimitMilligramsPerKilogram: limit } = one;
  return content === null
    ? `${one.element} < ${plainDecimal(limit)}`
    : `${one.element} ${plainDecimal(content)}`;
}

/** The raw readings of a determination: portion and cornet, or impurities and their sum. */
function readingsOf({ determination, run }: DeterminationFacts): readonly CsvValue[] {
  const sheet = run.worksheet;
  if ('samples' in sheet) {
    const samples: readonly WeighedSample[] = sheet.samples;
    const sample = samples.find(({ label }) => label === determination.label);
    if (!sample) return [null, null, null, null];
    const cornet = sample.cornet ? milligramDigits(sample.cornet) : null;
    return [milligramDigits(sample.sample), cornet, null, null];
  }
  if (!('solutions' in sheet)) return [null, null, null, null];
  const solution = sheet.solutions.find(({ label }) => label === determination.label);
  if (!solution) return [null, null, null, null];
  const impurities = solution.difference.input['impurities'] as unknown as readonly Impurity[];
  const output = solution.difference.output as unknown as FinenessByDifferenceOutput;
  return [null, null, impurities.map(impurityText).join('; '), output.sumMilligramsPerKilogram];
}

function whyNot({ determination, run }: DeterminationFacts): string {
  if (determination.state === 'valid') return '';
  return determination.discarded?.reason ?? run.voidReason ?? '';
}

/** A determination as a row of a table, with its raw readings, uncertainties and verdict. */
export function determinationRow(facts: DeterminationFacts): readonly CsvValue[] {
  const { determination, run, result, ruling } = facts;
  return [
    determination.melt,
    run.worksheet.pieceStandard,
    determination.assayRun,
    run.method,
    determination.label,
    determination.blank,
    determination.state,
    whyNot(facts),
    ...readingsOf(facts),
    determination.finenessPerMille,
    determination.ownStandardUncertaintyPerMille,
    determination.runStandardUncertaintyPerMille,
    determination.methodStandardUncertaintyPerMille,
    run.instrument,
    run.author,
    run.instant,
    run.entry,
    result?.body.finenessPerMille ?? null,
    result?.body.standardUncertaintyPerMille ?? null,
    facts.limitPerMille,
    result?.body.verdict ?? '',
    result?.state ?? '',
    ruling?.ruling ?? '',
  ];
}
