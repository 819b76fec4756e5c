import type { Calculated } from '../../../journal/calculated.ts';
import {
  CommandForm,
  Empty,
  Facts,
  LineageStrip,
  Page,
  Part,
  PathLink,
  Pending,
  printNumber,
  type ScreenProps,
  Table,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';

interface Pick {
  readonly blank: string;
  readonly pick: number;
  readonly position: number;
  readonly forAssay: boolean;
  readonly forPhysical: boolean;
}

interface PickListAnswer {
  readonly melt: string;
  readonly supplier: string;
  readonly state: string;
  readonly samplePieces: number;
  readonly assayPieces: number;
  readonly physicalPieces: number;
  readonly severity: string;
  readonly severityReason: string;
  readonly seedEntry: number;
  readonly seed: string;
  readonly drawnEntry: number | null;
  readonly planWords: string;
  readonly plan: Calculated;
  readonly drums: readonly { readonly drum: string; readonly picks: readonly Pick[] }[];
}

/** Which blanks to take out of which drum, by a draw that nobody could choose. */
export function PickListPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const { answer, problem } = useQuestion<PickListAnswer | null>('pick-list', { melt });
  if (answer === undefined) {
    return (
      <Page title={`Pick list of melt ${melt}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Pick list of melt ${melt}`}>
        <Empty
          what="No sample of this melt has been ordered."
          how={<PathLink to="/receiving">It is ordered once every drum is settled.</PathLink>}
        />
      </Page>
    );
  }
  return (
    <Page
      title={`Pick list of melt ${melt}`}
      about={`${answer.samplePieces} blanks: ${answer.assayPieces} for assay, ${answer.physicalPieces} for size and mass`}
      known={<Known answer={answer} />}
    >
      {answer.drums.map(({ drum, picks }) => (
        <Part key={drum} title={`Drum ${drum}`}>
          <Table
            caption={`Blanks to take from drum ${drum}`}
            rows={picks}
            keyOf={(row) => row.blank}
            columns={[
              { key: 'position', title: 'Position', value: (row) => row.position, decimals: 0 },
              { key: 'blank', title: 'Blank', value: (row) => row.blank },
              {
                key: 'for',
                title: 'For',
                value: (row) =>
                  [row.forAssay ? 'assay' : '', row.forPhysical ? 'size and mass' : '']
                    .filter(Boolean)
                    .join(', '),
              },
            ]}
          />
        </Part>
      ))}
      {answer.drawnEntry === null ? (
        <Part title="Record the draw">
          <CommandForm command="record-draw" label="Record draw" given={{ melt }} isMain />
        </Part>
      ) : (
        <p>
          Drawn in{' '}
          <PathLink to={`/journal/${answer.drawnEntry}`}>
            entry {printNumber(answer.drawnEntry)}
          </PathLink>
          . The trial goes on in the{' '}
          <PathLink to={`/laboratory/melts/${encodeURIComponent(melt)}`}>laboratory</PathLink>.
        </p>
      )}
    </Page>
  );
}

function Known({ answer }: { readonly answer: PickListAnswer }) {
  return (
    <>
      <Facts
        facts={[
          ['Severity', answer.severity],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={answer.supplier} />],
          [
            'Seed',
            <PathLink key="seed" to={`/journal/${answer.seedEntry}`}>
              hash of entry {printNumber(answer.seedEntry)}
            </PathLink>,
          ],
        ]}
      />
      <p className="faint">{answer.severityReason}</p>
      <p className="faint">{answer.planWords}</p>
      <LineageStrip thing="melt" id={answer.melt} />
    </>
  );
}
