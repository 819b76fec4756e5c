import { useState } from 'react';
import {
  ChoiceField,
  CommandForm,
  Empty,
  type OwnFieldProps,
  Page,
  Part,
  Pending,
  printInstant,
  printNumber,
  State,
  Table,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';

interface SeriesAnswer {
  readonly series: string;
  readonly item: string;
  readonly first: string;
  readonly last: string;
  readonly received: number;
  readonly used: number | null;
  readonly spoiled: number | null;
  readonly left: number | null;
  readonly usedThoughSpoiled: readonly string[];
  readonly counted: {
    readonly instant: string;
    readonly found: number;
    readonly difference: number | null;
  } | null;
}

interface ItemsAnswer {
  readonly seesBook: boolean;
  readonly series: readonly SeriesAnswer[];
}

const acts = [
  { value: 'count-numbers', label: 'Count what is left' },
  { value: 'receive-numbers', label: 'Receive a series' },
  { value: 'spoil-numbers', label: 'Spoil what was destroyed' },
] as const;

/** Seals and labels that bear numbers: what came, what is in use, what is left. */
export function ItemsPage() {
  const { answer, problem } = useQuestion<ItemsAnswer>('number-series');
  const [act, setAct] = useState<string>(acts[0].value);
  const may = useMay('count-numbers');
  return (
    <Page title="Seals and labels" about="Each number is received once, used once or spoiled">
      <Part title="Series">
        {!answer ? (
          <Pending problem={problem} />
        ) : answer.series.length === 0 ? (
          <Empty
            what="No series has been received."
            how="Receive the first one below, with the numbers of its delivery note."
          />
        ) : (
          <SeriesTable answer={answer} />
        )}
      </Part>
      {may ? (
        <Part title="Record">
          <ChoiceField label="What was done" value={act} choices={[...acts]} onChange={setAct} />
          <CommandForm
            key={act}
            command={act}
            isMain
            {...(act === 'receive-numbers' ? {} : { own: { series: SeriesField } })}
          />
        </Part>
      ) : null}
    </Page>
  );
}

/** The series by its name and the numbers that it holds, chosen among those that were received. */
function SeriesField({ value, onChange, refusal }: OwnFieldProps) {
  const { answer } = useQuestion<ItemsAnswer>('number-series');
  return (
    <ChoiceField
      label="Series"
      value={value}
      choices={(answer?.series ?? []).map(({ series, first, last }) => ({
        value: series,
        label: `${series}: ${first} – ${last}`,
      }))}
      onChange={onChange}
      refusal={refusal}
    />
  );
}

function Counted({ row }: { readonly row: SeriesAnswer }) {
  const { counted } = row;
  if (!counted) return <span className="faint">never</span>;
  const when = printInstant(counted.instant);
  if (counted.difference === null || counted.difference === 0) {
    return (
      <>
        {printNumber(counted.found)}, {when}
      </>
    );
  }
  const size = Math.abs(counted.difference);
  const words = `${size} ${counted.difference < 0 ? 'missing' : 'too many'}`;
  return (
    <>
      <State word={words} tone="look" /> {when}
    </>
  );
}

function SeriesTable({ answer }: { readonly answer: ItemsAnswer }) {
  const figures = answer.seesBook
    ? ([
        ['used', 'In use'],
        ['spoiled', 'Spoiled'],
        ['left', 'Should be left'],
      ] as const)
    : [];
  return (
    <Table
      caption="Series of seals and labels"
      rows={answer.series}
      filter={answer.series.length > 12}
      keyOf={(row) => row.series}
      columns={[
        { key: 'series', title: 'Series', value: (row) => row.series },
        { key: 'item', title: 'What', value: (row) => row.item },
        {
          key: 'numbers',
          title: 'Numbers',
          value: (row) => row.first,
          cell: (row) => (
            <span className="nowrap">
              {row.first} – {row.last}
            </span>
          ),
        },
        { key: 'received', title: 'Received', value: (row) => row.received, decimals: 0 },
        ...figures.map(([key, title]) => ({
          key,
          title,
          value: (row: SeriesAnswer) => row[key] ?? undefined,
          decimals: 0,
        })),
        {
          key: 'counted',
          title: 'Counted last',
          value: (row) => row.counted?.instant,
          cell: (row) => <Counted row={row} />,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.usedThoughSpoiled.length,
          cell: (row) =>
            row.usedThoughSpoiled.length > 0 ? (
              <State word={`in use though spoiled: ${row.usedThoughSpoiled[0]}`} tone="stopped" />
            ) : (
              '–'
            ),
        },
      ]}
    />
  );
}
