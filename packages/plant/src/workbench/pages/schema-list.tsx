import { type ComponentType, type KeyboardEvent, useEffect, useId, useRef } from 'react';
import { inWords } from '../number-text.ts';
import {
  type Draft,
  draftOf,
  plainSchema,
  type Schema,
  shapeOf,
  withPart,
} from './schema-draft.ts';
import { problemAt, type SchemaPartProps } from './schema-part.ts';

const single = new Set(['text', 'number', 'choice', 'yes or no']);

function isFlat(item: Schema): boolean {
  const parts = Object.values(item.properties ?? {});
  return (
    parts.length > 0 &&
    parts.length <= 9 &&
    parts.every((part) => single.has(shapeOf(plainSchema(part))))
  );
}

interface ListProps extends SchemaPartProps {
  /** Draws the fields of an item that is an object, and any other item. */
  readonly Fields: ComponentType<SchemaPartProps>;
  readonly Part: ComponentType<SchemaPartProps>;
}

/** A list: as a table of fields where its items are flat, else one block below the other. */
export function SchemaList(props: ListProps) {
  const { schema, onChange, path, problems } = props;
  const draft = props.draft as readonly Draft[];
  const item = plainSchema(schema.items ?? {});
  const add = () => onChange([...draft, draftOf(item, undefined)]);
  const remove = (index: number) => onChange(draft.filter((_row, at) => at !== index));
  const parts = { ...props, draft, item, remove };
  const refusal = problemAt(problems, path);
  return (
    <fieldset className={`field-group${refusal ? ' field-refused' : ''}`}>
      <legend>{schema.title ?? inWords(props.name)}</legend>
      {schema.description ? <p className="field-hint">{schema.description}</p> : null}
      <Items {...parts} />
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
      <button type="button" className="quiet-button" onClick={add}>
        Add a row
      </button>
    </fieldset>
  );
}

type RowsProps = Omit<ListProps, 'draft'> & {
  readonly draft: readonly Draft[];
  readonly item: Schema;
  readonly remove: (index: number) => void;
};

function Items(props: RowsProps) {
  if (isFlat(props.item)) return <FlatRows {...props} />;
  return shapeOf(props.item) === 'object' ? <Blocks {...props} /> : <SingleRows {...props} />;
}

/** Items that are one field each, one below the other; Enter in the last one begins the next. */
function SingleRows(props: RowsProps) {
  const { draft, item, onChange, path, Part } = props;
  const name = item.title ?? inWords(props.name);
  const last = useRef<HTMLDivElement>(null);
  const isBegun = useRef(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the new row is there once there are more
  useEffect(() => {
    if (isBegun.current) last.current?.querySelector('input')?.focus();
    isBegun.current = false;
  }, [draft.length]);
  const onKeyDown = (event: KeyboardEvent, row: Draft) => {
    const isText = event.target instanceof HTMLInputElement && event.target.type === 'text';
    if (event.key !== 'Enter' || !isText || row === '') return;
    event.preventDefault();
    isBegun.current = true;
    onChange([...draft, draftOf(item, undefined)]);
  };
  return draft.map((row, index) => (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter is heard as it comes up from the field
    <div
      className="single-row"
      // biome-ignore lint/suspicious/noArrayIndexKey: rows of a form are told apart by their place
      key={index}
      ref={index === draft.length - 1 ? last : undefined}
      onKeyDown={index === draft.length - 1 ? (event) => onKeyDown(event, row) : undefined}
    >
      <Part
        {...props}
        schema={{ ...item, title: `${name}, row ${index + 1}` }}
        draft={row}
        path={`${path}.${index}`}
        optional={false}
        onChange={(changed) => onChange(withPart(draft, [index], changed))}
      />
      <button type="button" className="row-remove" onClick={() => props.remove(index)}>
        Take away
      </button>
    </div>
  ));
}

function FlatRows(props: RowsProps) {
  const { draft, item, onChange } = props;
  const columns = Object.entries(item.properties ?? {}).map(
    ([name, part]) => [name, plainSchema(part)] as const,
  );
  if (draft.length === 0) return null;
  return (
    <div className="table-scroll">
      <table className="entry-table">
        <thead>
          <tr>
            {columns.map(([name, part]) => (
              <th key={name} scope="col" title={part.description}>
                {part.title ?? inWords(name)}
                {part.unit ? <span className="column-unit"> {part.unit}</span> : null}
              </th>
            ))}
            <th>
              <span className="unseen">Take away</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {draft.map((row, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: rows of a form are told apart by their place
            <tr key={index}>
              {columns.map(([name, part]) => (
                <td key={name}>
                  <CellEntry
                    schema={part}
                    label={`${part.title ?? inWords(name)}, row ${index + 1}`}
                    value={String((row as Readonly<Record<string, Draft>>)[name] ?? '')}
                    onChange={(text) => onChange(withPart(draft, [index, name], text))}
                    problem={problemAt(props.problems, `${props.path}.${index}.${name}`)}
                  />
                </td>
              ))}
              <td>
                <button type="button" className="row-remove" onClick={() => props.remove(index)}>
                  Take away
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function CellEntry(props: {
  readonly schema: Schema;
  readonly label: string;
  readonly value: string;
  readonly onChange: (text: string) => void;
  readonly problem: string | undefined;
}) {
  const id = useId();
  const { schema, label, value, onChange, problem } = props;
  const choices = schema.type === 'boolean' ? ['true', 'false'] : schema.enum?.map(String);
  const shared = {
    'aria-label': label,
    'aria-invalid': problem ? true : undefined,
    'aria-describedby': problem ? id : undefined,
    value,
  };
  return (
    <>
      {choices ? (
        <select {...shared} onChange={(event) => onChange(event.target.value)}>
          <option value="">–</option>
          {choices.map((choice) => (
            <option key={choice}>{choice}</option>
          ))}
        </select>
      ) : (
        <input
          {...shared}
          className={shapeOf(schema) === 'number' ? 'entry-decimal' : 'entry-text'}
          inputMode={shapeOf(schema) === 'number' ? 'decimal' : 'text'}
          autoComplete="off"
          onChange={(event) => onChange(event.target.value)}
        />
      )}
      {problem ? (
        <p className="field-refusal" id={id}>
          {problem}
        </p>
      ) : null}
    </>
  );
}

function Blocks(props: RowsProps) {
  const { draft, item, onChange, path, Fields } = props;
  return draft.map((row, index) => {
    const part = {
      ...props,
      schema: item,
      name: `${props.name} ${index + 1}`,
      draft: row,
      path: `${path}.${index}`,
      onChange: (changed: Draft) => onChange(withPart(draft, [index], changed)),
    };
    return (
      // biome-ignore lint/suspicious/noArrayIndexKey: rows of a form are told apart by their place
      <div className="block-row" key={index}>
        <div className="block-row-head">
          <span>{index + 1}</span>
          <button type="button" className="row-remove" onClick={() => props.remove(index)}>
            Take away
          </button>
        </div>
        <Fields {...part} />
      </div>
    );
  });
}
