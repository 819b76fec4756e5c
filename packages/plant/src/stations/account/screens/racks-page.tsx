import { useState } from 'react';
import {
  ChoiceField,
  CommandForm,
  Empty,
  Mass,
  Page,
  Part,
  Pending,
  printInstant,
  printNumber,
  State,
  Table,
  ThingLink,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import { placeTitle } from './desk-answer.ts';

interface RackAnswer {
  readonly rack: string;
  readonly place: string;
  readonly title: string;
  readonly containers:
    | readonly {
        readonly container: string;
        readonly thing: string;
        readonly pieceStandard: string;
        readonly pieces: number;
        readonly grossMicrograms: number;
      }[]
    | null;
  readonly pieces: number | null;
  readonly grossMicrograms: number | null;
  readonly check: {
    readonly instant: string;
    readonly found: number;
    readonly missing: readonly string[];
    readonly strange: readonly string[];
  } | null;
}

const acts = [
  { value: 'put-away', label: 'Put containers away' },
  { value: 'check-rack', label: 'Check a rack by scanning' },
  { value: 'open-rack', label: 'Open a rack' },
] as const;

/** Racks inside the places: what lies in each, and whether the last check found it there. */
export function RacksPage() {
  const { answer, problem } = useQuestion<{ readonly racks: readonly RackAnswer[] }>('racks');
  const [act, setAct] = useState<string>(acts[0].value);
  const may = useMay('put-away');
  return (
    <Page
      title="Racks"
      about="A place holds racks, a rack holds containers; their labels are scanned"
    >
      <Part title="Racks">
        {!answer ? (
          <Pending problem={problem} />
        ) : answer.racks.length === 0 ? (
          <Empty
            what="No rack has been opened."
            how="The metal accountant opens the first one below, with the label it bears."
          />
        ) : (
          <RackTable racks={answer.racks} />
        )}
      </Part>
      <div>
        {(answer?.racks ?? []).map((rack) =>
          rack.containers && rack.containers.length > 0 ? (
            <Content key={rack.rack} rack={rack} containers={rack.containers} />
          ) : null,
        )}
      </div>
      {may ? (
        <Part title="Record">
          <ChoiceField label="What was done" value={act} choices={[...acts]} onChange={setAct} />
          <CommandForm key={act} command={act} isMain />
        </Part>
      ) : null}
    </Page>
  );
}

function Checked({ rack }: { readonly rack: RackAnswer }) {
  const { check } = rack;
  if (!check) return <span className="faint">never</span>;
  const when = `${printNumber(check.found)} scanned, ${printInstant(check.instant)}`;
  if (check.missing.length > 0) {
    return (
      <>
        <State word={`${check.missing.length} not there`} tone="stopped" /> {when}
      </>
    );
  }
  if (check.strange.length > 0) {
    return (
      <>
        <State word={`${check.strange.length} by mistake`} tone="look" /> {when}
      </>
    );
  }
  return when;
}

function RackTable({ racks }: { readonly racks: readonly RackAnswer[] }) {
  return (
    <Table
      caption="Racks, by place"
      rows={racks}
      filter={racks.length > 12}
      keyOf={(row) => row.rack}
      columns={[
        { key: 'place', title: 'Place', value: (row) => placeTitle(row.place) },
        { key: 'rack', title: 'Rack', value: (row) => row.rack },
        { key: 'title', title: 'Title', value: (row) => row.title },
        {
          key: 'containers',
          title: 'Containers',
          value: (row) => row.containers?.length,
          decimals: 0,
        },
        { key: 'pieces', title: 'Pieces', value: (row) => row.pieces ?? undefined, decimals: 0 },
        {
          key: 'gross',
          title: 'Gross',
          value: (row) => row.grossMicrograms ?? undefined,
          cell: (row) =>
            row.grossMicrograms === null ? (
              '–'
            ) : (
              <Mass micrograms={row.grossMicrograms} unit="kg" />
            ),
          isNumber: true,
        },
        {
          key: 'check',
          title: 'Checked last',
          value: (row) => row.check?.instant,
          cell: (row) => <Checked rack={row} />,
        },
      ]}
    />
  );
}

function Content(props: {
  readonly rack: RackAnswer;
  readonly containers: NonNullable<RackAnswer['containers']>;
}) {
  const { rack, containers } = props;
  return (
    <details className="rack-content">
      <summary>
        {printNumber(containers.length)} {containers.length === 1 ? 'container' : 'containers'} in
        rack {rack.rack}, {rack.title}
      </summary>
      <Table
        caption={`Containers in rack ${rack.rack}`}
        rows={containers}
        keyOf={(row) => row.container}
        columns={[
          {
            key: 'container',
            title: 'Container',
            value: (row) => row.container,
            cell: (row) => <ThingLink thing={row.thing} id={row.container} />,
          },
          { key: 'standard', title: 'Pieces of', value: (row) => row.pieceStandard },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          {
            key: 'gross',
            title: 'Gross',
            value: (row) => row.grossMicrograms,
            cell: (row) => <Mass micrograms={row.grossMicrograms} unit="kg" />,
            isNumber: true,
          },
        ]}
      />
    </details>
  );
}
