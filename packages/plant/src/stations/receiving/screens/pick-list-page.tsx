import type { ReactNode } from 'react';
import {
  Empty,
  emptyReading,
  Facts,
  FieldRow,
  Figure,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printNumber,
  type ReadingDraft,
  ReadingField,
  readingOf,
  type ScreenProps,
  State,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { HowDrawn, type PickListAnswer, Picks } from './pick-list-parts.tsx';
import { countScanned, forgetScan, nothingScanned } from './picks-in-hand.ts';
import { ScanPicks, SubstitutePick } from './scan-picks.tsx';
import { TrayChoice, type TraySize } from './tray-choice.tsx';

/** Which blanks to take out of which drum, by a draw that nobody could choose. */
export function PickListPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const [{ tray }, change] = useDraft<{ tray: TraySize }>('trays of pick lists', { tray: 'none' });
  const asked = tray === 'none' ? { melt } : { melt, trayPieces: Number(tray) };
  const { answer, problem } = useQuestion<PickListAnswer | null>('pick-list', asked);
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
  const trays = (
    <TrayChoice
      melt={melt}
      paper="pick-list"
      tray={tray}
      change={(chosen) => change({ tray: chosen })}
    />
  );
  return answer.drawnEntry === null ? (
    <ToBeDrawn answer={answer} trays={trays} />
  ) : (
    <Drawn answer={answer} trays={trays} />
  );
}

interface ListProps {
  readonly answer: PickListAnswer;
}

interface ShownProps extends ListProps {
  /** How the blanks are laid out, and the list as a paper. */
  readonly trays: ReactNode;
}

/** Why the draw cannot be recorded yet. */
function whyNotYet(
  draft: { readonly gross: ReadingDraft; readonly instrument: string; readonly reason: string },
  missing: number,
): string | undefined {
  if (draft.gross.text === '' || draft.instrument === '') {
    return 'Take the blanks out, mark them and weigh them together.';
  }
  if (missing === 0 || draft.reason.trim().length >= 3) return undefined;
  return `${printNumber(missing)} picks are not scanned: scan them, or say why they cannot be.`;
}

/** The pick list while the inspector is at the drums: it ends with the mass of what he took. */
function ToBeDrawn({ answer, trays }: ShownProps) {
  const { melt, samplePieces, drums } = answer;
  const [draft, change, clear] = useDraft(`record draw ${melt}`, {
    gross: emptyReading('g'),
    instrument: '',
    reason: '',
    inHand: nothingScanned,
  });
  const record = useCommand('record-draw', { onRecorded: clear });
  const missing = samplePieces - countScanned(drums, draft.inHand);
  const scanned = drums.flatMap(({ picks }) =>
    picks.flatMap(({ blank }) => (draft.inHand.scanned.includes(blank) ? [blank] : [])),
  );
  return (
    <PickList
      answer={answer}
      trays={trays}
      scanned={new Set(scanned)}
      act={
        <MainAct
          label="Record draw"
          command={record}
          input={() => ({
            melt,
            gross: readingOf(draft.gross),
            instrument: draft.instrument,
            verification: { scanned, reason: missing === 0 ? null : draft.reason },
          })}
          notYet={whyNotYet(draft, missing)}
        />
      }
      above={
        <div className="not-printed">
          <ScanPicks
            drums={drums}
            samplePieces={samplePieces}
            inHand={draft.inHand}
            change={(inHand) => change({ inHand })}
          />
        </div>
      }
    >
      <div className="not-printed">
        <SubstitutePick
          melt={melt}
          command="substitute-pick"
          onSubstituted={(blank) => change({ inHand: forgetScan(draft.inHand, blank) })}
        />
        <Part title="Record the draw">
          <ReadingField
            label="Mass of the sample"
            large
            value={draft.gross}
            onChange={(gross) => change({ gross })}
            onInstrument={(instrument) => change({ instrument })}
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
          {missing === 0 ? null : (
            <TextField
              label="Why picks are not scanned"
              value={draft.reason}
              onChange={(reason) => change({ reason })}
              optional
              hint={`${printNumber(missing)} of ${printNumber(samplePieces)} are not.`}
              refusal={record.refusalAt('verification.reason')}
            />
          )}
        </Part>
      </div>
    </PickList>
  );
}

function Drawn({ answer, trays }: ShownProps) {
  const { melt, drawnEntry, verified } = answer;
  return (
    <PickList answer={answer} trays={trays}>
      <p className="not-printed">
        <State word="drawn" tone="done" /> in{' '}
        <PathLink to={`/journal/${drawnEntry}`}>entry {printNumber(drawnEntry ?? 0)}</PathLink>. The
        trial goes on in the{' '}
        <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>laboratory</PathLink>; for the
        supplier, the umpire and in reserve it is divided into{' '}
        <PathLink to={pathTo('/receiving/melts/$melt/portions', { melt })}>portions</PathLink>.
      </p>
      {verified === null ? null : (
        <p className="not-printed">
          {printNumber(verified.scanned)} picks were scanned at their drums
          {verified.notScanned.length === 0
            ? '.'
            : `; ${verified.notScanned.join(', ')} were not: ${verified.reason}`}
        </p>
      )}
    </PickList>
  );
}

function PickList(
  props: ShownProps & {
    readonly act?: ReactNode;
    /** What is done while the list is walked. */
    readonly above?: ReactNode;
    readonly scanned?: ReadonlySet<string>;
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
      {props.trays}
      {props.above}
      <p className="faint">{answer.walkWords}</p>
      <div className="pick-list">
        {answer.drums.map(({ drum, picks }) => (
          <Part
            key={drum}
            title={`Drum ${drum}`}
            aside={<span className="faint">{printNumber(picks.length)} blanks</span>}
          >
            <Picks drum={drum} picks={picks} scanned={props.scanned} />
          </Part>
        ))}
      </div>
      {props.children}
    </Page>
  );
}
