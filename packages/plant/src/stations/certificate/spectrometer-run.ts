import type { ContentsFromSignalsInput } from '@cupel/calculation';
import type { AssayRunRow, ResultFileRow } from '../laboratory/index.ts';
import type {
  CalculationFigure,
  CertifiedMelt,
  CertifiedReading,
  NamedCalculation,
} from './content.ts';

const figure = (calculation: string, field: string): CalculationFigure => ({ calculation, field });

/** Names of calculations are unique in a melt: each bears the name of its run. */
const nameOf = (file: ResultFileRow, element: string): string =>
  `signals ${file.assayRun} ${element}`;

/** What the spectrometer's signals of one element gave. */
interface OfElement {
  readonly name: string;
  readonly element: string;
  readonly calculated: NamedCalculation['calculated'];
  readonly input: ContentsFromSignalsInput;
}

/** The elements of a file that has signals. */
function elementsOf(file: ResultFileRow): readonly OfElement[] {
  return file.figures.calibrations.flatMap(({ element, signals }) => {
    if (!signals) return [];
    const calculated = signals as unknown as NamedCalculation['calculated'];
    const input = signals.input as unknown as ContentsFromSignalsInput;
    return [{ name: nameOf(file, element), element, calculated, input }];
  });
}

/** The calculations by which signals became contents. */
export function signalCalculations(files: readonly ResultFileRow[]): readonly NamedCalculation[] {
  return files.flatMap((file) =>
    elementsOf(file).map(({ name, calculated }) => ({ name, entry: file.entry, calculated })),
  );
}

/** The signals of the solutions, as the file has them, each with the field that it enters. */
export function signalReadings(files: readonly ResultFileRow[]): readonly CertifiedReading[] {
  return files.flatMap((file) =>
    elementsOf(file).flatMap(({ name, element, input }) => {
      const at = file.table.elements.findIndex((one) => one.element === element);
      return input.solutions.flatMap(({ label, readings }, solution) =>
        readings.map(
          ({ order }, index): CertifiedReading => ({
            label: `${file.assayRun} ${label}`,
            quantity: `signal of ${element}`,
            reading: {
              text: file.table.rows[order - 1]?.contents[at] ?? '',
              unit: 'counts/s',
              typed: false,
            },
            entry: file.entry,
            feeds: [figure(name, `input.solutions.${solution}.readings.${index}.signal`)],
          }),
        ),
      );
    }),
  );
}

interface Impurity {
  readonly element: string;
  readonly contentMilligramsPerKilogram: number | null;
}

/** From the content of an element in a solution to the difference that it enters. */
function linksOfImpurity(
  { element, contentMilligramsPerKilogram: content }: Impurity,
  of: {
    readonly file: ResultFileRow;
    readonly solution: string;
    readonly calculation: string;
    readonly at: number;
  },
): CertifiedMelt['links'] {
  const found = elementsOf(of.file).find((one) => one.element === element);
  const index = found?.input.solutions.findIndex(({ label }) => label === of.solution) ?? -1;
  if (!found || index < 0) return [];
  const isOfMethod = of.file.method.limits.some((one) => one.element === element);
  const fields = [
    ...(content === null
      ? []
      : ['contentMilligramsPerKilogram', 'standardUncertaintyMilligramsPerKilogram']),
    ...(isOfMethod ? [] : ['detectionLimitMilligramsPerKilogram']),
  ];
  return fields.map((field) => ({
    from: figure(found.name, `output.solutions.${index}.${field}`),
    to: figure(of.calculation, `input.impurities.${of.at}.${field}`),
  }));
}

/** What the differences of a run take from the signals of its file. */
export function signalLinks(
  run: AssayRunRow,
  files: readonly ResultFileRow[],
  nameOfSolution: (label: string) => string,
): CertifiedMelt['links'] {
  const file = files.find(({ assayRun }) => assayRun === run.assayRun);
  if (!file || !('solutions' in run.worksheet)) return [];
  return run.worksheet.solutions.flatMap(({ label, difference }) => {
    const solution = file.solutions.find((one) => one.label === label)?.solution ?? '';
    const impurities = difference.input['impurities'] as unknown as readonly Impurity[];
    const calculation = nameOfSolution(label);
    return impurities.flatMap((one, at) =>
      linksOfImpurity(one, { file, solution, calculation, at }),
    );
  });
}
