import { useState } from 'react';
import { CheckField, ChoiceField, Field, FieldRow, TextField, type TextKind } from '../field.tsx';
import { KeptFileField } from '../kept-file-field.tsx';
import { inWords } from '../number-text.ts';
import type { InputProblem } from '../plant-client.ts';
import type { ReadingDraft } from '../reading-draft.ts';
import { ReadingField } from '../reading-field.tsx';
import {
  alternativeName,
  alternativesOf,
  choicesOf,
  type Draft,
  draftOf,
  plainSchema,
  type Schema,
  shapeOf,
  withPart,
} from './schema-draft.ts';
import { SchemaList } from './schema-list.tsx';
import { type OwnFields, problemAt, type SchemaPartProps } from './schema-part.ts';

const join = (path: string, name: string) => (path === '' ? name : `${path}.${name}`);

/** Text in which a person is told what to fill in. */
function words({ schema, name }: SchemaPartProps) {
  return { label: schema.title ?? inWords(name), hint: schema.description };
}

const isShort = (part: Schema): boolean =>
  shapeOf(part) === 'number' || (shapeOf(part) === 'text' && !isLong(part));

/** Texts of more letters than that are written over several lines. */
const longestLine = 200;
const isLong = ({ maxLength = 0 }: Schema): boolean => maxLength > longestLine;

type NamedPart = readonly [name: string, part: Schema];

/** Parts in the order of the schema, short fields that follow each other gathered into one row. */
function rowsOf(schema: Schema, own: OwnFields): readonly (readonly NamedPart[])[] {
  const rows: NamedPart[][] = [];
  for (const [name, whole] of Object.entries(schema.properties ?? {})) {
    if (whole.const !== undefined) continue;
    const part = plainSchema(whole);
    const before = rows.at(-1)?.at(-1);
    const isOwn = name in own || (before !== undefined && before[0] in own);
    const isBeside = before && !isOwn && isShort(before[1]) && isShort(part);
    if (isBeside) rows.at(-1)?.push([name, part]);
    else rows.push([[name, part]]);
  }
  return rows;
}

/** The fields of an object, in the order of its schema. */
export function SchemaFields(props: SchemaPartProps) {
  const schema = plainSchema(props.schema);
  const draft = props.draft as Readonly<Record<string, Draft>>;
  const own = props.own ?? {};
  const field = ([name, part]: NamedPart) => {
    const Own = own[name];
    return Own ? (
      <Own
        key={name}
        value={String(draft[name] ?? '')}
        form={draft}
        onChange={(value) => props.onChange(withPart(draft, [name], value))}
        refusal={problemAt(props.problems, join(props.path, name))}
      />
    ) : (
      <SchemaPart
        key={name}
        schema={part}
        name={name}
        draft={draft[name] ?? ''}
        onChange={(changed) => props.onChange(withPart(draft, [name], changed))}
        path={join(props.path, name)}
        optional={!schema.required?.includes(name)}
        problems={props.problems}
      />
    );
  };
  return rowsOf(schema, own).map((row) => {
    const [first] = row;
    if (!first) return null;
    return row.length === 1 ? field(first) : <FieldRow key={first[0]}>{row.map(field)}</FieldRow>;
  });
}

/** A document that is chosen; what the command takes of it is its hash. */
function DocumentPart(props: SchemaPartProps) {
  const { draft, path, problems, optional, onChange } = props;
  const { label } = words(props);
  const [name, setName] = useState('kept');
  const sha256 = draft as string;
  return (
    <KeptFileField
      {...{ label, optional }}
      value={sha256 === '' ? null : { name, sha256 }}
      onChange={(kept) => {
        setName(kept?.name ?? '');
        onChange(kept?.sha256 ?? '');
      }}
      refusal={problemAt(problems, path)}
    />
  );
}

function kindOf(schema: Schema): TextKind {
  if (schema.format === 'date') return 'date';
  if (shapeOf(schema) === 'number') return 'decimal';
  return isLong(schema) ? 'long' : 'text';
}

