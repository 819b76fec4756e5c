import {
  Part,
  PathLink,
  printInstant,
  printNumber,
  State,
  Table,
} from '../../../workbench/index.ts';
import { ExaminationsPart } from '../examination/screens/examinations-part.tsx';
import { DeterminationsPart } from './determinations-part.tsx';
import { measureLabels, measures, ReadingOnRule } from './judged-reading.tsx';
import { RunSheet } from './run-sheet.tsx';
import type { ShownBlank, ShownResult, TrialAnswer } from './trial-answer.ts';

/** Every reading behind a result, from the ruling down to the blanks. */
export function MeltEvidence({ answer }: { readonly answer: TrialAnswer }) {
  return (
    <>
      <DeterminationsPart answer={answer} />
      {answer.runs.map((run) => (
        <RunSheet key={run.assayRun} run={run} people={answer.people} />
      ))}
      <Blanks answer={answer} />
      <ExaminationsPart melt={answer.melt} />
      <Signatures answer={answer} />
    </>
  );
}

function Signatures({ answer }: { readonly answer: TrialAnswer }) {
  const { results, rulings, returns } = answer;
  if (results.length === 0 && rulings.length === 0) return null;
  const name = (id: string) => answer.people[id] ?? id;
  return (
    <Part title="Signed">
      <ol className="plain-list">
        {results.map((row) => (
          <SignedResult key={row.result} row={row} name={name} />
        ))}
        {rulings.map((row) => (
          <li key={row.entry}>
            <PathLink to={`/journal/${row.entry}`}>Ruling: {row.ruling}</PathLink> by{' '}
            {name(row.author)}, {printInstant(row.instant)}
            <p>{row.reason}</p>
          </li>
        ))}
        {returns.map((row) => (
          <li key={row.entry}>
            <PathLink to={`/journal/${row.entry}`}>
              {printNumber(row.pieces)} pieces returned
            </PathLink>{' '}
            by {name(row.author)} with {name(row.witness)}, {printInstant(row.instant)}
            <p className="faint">{row.document}</p>
          </li>
        ))}
      </ol>
    </Part>
  );
}

function SignedResult(props: { readonly row: ShownResult; readonly name: (id: string) => string }) {
  const { row, name } = props;
  return (
    <li>
      <PathLink to={`/journal/${row.result}`}>
        Result {printNumber(row.body.finenessPerMille, 3)} ‰, {row.body.verdict}
      </PathLink>{' '}
      signed by {name(row.signer)}, {printInstant(row.instant)}
      {row.state === 'superseded' ? (
        <>
          {' '}
          <State word="superseded" />
        </>
      ) : null}
      {row.checked ? (
        <p>
          Checked by {name(row.checked.author)}, {printInstant(row.checked.instant)}
        </p>
      ) : null}
      {row.sentBack ? (
        <p>
          <State word="sent back" tone="look" /> by {name(row.sentBack.author)}:{' '}
          {row.sentBack.reason}
        </p>
      ) : null}
    </li>
  );
}

function stateOfBlank(row: ShownBlank): string {
  if (row.cut) return 'cut';
  if (row.returned) return 'returned';
  return row.portion ? `in portion ${row.portion.portion}` : 'measured';
}

function BlankState({ row }: { readonly row: ShownBlank }) {
  const faults = row.measurement?.faults ?? [];
  return (
    <>
      {stateOfBlank(row)}
      {faults.map((fault) => (
        <p key={fault} className="blank-fault">
          <State word={fault} tone="stopped" />
        </p>
      ))}
      {row.corrected.map((before) => (
        <span key={before.entry} className="faint">
          {' '}
          <PathLink to={`/journal/${before.entry}`}>corrected</PathLink>: {before.reason}
        </span>
      ))}
    </>
  );
}

/** From this many blanks on the table is filtered. */
const manyBlanks = 60;

function Blanks({ answer }: { readonly answer: TrialAnswer }) {
  const { limits } = answer.physical;
  const measured = answer.blanks.filter(({ measurement }) => measurement);
  if (measured.length === 0) return null;
  return (
    <Part title="Blanks of the sample">
      <PhysicalWords answer={answer} />
      <Table
        caption="Measured blanks"
        rows={measured}
        filter={measured.length >= manyBlanks}
        keyOf={(row) => row.blank}
        columns={[
          {
            key: 'blank',
            title: 'Blank',
            value: (row) => row.blank,
            cell: (row) => (
              <span className="nowrap">
                {row.blank}
                {row.forAssay ? <span className="faint"> for assay</span> : null}
              </span>
            ),
          },
          ...measures.map((measure) => ({
            key: measure,
            title: measureLabels[measure],
            value: (row: ShownBlank) => measuredValue(row, measure),
            cell: (row: ShownBlank) => (
              <ReadingOnRule
                measured={measure}
                reading={row.measurement?.[measure]}
                limits={limits}
              />
            ),
            isNumber: true,
          })),
          {
            key: 'state',
            title: 'State',
            value: stateOfBlank,
            cell: (row: ShownBlank) => <BlankState row={row} />,
          },
        ]}
      />
    </Part>
  );
}

function measuredValue(
  { measurement }: ShownBlank,
  measured: (typeof measures)[number],
): number | undefined {
  if (!measurement) return undefined;
  const values = {
    mass: measurement.massMicrograms,
    diameter: measurement.diameterMillimetres,
    thickness: measurement.thicknessMillimetres,
  };
  return values[measured];
}

const physicalTones = { open: 'waits', accepted: 'done', rejected: 'stopped' } as const;

function PhysicalWords({ answer }: { readonly answer: TrialAnswer }) {
  const { physical } = answer;
  return (
    <p>
      <State word={physical.state} tone={physicalTones[physical.state]} />:{' '}
      {printNumber(physical.blanksMeasured)} of {printNumber(physical.blanksForPhysical)} measured,{' '}
      {printNumber(physical.blanksNonconforming)} outside their limits; the lot stands with{' '}
      {printNumber(physical.acceptanceNumber)} and falls with{' '}
      {printNumber(physical.rejectionNumber)}.{' '}
      {physical.byVariables === null
        ? null
        : `Judged by variables on ${printNumber(physical.byVariables.blanksNeeded)} of them. ${physical.byVariables.words}`}
    </p>
  );
}
