import type { CupellationOutput } from '@cupel/calculation';
import {
  Figure,
  PathLink,
  printInstant,
  printNumber,
  ReadingFigure,
  Section,
  State,
  Table,
} from '../../../workbench/index.ts';
import type { CupellationRecorded, DifferenceRecorded } from '../bodies.ts';
import type { AssayRunRow } from '../books.ts';
import { ControlsSheet } from '../controls/screens/controls-sheet.tsx';
import { MufflePicture } from '../muffle/screens/muffle-picture.tsx';
import { ResultFileLink } from '../spectrometer/screens/result-file-link.tsx';
import { TitrationSheet } from '../titration/screens/titration-sheet.tsx';
import type { MeltSection } from './melt-sections.ts';

function Worksheet({ sheet }: { readonly sheet: AssayRunRow['worksheet'] }) {
  if ('proofs' in sheet) return <CupellationSheet sheet={sheet} />;
  if ('solutions' in sheet) return <DifferenceSheet sheet={sheet} />;
  return <TitrationSheet sheet={sheet} />;
}

/** The worksheet of a run with every reading. */
export function RunSheet(props: {
  readonly run: AssayRunRow;
  readonly people: Readonly<Record<string, string>>;
  readonly section: MeltSection;
}) {
  const { run, people, section } = props;
  return (
    <Section
      {...section}
      aside={run.state === 'void' ? <State word="void" tone="stopped" /> : undefined}
    >
      {run.voidReason ? <p>{run.voidReason}</p> : null}
      <p className="faint">
        <PathLink to={`/journal/${run.entry}`}>Entry {printNumber(run.entry)}</PathLink>,{' '}
        {people[run.author] ?? run.author}, {printInstant(run.instant)}, on {run.instrument}
      </p>
      <ResultFileLink run={run} />
      <ControlsSheet quality={run.worksheet} />
      <Worksheet sheet={run.worksheet} />
    </Section>
  );
}

interface Weighing {
  readonly label: string;
  readonly blank: string;
  readonly taken: CupellationRecorded['proofs'][number]['goldTaken'];
  readonly cornet: CupellationRecorded['proofs'][number]['cornet'];
  readonly lossMilligrams: number | undefined;
  readonly finenessPerMille: number | undefined;
}

function weighingsOf(sheet: CupellationRecorded): readonly Weighing[] {
  const output = sheet.cupellation.output as unknown as CupellationOutput;
  const input = sheet.cupellation.input as unknown as {
    readonly proofs: readonly {
      readonly goldTakenMilligrams: number;
      readonly cornetMassMilligrams: number;
    }[];
  };
  return [
    ...sheet.proofs.map((proof, index) => {
      const numbers = input.proofs[index];
      return {
        label: `proof ${proof.label}`,
        blank: '',
        taken: proof.goldTaken,
        cornet: proof.cornet,
        lossMilligrams: numbers && numbers.goldTakenMilligrams - numbers.cornetMassMilligrams,
        finenessPerMille: undefined,
      };
    }),
    ...sheet.samples.map((sample, index) => ({
      label: `portion ${sample.label}`,
      blank: sample.blank,
      taken: sample.sample,
      cornet: sample.cornet,
      lossMilligrams: undefined,
      finenessPerMille: output.determinations[index]?.finenessPerMille,
    })),
  ];
}

function CupellationSheet({ sheet }: { readonly sheet: CupellationRecorded }) {
  return (
    <>
      {sheet.muffle ? (
        <MufflePicture grid={sheet.muffle} proofs={sheet.proofs.map(({ label }) => label)} />
      ) : null}
      <Table
        caption={`Weighings of ${sheet.assayRun}`}
        rows={weighingsOf(sheet)}
        keyOf={(row) => row.label}
        columns={[
          { key: 'label', title: 'What', value: (row) => row.label },
          { key: 'blank', title: 'Blank', value: (row) => row.blank },
          {
            key: 'taken',
            title: 'Taken',
            value: (row) => Number(row.taken.text),
            cell: (row) => <ReadingFigure reading={row.taken} />,
            isNumber: true,
          },
          {
            key: 'cornet',
            title: 'Cornet',
            value: (row) => Number(row.cornet.text),
            cell: (row) => <ReadingFigure reading={row.cornet} />,
            isNumber: true,
          },
          {
            key: 'loss',
            title: 'Loss of the proof',
            unit: 'mg',
            value: (row) => row.lossMilligrams,
            decimals: 3,
          },
          {
            key: 'fineness',
            title: 'Fineness',
            unit: '‰',
            value: (row) => row.finenessPerMille,
            decimals: 3,
          },
        ]}
      />
      <p>{String(sheet.cupellation.output['words'])}</p>
      <p className="faint">
        The extraction over furnace and parting acid ran, as the assayer confirmed.
        {sheet.proofGoldStandardUncertaintyPerMille === null
          ? ''
          : ` Proof gold: standard uncertainty ${printNumber(sheet.proofGoldStandardUncertaintyPerMille)} ‰.`}
      </p>
    </>
  );
}

interface Impurity {
  readonly element: string;
  readonly contentMilligramsPerKilogram: number | null;
  readonly detectionLimitMilligramsPerKilogram: number;
}

const policyWords = { zero: 'zero', half: 'half that limit', limit: 'that limit' } as const;

function DifferenceSheet({ sheet }: { readonly sheet: DifferenceRecorded }) {
  const solutions = sheet.solutions.map(({ label, blank, difference }) => ({
    label,
    blank,
    impurities: difference.input['impurities'] as unknown as readonly Impurity[],
    sum: Number(difference.output['sumMilligramsPerKilogram']),
  }));
  const elements = [
    ...new Set(solutions.flatMap(({ impurities }) => impurities.map(({ element }) => element))),
  ];
  return (
    <>
      <Table
        caption={`Impurities of the solutions of ${sheet.assayRun}`}
        rows={elements}
        filter={false}
        keyOf={(element) => element}
        columns={[
          {
            key: 'element',
            title: 'Element',
            value: (element) => element,
            sum: () => 'Sum counted',
          },
          ...solutions.map(({ label, impurities, sum }) => ({
            key: label,
            title: label,
            unit: 'mg/kg',
            value: (element: string) =>
              impurities.find((one) => one.element === element)?.contentMilligramsPerKilogram,
            cell: (element: string) => (
              <Content impurity={impurities.find((one) => one.element === element)} />
            ),
            isNumber: true,
            sum: () => printNumber(sum, 2),
          })),
        ]}
      />
      <p className="faint">
        {solutions.map(({ label, blank }) => `${label} is of blank ${blank}`).join(', ')}. An
        element below its detection limit counts as {policyWords[sheet.policy]}.
      </p>
    </>
  );
}

function Content({ impurity }: { readonly impurity: Impurity | undefined }) {
  if (!impurity) return '–';
  if (impurity.contentMilligramsPerKilogram === null) {
    return `< ${printNumber(impurity.detectionLimitMilligramsPerKilogram)}`;
  }
  return <Figure value={impurity.contentMilligramsPerKilogram} decimals={2} />;
}
