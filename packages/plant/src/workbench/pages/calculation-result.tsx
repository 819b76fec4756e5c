import type { ReactNode } from 'react';
import type { Json, JsonObject } from '../../ports/json.ts';
import { type Drawing, Drawings } from '../drawings.tsx';
import { Figure } from '../figure.tsx';
import { inWords } from '../number-text.ts';
import { Facts, Part } from '../page.tsx';
import { Table } from '../table.tsx';
import { alternativesOf, plainSchema, type Schema } from './schema-draft.ts';

/** What a calculation gave: in words, in figures, drawn. */
export function CalculationResult(props: {
  readonly output: JsonObject;
  readonly schema: Schema;
  readonly drawings: readonly Drawing[];
}) {
  const { words, ...figures } = props.output;
  return (
    <Part title="Result">
      {typeof words === 'string' ? <p className="result-words">{words}</p> : null}
      <Drawings drawings={props.drawings} saidAbove={String(words ?? '')} />
      <ObjectResult value={figures} schema={props.schema} />
    </Part>
  );
}

function schemaOf(schema: Schema, name: string): Schema {
  const own = schema.properties?.[name];
  if (own) return plainSchema(own);
  const found = alternativesOf(schema).find((one) => one.properties?.[name]);
  return plainSchema(found?.properties?.[name] ?? {});
}

const isScalar = (value: Json) => typeof value !== 'object' || value === null;

function ObjectResult({ value, schema }: { readonly value: JsonObject; readonly schema: Schema }) {
  const entries = Object.entries(value);
  const scalars = entries.filter(([, part]) => isScalar(part));
  const others = entries.filter(([, part]) => !isScalar(part));
  const titleOf = (name: string) => schemaOf(schema, name).title ?? inWords(name);
  return (
    <>
      <Facts
        facts={scalars.map(
          ([name, part]) => [titleOf(name), scalarFigure(part, schemaOf(schema, name))] as const,
        )}
      />
      {others.map(([name, part]) => (
        <section className="result-part" key={name}>
          <h3>{titleOf(name)}</h3>
          {Array.isArray(part) ? (
            <ListResult
              title={titleOf(name)}
              rows={part as readonly Json[]}
              schema={schemaOf(schema, name).items ?? {}}
            />
          ) : (
            <ObjectResult value={part as JsonObject} schema={schemaOf(schema, name)} />
          )}
        </section>
      ))}
    </>
  );
}

function scalarFigure(value: Json, schema: Schema): ReactNode {
  if (typeof value === 'number') {
    return <Figure value={value} {...(schema.unit ? { unit: schema.unit } : {})} />;
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (value === null) return '–';
  return String(value);
}

function ListResult(props: {
  readonly title: string;
  readonly rows: readonly Json[];
  readonly schema: Schema;
}) {
  const schema = plainSchema(props.schema);
  if (props.rows.length === 0) return <p className="faint">none</p>;
  if (props.rows.every(isScalar)) {
    return (
      <p>
        {props.rows.map((row, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a result never changes
          <span key={index}>
            {index > 0 ? ', ' : ''}
            {scalarFigure(row, schema)}
          </span>
        ))}
      </p>
    );
  }
  const rows = props.rows.map((row, index) => ({ key: String(index), row: row as JsonObject }));
  const names = [...new Set(rows.flatMap(({ row }) => Object.keys(row)))];
  return (
    <Table<{ key: string; row: JsonObject }>
      caption={props.title}
      rows={rows}
      keyOf={({ key }) => key}
      columns={names.map((name) => {
        const part = schemaOf(schema, name);
        const isNumber = rows.some(({ row }) => typeof row[name] === 'number');
        return {
          key: name,
          title: part.title ?? inWords(name),
          ...(part.unit ? { unit: part.unit } : {}),
          isNumber,
          value: ({ row }) => {
            const value = row[name];
            return typeof value === 'number' || typeof value === 'string' ? value : cellText(value);
          },
        };
      })}
    />
  );
}

function cellText(value: Json | undefined): string | null {
  if (value === undefined || value === null) return null;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return JSON.stringify(value);
}
