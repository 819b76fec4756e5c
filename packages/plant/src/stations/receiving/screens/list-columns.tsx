import type { Sheet } from '../../../tables/sheet.ts';
import {
  CheckField,
  ChoiceField,
  FieldRow,
  Part,
  SideAct,
  useCommand,
} from '../../../workbench/index.ts';
import { listMassUnits } from '../list/amount.ts';
import type { ListField } from '../list/header-words.ts';
import { missingFields, type Proposal, type ProposedMapping } from '../list/proposal.ts';

const asked: readonly (readonly [ListField, string, string])[] = [
  ['drum', 'Drum', 'choose'],
  ['melt', 'Melt', 'in a line of its own'],
  ['pieces', 'Pieces', 'choose'],
  ['gross', 'Gross mass', 'not in the list'],
  ['tare', 'Tare', 'not in the list'],
  ['net', 'Net mass', 'not in the list'],
  ['seal', 'Seal', 'choose'],
  ['fineness', 'Fineness', 'not in the list'],
];

const massFields = [
  ['gross', 'Unit of gross'],
  ['tare', 'Unit of tare'],
  ['net', 'Unit of net'],
] as const;

const groupMarks = [
  { value: 'none', label: 'not grouped' },
  { value: 'point', label: '1.234' },
  { value: 'comma', label: '1,234' },
  { value: 'blank', label: '1 234' },
  { value: 'apostrophe', label: '1’234' },
] as const;

/** What a column says in the first row; the supplier's fineness is shown to nobody. */
function firstRow(field: ListField, name: string | null, cells: Proposal['firstRow']): string {
  if (name === null) return '';
  if (field === 'fineness') return 'Kept from the laboratory until it has signed.';
  return `First row: ${cells[name] ?? ''}`;
}

/** What the columns of the list mean: proposed, shown with the first row, and confirmed by a person once. */
export function ListColumns(props: {
  readonly supplier: string;
  readonly sheets: readonly Sheet[];
  readonly proposal: Proposal;
  readonly mapping: ProposedMapping;
  readonly isConfirmed: boolean;
  readonly change: (mapping: ProposedMapping) => void;
}) {
  const { supplier, sheets, proposal, mapping, isConfirmed, change } = props;
  const confirm = useCommand('confirm-list-mapping');
  const { columns } = mapping;
  const missing = missingFields(mapping, sheets);
  const doubts = isConfirmed ? [] : proposal.doubts;
  return (
    <Part
      title="What its columns mean"
      aside={
        <span className="faint">
          {isConfirmed
            ? 'as confirmed for this supplier'
            : 'proposed; look at it and confirm it once'}
        </span>
      }
    >
      {doubts.map((doubt) => (
        <p key={doubt} className="list-doubt">
          {doubt}
        </p>
      ))}
      <FieldRow>
        {asked.map(([field, label, none]) => (
          <ColumnField
            key={field}
            id={`column-${field}`}
            label={label}
            value={columns[field] ?? ''}
            names={proposal.names}
            none={none}
            hint={firstRow(field, columns[field], proposal.firstRow)}
            onChange={(name) =>
              change({ ...mapping, columns: { ...columns, [field]: name === '' ? null : name } })
            }
          />
        ))}
      </FieldRow>
      <NumberForms mapping={mapping} change={change} />
      {isConfirmed ? null : (
        <SideAct
          label="Confirm columns"
          command={confirm}
          input={() => ({ supplier, mapping })}
          notYet={
            supplier === ''
              ? 'Choose the supplier first.'
              : missing.length > 0
                ? `Choose the columns for ${missing.join(', ')}.`
                : undefined
          }
        />
      )}
    </Part>
  );
}

/** How the list writes masses, fineness and numbers. */
function NumberForms(props: {
  readonly mapping: ProposedMapping;
  readonly change: (mapping: ProposedMapping) => void;
}) {
  const { mapping, change } = props;
  const { columns, units } = mapping;
  return (
    <>
      <FieldRow>
        {massFields.map(([field, label]) =>
          columns[field] === null ? null : (
            <ChoiceField
              key={field}
              label={label}
              value={units[field]}
              choices={listMassUnits.map((unit) => ({ value: unit, label: unit }))}
              onChange={(unit) => change({ ...mapping, units: { ...units, [field]: unit } })}
            />
          ),
        )}
        {columns.fineness === null ? null : (
          <ChoiceField
            label="Unit of fineness"
            value={mapping.finenessUnit}
            choices={[
              { value: 'per mille', label: '‰' },
              { value: 'percent', label: '%' },
              { value: 'fraction', label: 'of 1' },
            ]}
            onChange={(finenessUnit) => change({ ...mapping, finenessUnit })}
          />
        )}
      </FieldRow>
      <FieldRow>
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
      <CheckField
        label="An empty melt or fineness is that of the row above, as merged cells leave it"
        checked={mapping.fillDown}
        onChange={(fillDown) => change({ ...mapping, fillDown })}
      />
    </>
  );
}

function ColumnField(props: {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly names: readonly string[];
  readonly none: string;
  readonly hint: string;
  readonly onChange: (name: string) => void;
}) {
  return (
    <div className="field">
      <label htmlFor={props.id}>{props.label}</label>
      <select
        id={props.id}
        value={props.value}
        onChange={(event) => props.onChange(event.target.value)}
      >
        <option value="">{props.none}</option>
        {props.names.map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </select>
      <p className="field-hint">{props.hint}</p>
    </div>
  );
}
