import { Figure, Section, State, Table } from '../../../workbench/index.ts';
import type { ResultFigures } from '../bodies.ts';
import type { DeterminationRow } from '../books.ts';
import type { MeltSection } from './melt-sections.ts';
import { ResultPictureShown } from './result-picture.tsx';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

/** The determinations, and how the result follows from them. */
export function DeterminationsPart(props: {
  readonly answer: TrialAnswer;
  readonly section: MeltSection | undefined;
}) {
  const { answer, section } = props;
  const { determinations, preview } = answer;
  if (!section) return null;
  const figures =
    preview?.state === 'complete' ? preview.figures : standingResultOf(answer.results)?.body;
  return (
    <Section {...section}>
      <Determinations rows={determinations} />
      {figures ? <Steps figures={figures} /> : null}
      {answer.picture ? <ResultPictureShown picture={answer.picture} /> : null}
    </Section>
  );
}

/** Standard uncertainty of one determination by itself, all its parts together. */
const uncertaintyOf = (row: DeterminationRow): number =>
  Math.hypot(
    row.ownStandardUncertaintyPerMille,
    row.runStandardUncertaintyPerMille,
    row.methodStandardUncertaintyPerMille,
  );

function Determinations({ rows }: { readonly rows: readonly DeterminationRow[] }) {
  return (
    <Table
      caption="Determinations"
      rows={rows}
      keyOf={(row) => `${row.assayRun} ${row.label}`}
      columns={[
        {
          key: 'run',
          title: 'Run',
          value: (row) => row.assayRun,
          cell: (row) => <span className="nowrap">{row.assayRun}</span>,
        },
        { key: 'label', title: 'Label', value: (row) => row.label },
        {
          key: 'blank',
          title: 'Blank',
          value: (row) => row.blank,
          cell: (row) => <span className="nowrap">{row.blank}</span>,
        },
        {
          key: 'fineness',
          title: 'Fineness',
          unit: '‰',
          value: (row) => row.finenessPerMille,
          decimals: 3,
        },
        {
          key: 'uncertainty',
          title: 'Standard uncertainty',
          unit: '‰',
          value: uncertaintyOf,
          decimals: 4,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.state,
          cell: (row) => <DeterminationState row={row} />,
        },
      ]}
    />
  );
}

function DeterminationState({ row }: { readonly row: DeterminationRow }) {
  if (row.state === 'valid') return 'valid';
  return (
    <>
      <State word={row.state} tone="look" />{' '}
      <span className="faint">{row.discarded?.reason ?? 'its run is void'}</span>
    </>
  );
}

function Steps({ figures }: { readonly figures: ResultFigures }) {
  const { uncertainty, degreesOfFreedom } = figures;
  return (
    <>
      <p>{String(figures.replicates.output['words'])}</p>
      <p>
        Standard uncertainty{' '}
        <Figure value={uncertainty.output.standardUncertaintyPerMille} decimals={4} unit="‰" />
        {degreesOfFreedom === null ? null : (
          <>
            , effective degrees of freedom <Figure value={degreesOfFreedom} decimals={1} />
          </>
        )}
        , from:
      </p>
      <Table
        caption="Parts of the standard uncertainty"
        rows={uncertainty.output.budget}
        keyOf={(row) => row.contribution}
        columns={[
          { key: 'part', title: 'Part', value: (row) => row.contribution },
          {
            key: 'uncertainty',
            title: 'Standard uncertainty',
            unit: '‰',
            value: (row) => row.standardUncertaintyPerMille,
            decimals: 4,
          },
          {
            key: 'share',
            title: 'Share of the variance',
            unit: '%',
            value: (row) => row.sharePercent,
            decimals: 1,
          },
        ]}
      />
    </>
  );
}