/** One part of a form made from a schema. */
function SchemaPart(props: SchemaPartProps) {
  const { schema, draft, onChange, path, optional, problems } = props;
  const { label, hint } = words(props);
  const refusal = problemAt(problems, path);
  switch (shapeOf(schema)) {
    case 'reading':
      return <ReadingPart {...props} />;
    case 'object':
      return (
        <fieldset className="field-group">
          <legend>{label}</legend>
          <SchemaFields {...props} own={undefined} />
        </fieldset>
      );
    case 'alternatives':
      return <Alternatives {...props} />;
    case 'list':
      return <SchemaList {...props} Fields={SchemaFields} Part={SchemaPart} />;
    case 'list of numbers':
      return (
        <Field
          {...{ label, hint, refusal: refusal ?? listProblem(problems, path), optional }}
          unit={schema.unit}
        >
          {({ id, describedBy }) => (
            <textarea
              id={id}
              aria-describedby={describedBy}
              rows={6}
              className="entry-numbers"
              value={draft as string}
              onChange={(event) => onChange(event.target.value)}
            />
          )}
        </Field>
      );
    case 'choice':
      return (
        <ChoiceField
          {...{ label, hint, refusal, onChange }}
          value={draft as string}
          choices={choicesOf(schema)}
        />
      );
    case 'yes or no':
      return (
        <CheckField
          {...{ label, refusal }}
          checked={draft === 'true'}
          onChange={(checked) => onChange(String(checked))}
        />
      );
    case 'document':
      return <DocumentPart {...props} />;
    default:
      return (
        <TextField
          {...{ label, hint, refusal, optional, onChange }}
          unit={schema.unit}
          kind={kindOf(schema)}
          value={draft as string}
        />
      );
  }
}

/** A reading of an instrument: filled by the balance itself, or typed and marked so. */
function ReadingPart(props: SchemaPartProps) {
  const { label, hint } = words(props);
  const { path, problems, optional } = props;
  const draft = props.draft as Readonly<Record<string, string>>;
  const units = props.schema.properties?.['unit']?.enum ?? [];
  const value = {
    text: draft['text'] ?? '',
    unit: (draft['unit'] || units[1] || 'g') as ReadingDraft['unit'],
    typed: draft['typed'] !== 'false',
    ...(draft['received'] === undefined ? {} : { received: draft['received'] }),
  };
  return (
    <ReadingField
      {...{ label, hint, optional, value }}
      onChange={({ text, unit, typed, received }) =>
        props.onChange({
          text,
          unit,
          typed: String(typed),
          ...(received === undefined ? {} : { received }),
        })
      }
      refusal={
        problemAt(problems, path) ??
        problemAt(problems, join(path, 'text')) ??
        problemAt(problems, join(path, 'unit'))
      }
    />
  );
}

/** Tells which line of a list of numbers was not accepted. */
function listProblem(problems: readonly InputProblem[], path: string): string | undefined {
  const problem = problems.find(({ field }) => field.startsWith(`${path}.`));
  if (!problem) return undefined;
  const line = Number(problem.field.slice(path.length + 1).split('.')[0]) + 1;
  return `Number ${line} is ${String(problem.value)}. Accepted here: ${problem.accepted}.`;
}

function Alternatives(props: SchemaPartProps) {
  const { schema, onChange } = props;
  const { label, hint } = words(props);
  const draft = props.draft as { choice: string; value: Draft };
  const alternatives = alternativesOf(schema);
  const chosen = alternatives[Number(draft.choice)] ?? {};
  return (
    <fieldset className="field-group">
      <legend>{label}</legend>
      {hint ? <p className="field-hint">{hint}</p> : null}
      <ChoiceField
        label="Which"
        value={draft.choice}
        choices={alternatives.map((one, index) => ({
          value: String(index),
          label: inWords(alternativeName(one, index)),
        }))}
        onChange={(choice) =>
          onChange({ choice, value: draftOf(alternatives[Number(choice)] ?? {}, undefined) })
        }
        refusal={problemAt(props.problems, props.path)}
      />
      {shapeOf(chosen) === 'object' ? (
        <SchemaFields
          {...props}
          own={undefined}
          schema={chosen}
          draft={draft.value}
          onChange={(value) => onChange({ ...draft, value })}
        />
      ) : (
        <SchemaPart
          {...props}
          schema={chosen}
          name="value"
          draft={draft.value}
          onChange={(value) => onChange({ ...draft, value })}
        />
      )}
    </fieldset>
  );
}
