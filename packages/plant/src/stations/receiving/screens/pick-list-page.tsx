import type { ReactNode } from 'react';
import type { Calculated } from '../../../journal/calculated.ts';
import {
  Empty,
  emptyReading,
  Facts,
  FieldRow,
  Figure,
  LineageStrip,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printNumber,
  ReadingField,
  readingOf,
  type ScreenProps,
  State,
  Table,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { SeverityShown } from './severity-shown.tsx';

interface Pick {
  readonly blank: string;
  readonly pick: number;
  readonly position: number;
  readonly forAssay: boolean;
  readonly forPhysical: boolean;
}

interface PickListAnswer {
  readonly melt: string;
  readonly consignment: string;
  readonly supplier: string;
  readonly pieceStandard: string;
  readonly pieces: number;
  readonly samplePieces: number;
  readonly assayPieces: number;
  readonly physicalPieces: number;
  readonly acceptanceNumber: number;
  readonly rejectionNumber: number;
  readonly severity: 'normal' | 'tightened';
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
  return answer.drawnEntry === null ? <ToBeDrawn answer={answer} /> : <Drawn answer={answer} />;
}

interface ListProps {
  readonly answer: PickListAnswer;
}

/** The pick list while the inspector is at the drums: it ends with the mass of what he took. */
function ToBeDrawn({ answer }: ListProps) {
  const { melt } = answer;
  const [draft, change, clear] = useDraft(`record draw ${melt}`, {
    gross: emptyReading('g'),
    instrument: '',
  });
  const record = useCommand('record-draw', { onRecorded: clear });
  const isComplete = draft.gross.text !== '' && draft.instrument !== '';
  return (
    <PickList
      answer={answer}
      act={
        <MainAct
          label="Record draw"
          command={record}
          input={() => ({
            melt,
            gross: readingOf(draft.gross),
            instrument: draft.instrument,
          })}
          notYet={
            isComplete ? undefined : 'Take the blanks out, mark them and weigh them together.'
          }
        />
      }
    >
      <div className="not-printed">
        <Part title="Record the draw">
          <ReadingField
            label="Mass of the sample"
            large
            value={draft.gross}
            onChange={(gross) => change({ gross })}
            hint={`All ${answer.samplePieces} blanks together, without their container.`}
            refusal={record.refusalAt('gross') ?? record.refusalAt('gross.text')}
          />
          <FieldRow>
            <TextField
              label="Balance"
              kind="code"
              value={draft.instrument}
              onChange={(instrument) => change({ instrument })}
              hint="Scan the label of the balance."
              refusal={record.refusalAt('instrument')}
            />
          </FieldRow>
        </Part>
      </div>
    </PickList>
  );
}

function Drawn({ answer }: ListProps) {
  const { melt, drawnEntry } = answer;
  return (
    <PickList answer={answer}>
      <p className="not-printed">
        <State word="drawn" tone="done" /> in{' '}
        <PathLink to={`/journal/${drawnEntry}`}>entry {printNumber(drawnEntry ?? 0)}</PathLink>. The
        trial goes on in the{' '}
        <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>laboratory</PathLink>.
      </p>
    </PickList>
  );
}

function PickList(
  props: ListProps & {
    readonly act?: ReactNode;
    readonly children: ReactNode;
  },
) {
  const { answer } = props;
  return (
    <Page
      title={`Pick list of melt ${answer.melt}`}
      about={`${answer.samplePieces} blanks: ${answer.assayPieces} for assay, ${answer.physicalPieces} for size and mass`}
      known={<HowDrawn answer={answer} />}
      act={props.act}
    >
      <Facts
        facts={[
          [
            `Blanks of ${printNumber(answer.pieces)}`,
            <Figure key="sample" value={answer.samplePieces} size="result" />,
          ],
          [
            'Accept up to, at fault',
            <Figure key="accept" value={answer.acceptanceNumber} size="result" />,
          ],
          ['Reject from', <Figure key="reject" value={answer.rejectionNumber} size="result" />],
        ]}
      />
      <div className="pick-list">
        {answer.drums.map(({ drum, picks }) => (
          <Part
            key={drum}
            title={`Drum ${drum}`}
            aside={<span className="faint">{printNumber(picks.length)} blanks</span>}
          >
            <Picks drum={drum} picks={picks} />
          </Part>
        ))}
      </div>
      <button type="button" className="quiet-button not-printed" onClick={() => window.print()}>
        Print this list
      </button>
      {props.children}
    </Page>
  );
}

function purposes({ forAssay, forPhysical }: Pick): string {
  return [forAssay ? 'assay' : '', forPhysical ? 'size and mass' : ''].filter(Boolean).join(', ');
}

function Picks({ drum, picks }: { readonly drum: string; readonly picks: readonly Pick[] }) {
  return (
    <Table
      caption={`Blanks to take from drum ${drum}`}
      rows={picks}
      keyOf={(row) => row.blank}
      filter={false}
      columns={[
        { key: 'position', title: 'Position', value: (row) => row.position, decimals: 0 },
        {
          key: 'blank',
          title: 'Mark it',
          value: (row) => row.blank,
          cell: (row) => (
            <>
              <span className="print-only">□ </span>
              {row.blank}
            </>
          ),
        },
        { key: 'for', title: 'For', value: purposes },
      ]}
    />
  );
}

/** Why so many and why these: plan, severity with its reason, seed. */
function HowDrawn({ answer }: ListProps) {
  const { supplier, pieceStandard } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Severity',
            <PathLink
              key="severity"
              to={pathTo('/receiving/series/$supplier/$pieceStandard', { supplier, pieceStandard })}
            >
              <SeverityShown severity={answer.severity} />
            </PathLink>,
          ],
          [
            'Consignment',
            <PathLink
              key="consignment"
              to={pathTo('/receiving/consignments/$consignment', {
                consignment: answer.consignment,
              })}
            >
              {answer.consignment}
            </PathLink>,
          ],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={supplier} />],
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
      <p className="faint">
        Letter {String(answer.plan.output['planLetter'])}, level{' '}
        {String(answer.plan.input['inspectionLevel'])}, limit{' '}
        {printNumber(Number(answer.plan.input['acceptanceQualityLimitPercent']))} %, MIL-STD-105E.
        Positions count the blanks as they are taken out of the drum.
      </p>
      <LineageStrip thing="melt" id={answer.melt} />
    </>
  );
}
