import type { ClipboardEvent, ReactNode } from 'react';
import { ChoiceField, FieldGroup } from '../../../workbench/index.ts';
import { emptyRow, type ImpurityRow, isBlankRow, isList, rowsIn } from './impurity-rows.ts';

const columns = [
  { key: 'element', title: 'Element', unit: '', field: 'element' },
  {
    key: 'content',
    title: 'Content',
    unit: 'mg/kg',
    field: 'contentMilligramsPerKilogram',
  },
  {
    key: 'uncertainty',
    title: 'Standard uncertainty',
    unit: 'mg/kg',
    field: 'standardUncertaintyMilligramsPerKilogram',
  },
  {
    key: 'limit',
    title: 'Detection limit',
    unit: 'mg/kg',
    field: 'detectionLimitMilligramsPerKilogram',
  },
] as const satisfies readonly {
  readonly key: keyof ImpurityRow;
  readonly title: string;
  readonly unit: string;
  readonly field: string;
}[];

interface Solution {
  readonly label: string;
  readonly blank: string;
  readonly rows: readonly ImpurityRow[];
}

interface SolutionTableProps {
  /** Title and head of a solution that is of no blank, such as a reference material. */
  readonly title?: string;
  readonly head?: ReactNode;
  readonly solution: Solution;
  readonly cut: readonly string[];
  readonly onChange: (part: Partial<Solution>) => void;
  readonly onRemove: (() => void) | undefined;
  /** The refusal of a field of this solution, as `.impurities.2.element`. */
  readonly refusalAt: (field: string) => string | undefined;
}

/** The elements of one solution, typed or pasted as a list. */
export function SolutionTable(props: SolutionTableProps) {
  const { solution, onChange, refusalAt, onRemove } = props;
  const refusal = refusalAt('.impurities') ?? refusalAt('');
  const onPaste = (event: ClipboardEvent) => {
    const text = event.clipboardData.getData('text');
    if (!isList(text)) return;
    event.preventDefault();
    onChange({ rows: rowsIn(text) });
  };
  return (
    <FieldGroup title={props.title ?? `Solution ${solution.label}`}>
      {props.head ?? (
        <ChoiceField
          label={`Blank of ${solution.label}`}
          value={solution.blank}
          choices={props.cut.map((blank) => ({ value: blank, label: blank }))}
          onChange={(blank) => onChange({ blank })}
          refusal={refusalAt('.blank')}
        />
      )}
      <p className="field-hint">
        Type the contents, or paste the spectrometer’s list into the table: element, content,
        standard uncertainty, detection limit. Write &lt; for an element that was not found.
      </p>
      <div className="table-scroll" onPaste={onPaste}>
        <table className="entry-table solution-table">
          <thead>
            <tr>
              {columns.map(({ key, title, unit }) => (
                <th key={key} scope="col">
                  {title}
                  {unit ? <span className="column-unit"> {unit}</span> : null}
                </th>
              ))}
              <th scope="col">
                <span className="unseen">Take away</span>
              </th>
            </tr>
          </thead>
          <tbody>
            <Rows {...props} />
          </tbody>
        </table>
      </div>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() => onChange({ rows: [...solution.rows, emptyRow] })}
        >
          Add an element
        </button>
        {onRemove ? (
          <button type="button" className="link-button" onClick={onRemove}>
            Take solution {solution.label} away
          </button>
        ) : null}
      </p>
    </FieldGroup>
  );
}

function Rows({ solution, onChange, refusalAt }: SolutionTableProps) {
  const { rows, label } = solution;
  const set = (index: number, part: Partial<ImpurityRow>) =>
    onChange({ rows: rows.map((one, at) => (at === index ? { ...one, ...part } : one)) });
  return rows.map((row, index) => {
    // Only rows with something in them are sent, and the plant counts those.
    const place = rows.slice(0, index).filter((one) => !isBlankRow(one)).length;
    const refusals = columns.flatMap(({ field }) => {
      const refusal = isBlankRow(row) ? undefined : refusalAt(`.impurities.${place}.${field}`);
      return refusal ? [{ field, refusal }] : [];
    });
    return (
      // biome-ignore lint/suspicious/noArrayIndexKey: rows of a form are told apart by their place
      <tr key={index}>
        {columns.map(({ key, title, field }) => (
          <td key={key}>
            <input
              className={key === 'element' ? 'entry-text' : 'entry-decimal'}
              aria-label={`${title} of ${key === 'element' ? `row ${index + 1}` : row.element || `row ${index + 1}`}, ${label}`}
              aria-invalid={refusals.some((one) => one.field === field) ? true : undefined}
              autoComplete="off"
              spellCheck={false}
              inputMode={key === 'element' ? 'text' : 'decimal'}
              value={row[key]}
              onChange={(event) => set(index, { [key]: event.target.value })}
            />
          </td>
        ))}
        <td>
          <button
            type="button"
            className="row-remove"
            aria-label={`Take ${row.element || `row ${index + 1}`} away, ${label}`}
            onClick={() => onChange({ rows: rows.filter((_row, at) => at !== index) })}
          >
            Take away
          </button>
          {refusals.map(({ field, refusal }) => (
            <p key={field} className="field-refusal">
              {refusal}
            </p>
          ))}
        </td>
      </tr>
    );
  });
}
