import {
  Figure,
  Part,
  PathLink,
  printInstant,
  printNumber,
  ReadingFigure,
  State,
  Table,
} from '../../../workbench/index.ts';
import type { CupellationRecorded, DifferenceRecorded } from '../bodies.ts';
import type { AssayRunRow } from '../books.ts';
import type { ShownBlank, TrialAnswer } from './trial-answer.ts';

/** Every reading behind a result, down to the blanks. */
export function MeltEvidence({ answer }: { readonly answer: TrialAnswer }) {
  return (
    <>
      <Rulings answer={answer} />
      <Determinations answer={answer} />
      {answer.runs.map((run) => (
        <Run key={run.assayRun} run={run} />
      ))}
      <Blanks answer={answer} />
    </>
  );
}

function Rulings({ answer }: { readonly answer: TrialAnswer }) {
  const signed = answer.results.filter(({ state }) => state !== 'superseded');
  if (signed.length === 0 && answer.rulings.length === 0) return null;
  const name = (id: string) => answer.people[id] ?? id;
  return (
    <Part title="Signatures">
      <ul className="plain-list">
        {answer.rulings.map((row) => (
          <li key={row.entry}>
            <PathLink to={`/journal/${row.entry}`}>Ruling: {row.ruling}</PathLink> by{' '}
            {name(row.author)}, {printInstant(row.instant)}
            <p>{row.reason}</p>
          </li>
        ))}
        {signed.map((row) => (
          <li key={row.result}>
            <PathLink to={`/journal/${row.result}`}>
              Result {printNumber(row.body.finenessPerMille, 3)} ‰
            </PathLink>{' '}
            signed by {name(row.signer)}
            {row.checked ? `, checked by ${name(row.checked.author)}` : ''}
            {row.sentBack ? (
              <p>
                <State word="sent back" tone="look" /> {row.sentBack.reason}
              </p>
            ) : null}
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Determinations({ answer }: { readonly answer: TrialAnswer }) {
  if (answer.determinations.length === 0) return null;
  return (
    <Part title="Determinations">
      <Table
        caption="Determinations"
        rows={answer.determinations}
        keyOf={(row) => `${row.assayRun} ${row.label}`}
        columns={[
          { key: 'run', title: 'Run', value: (row) => row.assayRun },
          { key: 'label', title: 'Label', value: (row) => row.label },
          { key: 'blank', title: 'Blank', value: (row) => row.blank },
          {
            key: 'fineness',
            title: 'Fineness',
            unit: '‰',
            value: (row) => row.finenessPerMille,
            decimals: 3,
          },
          {
            key: 'state',
            title: 'State',
            value: (row) => row.state,
            cell: (row) =>
              row.state === 'valid' ? (
                'valid'
              ) : (
                <State
                  word={`${row.state}: ${row.discarded?.reason ?? 'its run is void'}`}
                  tone="look"
                />
              ),
          },
        ]}
      />
    </Part>
  );
}

const isCupellation = (
  sheet: CupellationRecorded | DifferenceRecorded,
): sheet is CupellationRecorded => 'proofs' in sheet;

function Run({ run }: { readonly run: AssayRunRow }) {
  return (
    <Part
      title={`Run ${run.assayRun}`}
      aside={
        run.state === 'void' ? <State word={`void: ${run.voidReason}`} tone="stopped" /> : undefined
      }
    >
      {isCupellation(run.worksheet) ? (
        <CupellationSheet sheet={run.worksheet} />
      ) : (
        <DifferenceSheet sheet={run.worksheet} />
      )}
    </Part>
  );
}

function CupellationSheet({ sheet }: { readonly sheet: CupellationRecorded }) {
  const rows = [
    ...sheet.proofs.map((proof) => ({
      label: `proof ${proof.label}`,
      blank: '',
      taken: proof.goldTaken,
      cornet: proof.cornet,
    })),
    ...sheet.samples.map((sample) => ({
      label: `portion ${sample.label}`,
      blank: sample.blank,
      taken: sample.sample,
      cornet: sample.cornet,
    })),
  ];
  return (
    <Table
      caption="Weighings of the run"
      rows={rows}
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
      ]}
    />
  );
}

interface Impurity {
  readonly element: string;
  readonly contentMilligramsPerKilogram: number | null;
  readonly detectionLimitMilligramsPerKilogram: number;
}

function DifferenceSheet({ sheet }: { readonly sheet: DifferenceRecorded }) {
  const solutions = sheet.solutions.map(({ label, difference }) => ({
    label,
    impurities: difference.input['impurities'] as unknown as readonly Impurity[],
  }));
  const elements = [
    ...new Set(solutions.flatMap(({ impurities }) => impurities.map(({ element }) => element))),
  ];
  const found = (label: string, element: string) =>
    solutions
      .find((solution) => solution.label === label)
      ?.impurities.find((impurity) => impurity.element === element);
  return (
    <Table
      caption={`Impurities; elements not found count as ${sheet.policy === 'limit' ? 'their limit' : sheet.policy}`}
      rows={elements}
      keyOf={(element) => element}
      columns={[
        { key: 'element', title: 'Element', value: (element) => element },
        ...solutions.map(({ label }) => ({
          key: label,
          title: `Solution ${label}`,
          unit: 'mg/kg',
          value: (element: string) => found(label, element)?.contentMilligramsPerKilogram ?? 0,
          cell: (element: string) => {
            const impurity = found(label, element);
            const content = impurity?.contentMilligramsPerKilogram;
            return content === null || content === undefined ? (
              `< ${impurity?.detectionLimitMilligramsPerKilogram ?? '–'}`
            ) : (
              <Figure value={content} decimals={2} />
            );
          },
          isNumber: true,
        })),
      ]}
    />
  );
}

function stateOfBlank(row: ShownBlank): string {
  if (row.cut) return 'cut';
  if (row.returned) return 'returned';
  return row.measurement ? 'measured' : 'to be measured';
}

function Blanks({ answer }: { readonly answer: TrialAnswer }) {
  const { physical } = answer;
  return (
    <Part title="Blanks of the sample">
      <p>
        {physical.blanksMeasured} of {physical.blanksForPhysical} measured,{' '}
        {physical.blanksNonconforming} outside their limits; the lot stands with{' '}
        {physical.acceptanceNumber} and falls with {physical.rejectionNumber}:{' '}
        <State
          word={physical.state}
          tone={
            physical.state === 'rejected'
              ? 'stopped'
              : physical.state === 'open'
                ? 'waits'
                : 'plain'
          }
        />
      </p>
      <Table
        caption="Drawn blanks"
        rows={answer.blanks}
        keyOf={(row) => row.blank}
        columns={[
          { key: 'blank', title: 'Blank', value: (row) => row.blank },
          {
            key: 'mass',
            title: 'Mass',
            value: (row) => row.measurement?.massMicrograms ?? 0,
            cell: (row) => <ReadingFigure reading={row.measurement?.mass} />,
            isNumber: true,
          },
          {
            key: 'diameter',
            title: 'Diameter',
            value: (row) => row.measurement?.diameterMillimetres ?? 0,
            cell: (row) => <ReadingFigure reading={row.measurement?.diameter} />,
            isNumber: true,
          },
          {
            key: 'thickness',
            title: 'Thickness',
            value: (row) => row.measurement?.thicknessMillimetres ?? 0,
            cell: (row) => <ReadingFigure reading={row.measurement?.thickness} />,
            isNumber: true,
          },
          {
            key: 'faults',
            title: 'Faults',
            value: (row) => row.measurement?.faults.join(', ') ?? '',
          },
          { key: 'state', title: 'State', value: stateOfBlank },
        ]}
      />
    </Part>
  );
}
