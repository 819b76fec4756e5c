import { ChoiceField, FieldRow, Part } from '../../../workbench/index.ts';
import type { PackingListColumns } from '../bodies.ts';
import type { AnnounceDraft, ChangeAnnounceDraft } from './announce-draft.ts';
import { columnNames, firstCells } from './proposed-columns.ts';

const asked: readonly (readonly [keyof PackingListColumns, string])[] = [
  ['drum', 'Drum'],
  ['melt', 'Melt'],
  ['pieces', 'Pieces'],
  ['gross', 'Gross mass'],
  ['tare', 'Tare'],
  ['seal', 'Seal'],
  ['supplierFinenessPerMille', 'Fineness, ‰'],
];

/** The text of what a column says in the first row; the supplier's fineness is shown to nobody. */
function firstRow(
  field: keyof PackingListColumns,
  name: string | null,
  cells: ReadonlyMap<string, string>,
): string {
  if (!name) return field === 'supplierFinenessPerMille' ? 'The list states none.' : '';
  if (field === 'supplierFinenessPerMille') return 'Kept from the laboratory until it has signed.';
  return `First row: ${cells.get(name) ?? ''}`;
}

/** What the columns of the list mean: proposed, shown with the first row, and open to be changed. */
export function ListColumns(props: {
  readonly draft: AnnounceDraft;
  readonly change: ChangeAnnounceDraft;
  readonly isAsKept: boolean;
}) {
  const { draft, change } = props;
  const names = columnNames(draft.text);
  const cells = firstCells(draft.text);
  const { columns, massUnit, decimalMark } = draft;
  return (
    <Part
      title="What its columns mean"
      aside={
        <span className="faint">
          {props.isAsKept
            ? 'as kept for this supplier'
            : 'proposed; kept for this supplier once the consignment is announced'}
        </span>
      }
    >
      <FieldRow>
        {asked.map(([field, label]) => (
          <ColumnField
            key={field}
            id={`column-${field}`}
            label={label}
            value={columns[field] ?? ''}
            names={names}
            none={field === 'supplierFinenessPerMille' ? 'not in the list' : 'choose'}
            hint={firstRow(field, columns[field], cells)}
            onChange={(name) => {
              const none = field === 'supplierFinenessPerMille' ? null : '';
              change({ columns: { ...columns, [field]: name === '' ? none : name } });
            }}
          />
        ))}
      </FieldRow>
      <FieldRow>
        <ChoiceField
          label="Unit of mass"
          value={massUnit}
          choices={[
            { value: 'kg', label: 'kg' },
            { value: 'g', label: 'g' },
          ]}
          onChange={(unit) => change({ massUnit: unit })}
        />
        <ChoiceField
          label="Decimal mark"
          value={decimalMark}
          choices={[
            { value: 'point', label: 'point' },
            { value: 'comma', label: 'comma' },
          ]}
          onChange={(mark) => change({ decimalMark: mark })}
        />
      </FieldRow>
    </Part>
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
