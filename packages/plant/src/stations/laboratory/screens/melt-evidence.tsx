import {
  PageContents,
  PathLink,
  printInstant,
  printNumber,
  Section,
  SectionPlace,
  State,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { ExaminationsAnswer } from '../examination/screens/examination-answer.ts';
import { ExaminationsPart } from '../examination/screens/examinations-part.tsx';
import { DeterminationsPart } from './determinations-part.tsx';
import { measureLabels, measures, ReadingOnRule } from './judged-reading.tsx';
import { type MeltSection, meltSections, runId } from './melt-sections.ts';
import { RunSheet } from './run-sheet.tsx';
import type { ShownBlank, ShownResult, TrialAnswer } from './trial-answer.ts';

/** Every reading behind a result, from the ruling down to the blanks. */
export function MeltEvidence({ answer }: { readonly answer: TrialAnswer }) {
  const sections = new Map(meltSections(answer).map((section) => [section.id, section]));
  return (
    <>
      <DeterminationsPart answer={answer} section={sections.get('determinations')} />
      {answer.runs.map((run) => {
        const section = sections.get(runId(run.assayRun));
        return section ? (
          <RunSheet key={run.assayRun} run={run} people={answer.people} section={section} />
        ) : null;
      })}
      <Blanks answer={answer} section={sections.get('blanks')} />
      <SectionPlace id={examinationsId}>
        <ExaminationsPart melt={answer.melt} />
      </SectionPlace>
      <Signatures answer={answer} section={sections.get('signed')} />
    </>
  );
}

const examinationsId = 'examinations';

/** The sections of a melt as links, the examinations too where there is something of them. */
export function MeltContents({ answer }: { readonly answer: TrialAnswer }) {
  const { melt } = answer;
  const { answer: examined } = useQuestion<ExaminationsAnswer | null>('melt-examinations', {
    melt,
  });
  const sections: readonly { readonly id: string; readonly title: string }[] = meltSections(answer);
  const hasExaminations = (examined?.examinations.length ?? 0) > 0;
  const signed = sections.findIndex(({ id }) => id === 'signed');
  const at = signed < 0 ? sections.length : signed;
  const examinations = { id: examinationsId, title: 'Hardness, structure and edge' };
  return (
    <PageContents sections={hasExaminations ? sections.toSpliced(at, 0, examinations) : sections} />
  );
}

interface InSection {
  readonly answer: TrialAnswer;
  readonly section: MeltSection | undefined;
}

function Signatures({ answer, section }: InSection) {
  const { results, rulings, returns } = answer;
  if (!section) return null;
  const name = (id: string) => answer.people[id] ?? id;
  return (
    <Section {...section}>
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
    </Section>
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

function Blanks({ answer, section }: InSection) {
  const { limits } = answer.physical;
  const measured = answer.blanks.filter(({ measurement }) => measurement);
  if (!section) return null;
  return (
    <Section {...section}>
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
    </Section>
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
