import { useQuery } from '@tanstack/react-query';
import type { Refusal } from '../journal/refusal.ts';
import type { Json, JsonObject } from '../ports/json.ts';
import { MainAct, SideAct } from './main-act.tsx';
import { Pending } from './page.tsx';
import { type Draft, draftOf, inputOf, plainSchema, type Schema } from './pages/schema-draft.ts';
import { SchemaFields } from './pages/schema-form.tsx';
import type { OwnFields } from './pages/schema-part.ts';
import type { InputProblem, RecordedSummary } from './plant-client.ts';
import { useCommand } from './use-command.ts';
import { useDraft } from './use-draft.ts';
import { commandForm } from './use-missing.ts';

interface CommandFormProps {
  readonly command: string;
  /** Verb and object; the command's own title when left out. */
  readonly label?: string;
  /** Fields that the page knows: they are sent as they are and not asked for. */
  readonly given?: JsonObject;
  /** What stands in fields at first. */
  readonly initial?: JsonObject;
  /** True for the one main act of the page. */
  readonly isMain?: boolean;
  /** Fields that the page draws itself, by name. */
  readonly own?: OwnFields;
  readonly onRecorded?: (answer: JsonObject, entries: readonly RecordedSummary[]) => void;
}

/** A schema without the fields that the page knows. */
function without(schema: Schema, given: JsonObject): Schema {
  const properties = Object.entries(schema.properties ?? {}).filter(([name]) => !(name in given));
  return {
    ...schema,
    properties: Object.fromEntries(properties),
    required: (schema.required ?? []).filter((name) => !(name in given)),
  };
}

/** Refusals as problems of fields, each with its whole sentence. */
function problemsOf(refusals: readonly Refusal[]): readonly InputProblem[] {
  return refusals.flatMap(({ field, message, figures }) =>
    field === undefined
      ? []
      : [{ field, value: figures['value'] ?? null, accepted: message, message }],
  );
}

/**
 * A command asked for by a form that is made from its schema, with the act under it. Nothing typed
 * is lost before it is recorded. Who may not ask for it reads by whom it is done, and no form.
 */
export function CommandForm(props: CommandFormProps) {
  const { data, error } = useQuery(commandForm(props.command));
  if (!data) return <Pending problem={error?.message} />;
  const name = `command ${props.command} ${JSON.stringify(props.given ?? {})}`;
  return <Form key={name} {...props} name={name} schema={data.input} title={data.title} />;
}

function Form(
  props: CommandFormProps & {
    readonly name: string;
    readonly schema: Schema;
    readonly title: string;
  },
) {
  const { command: name, given = {}, initial, onRecorded } = props;
  const schema = without(plainSchema(props.schema), given);
  const [form, change, clear] = useDraft<{ fields: Draft }>(props.name, {
    fields: draftOf(schema, initial as Json | undefined),
  });
  const command = useCommand(name, {
    onRecorded: (answer, entries) => {
      clear();
      onRecorded?.(answer, entries);
    },
  });
  const Act = props.isMain ? MainAct : SideAct;
  return (
    <div className="command-form">
      {command.description?.allowed === false ? null : (
        <SchemaFields
          schema={schema}
          name={name}
          draft={form.fields}
          onChange={(fields) => change({ fields })}
          path=""
          optional={false}
          problems={problemsOf(command.refusals)}
          own={props.own}
        />
      )}
      <Act
        label={props.label ?? props.title}
        command={command}
        input={() => ({ ...((inputOf(schema, form.fields) ?? {}) as JsonObject), ...given })}
      />
    </div>
  );
}
