import type { Json, JsonObject } from '../../../ports/json.ts';
import {
  CommandForm,
  Empty,
  LineageStrip,
  OneTimeCode,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  type ScreenProps,
  Table,
  useGo,
  useQuestion,
} from '../../../workbench/index.ts';
import { type Register, type RegistersAnswer, registers } from './registers.ts';

const recordPath = (list: string, id: string): string =>
  pathTo('/registers/$list/$id', { list, id });

/** A value of a register as people read it. */
function inWords(value: Json | undefined): string {
  if (value === null || value === undefined) return '–';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (!Array.isArray(value)) return String(value);
  return value
    .map((one: Json) =>
      typeof one === 'object' && one !== null
        ? Object.values(one as JsonObject).join(' until ')
        : String(one),
    )
    .join(', ');
}

/** One register with its records, and one record of it when the path names one. */
export function RegisterPage({ params }: ScreenProps) {
  const register = registers.find(({ list }) => list === params['list']);
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  if (!register) {
    return (
      <Page title="Register">
        <Empty
          what="There is no such register."
          how={<PathLink to="/registers">Registers</PathLink>}
        />
      </Page>
    );
  }
  if (!answer) {
    return (
      <Page title={register.title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const id = params['id'];
  const row = answer[register.rows].find((one) => one[register.id] === id);
  return id === undefined ? (
    <List register={register} rows={answer[register.rows]} />
  ) : (
    <RecordPage register={register} id={id} row={row} />
  );
}

function List({
  register,
  rows,
}: {
  readonly register: Register;
  readonly rows: readonly JsonObject[];
}) {
  const go = useGo();
  const idOf = (row: JsonObject) => String(row[register.id]);
  return (
    <Page title={register.title} about={<PathLink to="/registers">Registers</PathLink>}>
      {rows.length === 0 ? (
        <Empty what="Nothing is registered here yet." how="The first record is made below." />
      ) : (
        <Table
          caption={register.title}
          rows={rows}
          keyOf={idOf}
          filter
          columns={register.columns.map(({ field, title }, index) => ({
            key: field,
            title,
            value: (row: JsonObject) => {
              const value = row[field];
              return typeof value === 'number' ? value : inWords(value);
            },
            cell: (row: JsonObject) =>
              index === 0 ? (
                <PathLink to={recordPath(register.list, idOf(row))}>{inWords(row[field])}</PathLink>
              ) : (
                inWords(row[field])
              ),
          }))}
        />
      )}
      <details className="act-fold" open={rows.length === 0}>
        <summary>{register.add.label}</summary>
        <CommandForm
          command={register.add.command}
          label={register.add.label}
          isMain
          onRecorded={(_answer, [entry]) => entry && go(`/registers/${register.list}`)}
        />
      </details>
    </Page>
  );
}

function RecordPage(props: {
  readonly register: Register;
  readonly id: string;
  readonly row: JsonObject | undefined;
}) {
  const { register, id, row } = props;
  if (!row) {
    return (
      <Page title={id}>
        <Empty
          what={`${register.title}: there is no ${id}.`}
          how={<PathLink to={`/registers/${register.list}`}>{register.title}</PathLink>}
        />
      </Page>
    );
  }
  const { change } = register;
  const initial = Object.fromEntries(
    (change?.fields ?? []).map((field) => [field, row[field] ?? null]),
  );
  const title = String(row['name'] ?? row['title'] ?? id);
  return (
    <Page
      title={title}
      about={<PathLink to={`/registers/${register.list}`}>{register.title}</PathLink>}
      known={
        <>
          <LineageStrip thing={register.thing} id={id} />
          {register.list === 'people' ? <OneTimeCode person={id} name={title} /> : null}
        </>
      }
    >
      <dl className="facts">
        {Object.entries(row).map(([field, value]) => (
          <div key={field}>
            <dt>{titleOf(register, field)}</dt>
            <dd>{inWords(value)}</dd>
          </div>
        ))}
      </dl>
      {change ? (
        <Part title={change.label}>
          <CommandForm
            command={change.command}
            label={change.label}
            given={{ [register.id]: id }}
            initial={initial}
            isMain
          />
        </Part>
      ) : null}
    </Page>
  );
}

/** Title of a field: the column's, or its name in words. */
function titleOf(register: Register, field: string): string {
  const column = register.columns.find((one) => one.field === field);
  return column?.title ?? field.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
}
