import {
  CommandForm,
  Empty,
  Mass,
  Page,
  Part,
  Pending,
  State,
  Table,
  ThingLink,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';

interface MeltMetal {
  readonly melt: string;
  readonly pieceStandard: string;
  readonly pieces: number | null;
  readonly grossMicrograms: number | null;
  readonly takenOut: readonly {
    readonly form: string;
    readonly to: string;
    readonly grossMicrograms: number;
    readonly estimated: boolean;
    readonly entry: number;
  }[];
}

/** The laboratory's own metal: what lies there of each melt, and how the rest left. */
export function MetalPage() {
  const { answer, problem } = useQuestion<{ readonly melts: readonly MeltMetal[] }>(
    'laboratory-metal',
  );
  const may = useMay('take-out-metal');
  return (
    <Page
      title="Metal of the laboratory"
      about="Cuttings, cornets and solutions leave like any metal: weighed, or estimated and marked so"
    >
      <Part title="Melts with metal here">
        {!answer ? (
          <Pending problem={problem} />
        ) : answer.melts.length === 0 ? (
          <Empty
            what="No metal lies in the laboratory."
            how="Blanks that are drawn at receiving arrive here."
          />
        ) : (
          <MeltTable melts={answer.melts} />
        )}
      </Part>
      {may ? (
        <Part title="Take metal out">
          <CommandForm
            command="take-out-metal"
            isMain
            initial={{ estimated: false, basis: null, finenessPerMille: null }}
          />
        </Part>
      ) : null}
    </Page>
  );
}

function MeltTable({ melts }: { readonly melts: readonly MeltMetal[] }) {
  return (
    <Table
      caption="Metal in the laboratory, by melt"
      rows={melts}
      filter={melts.length > 12}
      keyOf={(row) => row.melt}
      columns={[
        {
          key: 'melt',
          title: 'Melt',
          value: (row) => row.melt,
          cell: (row) => <ThingLink thing="melt" id={row.melt} />,
        },
        { key: 'standard', title: 'For pieces of', value: (row) => row.pieceStandard },
        {
          key: 'pieces',
          title: 'Whole blanks',
          value: (row) => row.pieces ?? undefined,
          decimals: 0,
        },
        {
          key: 'gross',
          title: 'Gross here',
          value: (row) => row.grossMicrograms ?? undefined,
          cell: (row) =>
            row.grossMicrograms === null ? '–' : <Mass micrograms={row.grossMicrograms} unit="g" />,
          isNumber: true,
        },
        {
          key: 'out',
          title: 'Left as',
          value: (row) => row.takenOut.length,
          cell: (row) =>
            row.takenOut.length === 0 ? (
              <span className="faint">nothing yet</span>
            ) : (
              <ul className="plain-list">
                {row.takenOut.map((one) => (
                  <li key={one.entry}>
                    <Mass micrograms={one.grossMicrograms} unit="g" /> {one.form} to {one.to}
                    {one.estimated ? (
                      <>
                        {' '}
                        <State word="estimated" tone="plain" />
                      </>
                    ) : null}
                  </li>
                ))}
              </ul>
            ),
        },
      ]}
    />
  );
}
