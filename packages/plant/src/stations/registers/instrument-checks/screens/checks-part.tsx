import {
  CommandForm,
  Figure,
  Part,
  PathLink,
  pathTo,
  printInstant,
  State,
  Table,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { InstrumentRow } from '../../books.ts';
import type { InstrumentCheckRow, SuspectIntervalRow } from '../books.ts';

interface ChecksAnswer {
  readonly checks: readonly InstrumentCheckRow[];
  readonly intervals: readonly SuspectIntervalRow[];
}

const greatestOf = ({ errors }: InstrumentCheckRow): number => Math.max(...errors.map(Math.abs));

/** The checks of an instrument between its calibrations, and the next one. */
export function ChecksPart({ row }: { readonly row: InstrumentRow }) {
  const { instrument } = row;
  const { answer } = useQuestion<ChecksAnswer | null>('instrument-checks', { instrument });
  const may = useMay('record-instrument-check');
  const mayDoubt = useMay('doubt-calibration');
  const checks = answer?.checks ?? [];
  const kind = row.kind === 'balance' ? 'weights' : 'values';
  return (
    <Part title="Checks between calibrations">
      {row.stopped ? (
        <p>
          <State word={`Stopped. ${row.stopped.words}`} tone="stopped" />{' '}
          {row.stopped.cause === 'calibration'
            ? 'Only a calibration opens it again.'
            : 'A passed check or a calibration opens it again.'}
        </p>
      ) : null}
      {checks.length > 0 ? <Checks checks={checks} /> : <p className="faint">None is recorded.</p>}
      <Doubts intervals={answer?.intervals ?? []} />
      {may ? (
        <CommandForm
          key={checks.length}
          command="record-instrument-check"
          label="Record instrument check"
          given={{ instrument }}
          initial={{ check: { kind } }}
        />
      ) : null}
      {mayDoubt && row.stopped?.cause !== 'calibration' ? (
        <details className="act-fold">
          <summary>Its calibration is wrong</summary>
          <p className="faint">
            The instrument stops, and everything that it gave since the calibration is held until
            you answer for it.
          </p>
          <CommandForm
            command="doubt-calibration"
            label="State wrong calibration"
            given={{ instrument }}
          />
        </details>
      ) : null}
    </Part>
  );
}

function Checks({ checks }: { readonly checks: readonly InstrumentCheckRow[] }) {
  return (
    <Table
      caption="Checks, newest first"
      rows={checks}
      filter={false}
      keyOf={(check) => String(check.entry)}
      isMarked={(check) => !check.passes}
      columns={[
        {
          key: 'when',
          title: 'Recorded',
          value: (check) => check.instant,
          cell: (check) => (
            <PathLink to={`/journal/${check.entry}`}>{printInstant(check.instant)}</PathLink>
          ),
        },
        {
          key: 'standards',
          title: 'Check standards',
          value: (check) => check.check.points.map((point) => point.checkStandard).join(', '),
        },
        {
          key: 'error',
          title: 'Greatest error',
          value: greatestOf,
          cell: (check) => <Figure value={greatestOf(check)} unit={check.unit} />,
          isNumber: true,
        },
        {
          key: 'limit',
          title: 'Limit',
          value: (check) => check.limit,
          cell: (check) => <Figure value={check.limit} unit={check.unit} />,
          isNumber: true,
        },
        {
          key: 'state',
          title: 'State',
          value: (check) => (check.passes ? 'passed' : 'failed'),
          cell: (check) => (check.passes ? 'passed' : <State word="failed" tone="stopped" />),
        },
      ]}
    />
  );
}

function Doubts({ intervals }: { readonly intervals: readonly SuspectIntervalRow[] }) {
  if (intervals.length === 0) return null;
  return (
    <ul className="plain-list">
      {intervals.map(({ instrument, through, throughInstant, cause }) => (
        <li key={through}>
          <PathLink
            to={pathTo('/laboratory/holds/$hold', { hold: `instrument/${instrument}/${through}` })}
          >
            {cause === 'calibration'
              ? 'In doubt by the calibration found wrong on'
              : 'In doubt since the failed check of'}{' '}
            {printInstant(throughInstant)}
          </PathLink>
        </li>
      ))}
    </ul>
  );
}
