import type { ReactNode } from 'react';
import {
  type CommandInHand,
  Facts,
  Figure,
  inWords,
  LineageStrip,
  Metal,
  Page,
  Part,
  PathLink,
  Probability,
  pathTo,
  printInstant,
  printNumber,
  State,
  ThingLink,
} from '../../../workbench/index.ts';
import { ExchangedResults } from './exchanged-results.tsx';
import { MeltContents, MeltEvidence } from './melt-evidence.tsx';
import type { MeltAct } from './next-act.ts';
import { StageWay, toneOfStage } from './stage-way.tsx';
import type { DeskInstrument, TrialAnswer } from './trial-answer.ts';
import { Verdict } from './verdict.tsx';

type Entries = CommandInHand['entries'];

/** What was recorded by an act that is no longer on the page. */
export interface Told {
  readonly act: MeltAct;
  readonly entries: Entries;
  /** What became of it, where that is not plain. */
  readonly words?: string | undefined;
}

/** What the work on a melt is given. */
export interface MeltWork {
  readonly answer: TrialAnswer;
  readonly instruments: readonly DeskInstrument[];
  /** The other acts that this person may do now. */
  readonly others: readonly MeltAct[];
  readonly choose: (act: MeltAct) => void;
  readonly told: Told | undefined;
  readonly onRecorded: (entries: Entries, words?: string) => void;
}

/** The page of a melt around the act in hand. */
export function MeltFrame(
  props: MeltWork & {
    readonly title: string;
    readonly mainAct?: ReactNode;
    readonly children: ReactNode;
  },
) {
  const { answer, told } = props;
  return (
    <Page
      title={`Melt ${answer.melt}`}
      about={
        <>
          <State word={answer.stage} tone={toneOfStage(answer)} />{' '}
          {answer.physical.state === 'rejected' ? (
            <State word="blanks rejected" tone="stopped" />
          ) : null}{' '}
          · <Metal metal={answer.metal} /> {answer.pieceStandardTitle} · {answer.supplierName}
        </>
      }
      known={<Known answer={answer} />}
      act={props.mainAct}
    >
      <StageWay answer={answer} />
      <MeltContents answer={answer} />
      <Verdict answer={answer} />
      {told ? <ToldLine told={told} runs={answer.runs} /> : null}
      <Doubts answer={answer} />
      <StillMissing answer={answer} />
      <Part title={props.title} aside={<OtherActs {...props} />}>
        {props.children}
      </Part>
      <ExchangedResults melt={answer.melt} />
      <MeltEvidence answer={answer} />
    </Page>
  );
}

/** What is in doubt of all that the melt rests on, and where it is answered for. */
function Doubts({ answer: { doubts } }: { readonly answer: TrialAnswer }) {
  if (doubts.length === 0) return null;
  return (
    <ul className="plain-list">
      {doubts.map(({ what, entry, hold, words }) => (
        <li key={`${entry} ${hold} ${what}`}>
          <State word={`${what} is in doubt`} tone="stopped" />. {words}{' '}
          <PathLink to={pathTo('/laboratory/holds/$hold', { hold })}>
            The chief assayer says whether it stands.
          </PathLink>
        </li>
      ))}
    </ul>
  );
}

/** Why the determinations there are give no result yet. */
function StillMissing({ answer }: { readonly answer: TrialAnswer }) {
  const { preview, determinations } = answer;
  if (preview?.state !== 'incomplete' || determinations.length === 0) return null;
  return (
    <div>
      {preview.missing.map(({ refusal, message, nextStep }) => (
        <p key={refusal} className="still-missing">
          <State word={message} tone="look" /> {nextStep}
        </p>
      ))}
    </div>
  );
}

function ToldLine(props: { readonly told: Told; readonly runs: TrialAnswer['runs'] }) {
  const { told, runs } = props;
  const [first] = told.entries;
  if (!first) return null;
  const run = runs.find(({ entry }) => entry === first.number);
  return (
    <p role="status">
      {run?.state === 'void' ? (
        <State word={`Run ${run.assayRun} is void`} tone="stopped" />
      ) : (
        `✓ ${inWords(told.act)}`
      )}
      : entry <PathLink to={`/journal/${first.number}`}>{printNumber(first.number)}</PathLink>
      {told.words ? <span>. {told.words}</span> : null}
    </p>
  );
}

function OtherActs({ others, choose }: MeltWork) {
  return (
    <span className="other-melt-acts">
      {others.map((act) => (
        <button key={act} type="button" className="link-button" onClick={() => choose(act)}>
          {inWords(act)}
        </button>
      ))}
    </span>
  );
}

function Known({ answer }: { readonly answer: TrialAnswer }) {
  const { supplierValue, physical } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Consignment',
            <ThingLink key="consignment" thing="consignment" id={answer.consignment} />,
          ],
          ['Pieces of the melt', <Figure key="pieces" value={answer.piecesOfMelt} decimals={0} />],
          ['Least fineness', <Figure key="limit" value={answer.finenessLimitPerMille} unit="‰" />],
          ['Method', answer.method.replaceAll('-', ' ')],
          [
            'Required probability',
            <Probability key="required" value={answer.requiredConformanceProbability} />,
          ],
          [
            'Duplicates differ at most',
            <Figure key="duplicates" value={answer.duplicateLimitPerMille} unit="‰" />,
          ],
          [
            'Blanks examined',
            `${printNumber(physical.blanksMeasured)} of ${printNumber(physical.blanksForPhysical)}`,
          ],
          ["Supplier's value", <SupplierValue key="supplier" value={supplierValue} />],
          ['At this stage since', printInstant(answer.since)],
        ]}
      />
      <p className="laboratory-way">
        <PathLink to={pathTo('/laboratory/melts/$melt/worksheets', { melt: answer.melt })}>
          Worksheets and tables
        </PathLink>
        {' · '}
        <PathLink to={pathTo('/laboratory/melts/$melt/screening', { melt: answer.melt })}>
          Screening
        </PathLink>
      </p>
      <LineageStrip thing="melt" id={answer.melt} />
    </>
  );
}

function SupplierValue({ value }: { readonly value: TrialAnswer['supplierValue'] }) {
  if (value.finenessPerMille === null) return value.state;
  return <Figure value={value.finenessPerMille} decimals={3} unit="‰" />;
}
