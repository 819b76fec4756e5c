import {
  CheckField,
  ChoiceField,
  FieldRow,
  Part,
  SideAct,
  TextField,
  useCommand,
} from '../../../../workbench/index.ts';
import { figureUnits } from '../content-unit.ts';
import type { ResultMapping } from '../result-bodies.ts';
import type { ResultProposal } from '../result-proposal.ts';
import { usualSignals } from '../signals.ts';
import { hasSignals, type MethodDraft, methodOf } from './method-draft.ts';

const groupMarks = [
  { value: 'none', label: 'not grouped' },
  { value: 'point', label: '1.234' },
  { value: 'comma', label: '1,234' },
  { value: 'blank', label: '1 234' },
  { value: 'apostrophe', label: '1’234' },
] as const;

const askedOf = {
  'elements across': ['label', 'role'],
  'elements down': ['element', 'unit', 'limit'],
  'one value in a row': ['label', 'role', 'element', 'content', 'unit', 'limit'],
} as const;

const labels = {
  label: 'Label of the solution',
  role: 'Kind of the row',
  element: 'Element',
  content: 'Content',
  unit: 'Unit',
  limit: 'Detection limit',
} as const;

interface ColumnsProps {
  readonly instrument: string;
  readonly proposal: ResultProposal;
  readonly mapping: ResultMapping;
  readonly change: (mapping: ResultMapping) => void;
  readonly method: MethodDraft;
  readonly changeMethod: (part: Partial<MethodDraft>) => void;
  readonly isConfirmed: boolean;
}

/** What the file means and what is known of the method: proposed, and confirmed by a person once. */
export function ResultColumns(props: ColumnsProps) {
  const { instrument, proposal, mapping, change, isConfirmed } = props;
  const confirm = useCommand('confirm-result-mapping');
  const method = methodOf(props.method, mapping);
  const doubts = isConfirmed ? [] : proposal.doubts;
  return (
    <Part
      title="What the file means"
      aside={
        <span className="faint">
          {isConfirmed
            ? 'as confirmed for this spectrometer'
            : 'proposed; look at it and confirm it once'}
        </span>
      }
    >
      {doubts.map((doubt) => (
        <p key={doubt} className="table-doubt">
          {doubt}
        </p>
      ))}
      <NamedColumns {...props} />
      <ElementColumns {...props} />
      <SolutionColumns {...props} />
      <FieldRow>
        <ChoiceField
          label="Unit where the file names none"
          value={mapping.unit}
          choices={figureUnits.map((unit) => ({ value: unit, label: unit }))}
          onChange={(unit) => change({ ...mapping, unit })}
        />
        <ChoiceField
          label="Decimal mark"
          value={mapping.decimalMark}
          choices={[
            { value: 'point', label: 'point' },
            { value: 'comma', label: 'comma' },
          ]}
          onChange={(decimalMark) => change({ ...mapping, decimalMark })}
        />
        <ChoiceField
          label="Thousands"
          value={mapping.groupMark}
          choices={groupMarks}
          onChange={(groupMark) => change({ ...mapping, groupMark })}
        />
      </FieldRow>
      <Marks mapping={mapping} change={change} />
      {mapping.layout === 'elements down' ? null : (
        <CheckField
          label="A row without a label is a replicate of the one above"
          checked={mapping.fillDown}
          onChange={(fillDown) => change({ ...mapping, fillDown })}
        />
      )}
      <MethodFields
        draft={props.method}
        change={props.changeMethod}
        isOfSignals={hasSignals(mapping)}
      />
      {isConfirmed ? null : (
        <SideAct
          label="Confirm what it means"
          command={confirm}
          input={() => ({ instrument, mapping, method: 'method' in method ? method.method : null })}
          notYet={'problem' in method ? `${method.problem}.` : undefined}
        />
      )}
    </Part>
  );
}

