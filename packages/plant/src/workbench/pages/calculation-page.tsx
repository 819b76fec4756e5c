import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import type { JsonObject } from '../../ports/json.ts';
import type { Drawing } from '../drawings.tsx';
import { Facts, Page, Pending } from '../page.tsx';
import { read } from '../plant-client.ts';
import type { ScreenProps } from '../screen.ts';
import { useDraft } from '../use-draft.ts';
import { CalculationResult } from './calculation-result.tsx';
import { type Draft, draftOf, inputOf, type Schema } from './schema-draft.ts';
import { SchemaFields } from './schema-form.tsx';
import { useCalculation } from './use-calculation.ts';

/** A calculation as the server describes it. */
export interface CalculationDescription {
  readonly id: string;
  readonly version: number;
  readonly topic: string;
  readonly title: string;
  readonly purpose: string;
  readonly source: string;
  readonly cautions: readonly string[];
  readonly input: Schema;
  readonly output: Schema;
  readonly example: JsonObject;
}

/** A page of the calculating desk: fields from the schema, the run, its result. */
export function CalculationPage({ params }: ScreenProps) {
  const id = params.id ?? '';
  const { data, error } = useQuery({
    queryKey: ['calculation', id],
    queryFn: () => read<CalculationDescription>(`/api/calculations/${encodeURIComponent(id)}`),
    staleTime: Number.POSITIVE_INFINITY,
    retry: false,
  });
  if (!data) {
    return (
      <Page title="Calculation">
        <Pending problem={error?.message} />
      </Page>
    );
  }
  return <Desk description={data} />;
}

interface Form {
  readonly fields: Draft;
}

function Desk({ description }: { readonly description: CalculationDescription }) {
  const { id, input: schema, example } = description;
  const [form, change] = useDraft<Form>(`calculation ${id}`, {
    fields: draftOf(schema, undefined),
  });
  const { run, trouble, partDone, compute, stop } = useCalculation(id);
  const result = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (run?.outcome === 'computed') result.current?.scrollIntoView({ behavior: 'smooth' });
  }, [run]);
  const showExample = () => {
    const fields = draftOf(schema, example);
    change({ fields });
    compute(inputOf(schema, fields));
  };
  const problems = run?.outcome === 'refused' ? run.problems : [];
  return (
    <Page
      title={description.title}
      about={description.purpose}
      known={<Known description={description} />}
    >
      <form className="calculation-form" onSubmit={(event) => event.preventDefault()}>
        <button type="button" className="quiet-button" onClick={showExample}>
          Fill in the worked example
        </button>
        <SchemaFields
          schema={schema}
          name=""
          draft={form.fields}
          onChange={(fields) => change({ fields })}
          path=""
          optional={false}
          problems={problems}
        />
        <div className="main-act">
          <div className="act-message" role="status">
            {trouble || (problems.length > 0 ? problemWords(problems) : '')}
          </div>
          {partDone === undefined ? null : <Working partDone={partDone} stop={stop} />}
          <button
            type="button"
            disabled={partDone !== undefined}
            className="act-button main-act-button"
            onClick={() => compute(inputOf(schema, form.fields))}
          >
            Calculate
          </button>
        </div>
      </form>
      <div ref={result}>
        {run?.outcome === 'computed' ? (
          <CalculationResult
            output={run.output as JsonObject}
            schema={description.output}
            drawings={run.drawings as unknown as readonly Drawing[]}
          />
        ) : null}
      </div>
    </Page>
  );
}

/** How far a calculation is that lasts, and the way to stop it. */
function Working({ partDone, stop }: { readonly partDone: number; readonly stop: () => void }) {
  return (
    <div className="calculation-working">
      <progress max={1} value={partDone || undefined} aria-label="Part of the work done" />
      <button type="button" className="quiet-button" onClick={stop}>
        Stop
      </button>
    </div>
  );
}

function problemWords(problems: readonly { field: string; accepted: string }[]): string {
  const [first] = problems;
  if (problems.length === 1 && first?.field === '') return `Accepted here: ${first.accepted}.`;
  return problems.length === 1
    ? 'One field is not accepted; it says what would be.'
    : `${problems.length} fields are not accepted; each says what would be.`;
}

function Known({ description }: { readonly description: CalculationDescription }) {
  return (
    <>
      {description.cautions.length > 0 ? (
        <section className="cautions">
          <h3>Cautions</h3>
          {description.cautions.map((caution) => (
            <p key={caution}>{caution}</p>
          ))}
        </section>
      ) : null}
      <section className="side">
        <h3>Source</h3>
        {description.source.split('; ').map((source) => (
          <p key={source}>{source}</p>
        ))}
      </section>
      <Facts
        facts={[
          ['Calculation', <code key="id">{description.id}</code>],
          ['Version', description.version],
        ]}
      />
    </>
  );
}
