import type { Reading } from '../../journal/reading.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { ReadingFigure } from '../figure.tsx';
import { inWords } from '../number-text.ts';
import { Table } from '../table.tsx';
import { useNames } from '../use-names.ts';
import { numbersAmong, type SaidForm, saidForm, saidForms, saidText } from './said-value.ts';

function isReading(value: Json): value is Reading {
  return (
    typeof value === 'object' &&
    value !== null &&
    'text' in value &&
    'unit' in value &&
    'typed' in value
  );
}

/** Whether a value is an object of single values and readings, so that it fits a row. */
function isFlat(value: Json): value is JsonObject {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  const parts = Object.values(value as JsonObject);
  return (
    parts.length <= 8 &&
    parts.every((part) => typeof part !== 'object' || part === null || isReading(part))
  );
}

function SaidTable({ rows }: { readonly rows: readonly JsonObject[] }) {
  const isNumber = (name: string) =>
    rows.some((row) => typeof row[name] === 'number' || isReading(row[name] ?? null));
  // Entries keep their names in the order of the alphabet; words are read before figures.
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))].sort(
    (left, right) => Number(isNumber(left)) - Number(isNumber(right)),
  );
  const keyed = rows.map((row, index) => ({ row, key: String(index) }));
  return (
    <Table<{ row: JsonObject; key: string }>
      caption="Said in this list"
      rows={keyed}
      keyOf={({ key }) => key}
      columns={names.map((name) => {
        const form = saidForm(name, numbersAmong(rows.map((row) => row[name])));
        return {
          key: name,
          title: titleOf(
            form,
            rows.map((row) => row[name]),
          ),
          ...(form.unit ? { unit: form.unit } : {}),
          isNumber: isNumber(name),
          value: ({ row }) => orderValue(row[name] ?? null),
          cell: ({ row }) => <Said name={name} value={row[name] ?? null} form={form} isInColumn />,
        };
      })}
    />
  );
}

/** Beside a mass that was worked out stands the reading that it comes from, under the same name. */
function titleOf({ title }: SaidForm, values: readonly (Json | undefined)[]): string {
  return values.some((value) => isReading(value ?? null)) ? `${title}, as read` : title;
}

function orderValue(value: Json): string | number | null {
  if (isReading(value)) return Number(value.text);
  return typeof value === 'string' || typeof value === 'number' ? value : null;
}

/** What an entry says; a body that is not for whoever asks comes empty. */
export function SaidBody({ body }: { readonly body: JsonObject }) {
  if (Object.keys(body).length > 0) return <Said name="" value={body} />;
  return <p className="faint">What it says is not shown to your role.</p>;
}

type Kept = { readonly calculation: string; readonly input: Json; readonly output: JsonObject };

/** Whether a value is a result that anyone can recompute, with everything that went into it. */
function isCalculated(value: Json): value is Kept {
  return (
    typeof value === 'object' &&
    value !== null &&
    'calculation' in value &&
    'input' in value &&
    typeof (value as JsonObject)['output'] === 'object'
  );
}

/** A result in its own words; what went in and what came out is folded away. */
function SaidCalculated({ value }: { readonly value: Kept }) {
  const { calculation, input, output } = value;
  const { words } = output;
  return (
    <>
      {typeof words === 'string' ? <p className="said-words">{words}</p> : null}
      <details className="said-calculated">
        <summary>{inWords(calculation)}: every figure</summary>
        <Said name="" value={{ input, output }} />
      </details>
    </>
  );
}

interface SaidProps {
  /** The name under which it stands. */
  readonly name: string;
  readonly value: Json;
  /** How its numbers are read, where that is settled together with what stands beside it. */
  readonly form?: SaidForm;
  /** True in a column, whose head has the unit. */
  readonly isInColumn?: boolean;
}

function SaidNumber({ name, value, form, isInColumn }: SaidProps & { readonly value: number }) {
  const { unit, print } = form ?? saidForm(name, [value]);
  return (
    <span className="figure">
      {print(value)}
      {unit && !isInColumn ? <span className="figure-unit">{`\u202f${unit}`}</span> : null}
    </span>
  );
}

/** A value of an entry's body, laid out by its names. */
function Said(props: SaidProps) {
  const { name, value } = props;
  const { nameOf } = useNames();
  if (value === null) return <span className="faint">nothing</span>;
  if (typeof value === 'number') return <SaidNumber {...props} value={value} />;
  if (typeof value === 'boolean') return <>{value ? 'yes' : 'no'}</>;
  if (typeof value === 'string') {
    return <span className="said-text">{saidText(name, value, nameOf)}</span>;
  }
  if (isReading(value)) return <ReadingFigure reading={value} />;
  if (Array.isArray(value)) return <SaidList name={name} items={value as readonly Json[]} />;
  if (isCalculated(value)) return <SaidCalculated value={value} />;
  return <SaidParts value={value as JsonObject} />;
}

function SaidParts({ value }: { readonly value: JsonObject }) {
  const forms = saidForms(value);
  return (
    <dl className="said">
      {Object.entries(value).map(([name, part]) => {
        const form = forms(name);
        return (
          <div key={name}>
            <dt>{titleOf(form, [part])}</dt>
            <dd>
              <Said name={name} value={part} form={form} />
            </dd>
          </div>
        );
      })}
    </dl>
  );
}

function SaidList({ name, items }: { readonly name: string; readonly items: readonly Json[] }) {
  if (items.length === 0) return <span className="faint">none</span>;
  if (items.length > 1 && items.every(isFlat)) return <SaidTable rows={items} />;
  return (
    <ol className="said-list">
      {items.map((item, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: an entry's list never changes
        <li key={index}>
          <Said name={name} value={item} />
        </li>
      ))}
    </ol>
  );
}