function NamedColumns({ mapping, proposal, change }: ColumnsProps) {
  return (
    <FieldRow>
      {askedOf[mapping.layout].map((column) => (
        <div key={column} className="field">
          <label htmlFor={`column-${column}`}>{labels[column]}</label>
          <select
            id={`column-${column}`}
            value={mapping.columns[column] ?? ''}
            onChange={({ target }) =>
              change({
                ...mapping,
                columns: {
                  ...mapping.columns,
                  [column]: target.value === '' ? null : target.value,
                },
              })
            }
          >
            <option value="">not in the file</option>
            {proposal.names.map((name) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </select>
        </div>
      ))}
    </FieldRow>
  );
}

/** Columns of elements, each with the element that is taken from it. */
function ElementColumns({ mapping, change }: ColumnsProps) {
  if (mapping.layout !== 'elements across') return null;
  const set = (index: number, part: Partial<ResultMapping['elements'][number]>) =>
    change({
      ...mapping,
      elements: mapping.elements.map((one, at) => (at === index ? { ...one, ...part } : one)),
    });
  return (
    <div className="table-scroll">
      <table className="entry-table">
        <caption className="unseen">Columns of elements</caption>
        <thead>
          <tr>
            <th scope="col">Column</th>
            <th scope="col">Element</th>
            <th scope="col">Unit</th>
          </tr>
        </thead>
        <tbody>
          {mapping.elements.map(({ column, element, unit }, index) => (
            <tr key={column}>
              <th scope="row">{column}</th>
              <td>
                <input
                  className="entry-text"
                  aria-label={`Element of ${column}; empty leaves it out`}
                  placeholder="left out"
                  value={element ?? ''}
                  onChange={({ target }) =>
                    set(index, { element: target.value.trim() === '' ? null : target.value.trim() })
                  }
                />
              </td>
              <td>
                <select
                  aria-label={`Unit of ${column}`}
                  value={unit}
                  onChange={({ target }) =>
                    set(index, { unit: target.value as ResultMapping['unit'] })
                  }
                >
                  {figureUnits.map((one) => (
                    <option key={one}>{one}</option>
                  ))}
                </select>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Where solutions stand across: which columns are some. */
function SolutionColumns({ mapping, proposal, change }: ColumnsProps) {
  if (mapping.layout !== 'elements down') return null;
  const known = Object.values(mapping.columns);
  return (
    <fieldset className="field choice">
      <legend>Columns that are solutions</legend>
      {proposal.names
        .filter((name) => !known.includes(name))
        .map((name) => (
          <CheckField
            key={name}
            label={name}
            checked={!mapping.leftOut.includes(name)}
            onChange={(isSolution) =>
              change({
                ...mapping,
                leftOut: isSolution
                  ? mapping.leftOut.filter((other) => other !== name)
                  : [...mapping.leftOut, name],
              })
            }
          />
        ))}
    </fieldset>
  );
}

const marks = [
  ['calibration', 'Calibration standards begin with'],
  ['drift', 'The drift standard begins with'],
  ['blank', 'Reagent blanks begin with'],
] as const;

function Marks(props: Pick<ColumnsProps, 'mapping' | 'change'>) {
  const { mapping, change } = props;
  return (
    <FieldRow>
      {marks.map(([mark, label]) => (
        <TextField
          key={mark}
          label={label}
          value={mapping.marks[mark]}
          optional
          onChange={(text) => change({ ...mapping, marks: { ...mapping.marks, [mark]: text } })}
        />
      ))}
    </FieldRow>
  );
}

function MethodFields(props: {
  readonly draft: MethodDraft;
  readonly change: (part: Partial<MethodDraft>) => void;
  readonly isOfSignals: boolean;
}) {
  const { draft, change, isOfSignals } = props;
  return (
    <>
      <FieldRow>
        <TextField
          label="Calibration uncertainty"
          kind="decimal"
          unit="%"
          value={draft.calibration}
          hint={
            isOfSignals
              ? 'Relative standard uncertainty of all standards together; that of the line is found from its signals.'
              : 'Relative standard uncertainty of a content by the calibration alone.'
          }
          onChange={(calibration) => change({ calibration })}
        />
        <TextField
          label="Drift limit"
          kind="decimal"
          unit="%"
          value={draft.drift}
          hint="Beyond it somebody must answer for the run."
          onChange={(drift) => change({ drift })}
        />
      </FieldRow>
      <TextField
        label="Detection limits"
        value={draft.limits}
        optional
        hint="In mg/kg, where the file states none: Cu 0.5; Fe 0.3"
        onChange={(limits) => change({ limits })}
      />
      <TextField
        label="Known contents of the calibration standards"
        kind="long"
        value={draft.standards}
        optional
        hint="In mg/kg, one standard in a line: Std 1: Cu 10; Fe 5"
        onChange={(standards) => change({ standards })}
      />
      {isOfSignals ? <SignalFields draft={draft} change={change} /> : null}
    </>
  );
}

/** How contents are found where the file has signals only. */
function SignalFields(props: {
  readonly draft: MethodDraft;
  readonly change: (part: Partial<MethodDraft>) => void;
}) {
  const signals = props.draft.signals ?? usualSignals;
  const change = (part: Partial<typeof signals>) =>
    props.change({ signals: { ...signals, ...part } });
  return (
    <>
      <p className="faint">
        The file has signals: contents are read from the line of its calibration standards.
      </p>
      <ChoiceField
        label="Signals of the standards"
        value={signals.weighting}
        choices={[
          { value: 'equal', label: 'all spread alike' },
          { value: 'relative', label: 'spread as the repeated ones of each show' },
        ]}
        onChange={(weighting) => change({ weighting })}
      />
      <CheckField
        label="Take the drift off between readings of the drift standard"
        checked={signals.isDriftTakenOff}
        onChange={(isDriftTakenOff) => change({ isDriftTakenOff })}
      />
    </>
  );
}
