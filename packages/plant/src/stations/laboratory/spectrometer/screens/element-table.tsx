import { Figure, Part, printNumber, State, Table } from '../../../../workbench/index.ts';
import type { Finding, ResultFileFigures } from '../result-bodies.ts';

const limitWords = {
  file: 'stated in the file',
  method: 'of the method',
  blanks: 'from the blanks of the file',
  line: 'from the calibration line',
  none: 'not known',
} as const;

interface ElementRow {
  readonly element: string;
  readonly found: ReadonlyMap<string, Finding>;
  readonly flags: readonly string[];
}

function elementRows({ findings }: ResultFileFigures): readonly ElementRow[] {
  const elements = [...new Set(findings.map(({ element }) => element))];
  return elements.map((element) => {
    const own = findings.filter((one) => one.element === element);
    return {
      element,
      found: new Map(own.map((one) => [one.solution, one])),
      flags: [...new Set(own.flatMap(({ flags }) => flags))],
    };
  });
}

function Content({ finding }: { readonly finding: Finding | undefined }) {
  if (!finding) return '–';
  const { contentMilligramsPerKilogram: content } = finding;
  if (content === null) return `< ${printNumber(finding.detectionLimitMilligramsPerKilogram)}`;
  return (
    <>
      <Figure
        value={content}
        decimals={2}
        uncertainty={finding.standardUncertaintyMilligramsPerKilogram}
      />{' '}
      <span className="faint">{printNumber(finding.sharePercent, 1)} %</span>
    </>
  );
}

const flagColumn = {
  key: 'flags',
  title: 'Look at',
  value: (row: ElementRow) => row.flags.join(', '),
  cell: (row: ElementRow) =>
    row.flags.map((flag) => (
      <p key={flag} className="still-missing">
        <State word={flag} tone="look" />
      </p>
    )),
};

/** Every element in every solution: content with its standard uncertainty, share of the sum, limit, flags. */
export function ElementTable({ figures }: { readonly figures: ResultFileFigures }) {
  const rows = elementRows(figures);
  const solutions = [...new Set(figures.findings.map(({ solution }) => solution))];
  const sumOf = (solution: string) =>
    figures.findings
      .filter((one) => one.solution === solution)
      .reduce((sum, one) => sum + one.countedMilligramsPerKilogram, 0);
  const limitOf = (row: ElementRow) => [...row.found.values()][0];
  return (
    <Part title="Elements">
      <Table
        caption="Contents of the solutions"
        rows={rows}
        keyOf={(row) => row.element}
        isMarked={(row) => row.flags.length > 0}
        columns={[
          {
            key: 'element',
            title: 'Element',
            value: (row) => row.element,
            sum: () => 'Sum counted',
          },
          ...solutions.map((solution) => ({
            key: `solution ${solution}`,
            title: solution,
            unit: 'mg/kg',
            value: (row: ElementRow) => row.found.get(solution)?.countedMilligramsPerKilogram,
            cell: (row: ElementRow) => <Content finding={row.found.get(solution)} />,
            isNumber: true,
            sum: () => printNumber(sumOf(solution), 2),
          })),
          {
            key: 'limit',
            title: 'Detection limit',
            unit: 'mg/kg',
            value: (row) => limitOf(row)?.detectionLimitMilligramsPerKilogram,
            cell: (row) => {
              const one = limitOf(row);
              if (!one) return '–';
              return (
                <>
                  {printNumber(one.detectionLimitMilligramsPerKilogram)}{' '}
                  <span className="faint">{limitWords[one.limitFrom]}</span>
                </>
              );
            },
            isNumber: true,
          },
          ...(rows.some(({ flags }) => flags.length > 0) ? [flagColumn] : []),
        ]}
      />
      <p className="faint">
        ± is the standard uncertainty; the share is that of the sum that is counted.
        {figures.leftOut.length > 0
          ? ` ${figures.leftOut.join(', ')} is the metal itself and no impurity.`
          : ''}
      </p>
    </Part>
  );
}
