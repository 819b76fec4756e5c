import type { ReactNode } from 'react';
import {
  Facts,
  Figure,
  inWords,
  LineageStrip,
  Metal,
  Page,
  Part,
  PathLink,
  pathTo,
  printInstant,
  printNumber,
  State,
  ThingLink,
  type useCommand,
} from '../../../workbench/index.ts';
import type { HoldRow } from '../books.ts';
import type { RunAnswer, RunShown, ShownInstrument } from './answers.ts';
import type { RunAct } from './next-act.ts';
import { RunStateShown } from './run-state.tsx';
import { StrikesTable } from './strikes-table.tsx';
import { RejectsTable, SentTable } from './transfers-table.tsx';

type Entries = ReturnType<typeof useCommand>['entries'];

/** What was recorded by an act that is no longer on the page. */
export interface Told {
  readonly act: RunAct;
  readonly entries: Entries;
}

/** What the work on a run is given. */
export interface RunWork {
  readonly answer: RunAnswer;
  readonly instruments: readonly ShownInstrument[];
  /** The act on the page; nothing when nothing comes next. */
  readonly act: RunAct | null;
  readonly others: readonly RunAct[];
  readonly choose: (act: RunAct) => void;
  readonly told: Told | undefined;
  readonly onRecorded: (entries: Entries) => void;
}

/** The holds of a run that have no ruling. */
export const openHoldsOf = ({ holds }: RunAnswer): readonly HoldRow[] =>
  holds.filter(({ state }) => state === 'open');

/** The page of a run around the act in hand. */
export function RunFrame(
  props: RunWork & {
    readonly title: string;
    readonly mainAct?: ReactNode;
    readonly children: ReactNode;
  },
) {
  const { answer, told } = props;
  const { run } = answer;
  return (
    <Page
      title={`Run ${run.run}`}
      about={
        <>
          <RunStateShown state={run.state} /> · <Metal metal={run.metal} />{' '}
          {run.title ?? run.pieceStandard}
        </>
      }
      known={<Known answer={answer} />}
      act={props.mainAct}
    >
      <RunFigures run={run} />
      {openHoldsOf(answer).map((hold) => (
        <HoldLine key={hold.hold} hold={hold} />
      ))}
      {told ? <ToldLine told={told} /> : null}
      <Part title={props.title} aside={<OtherActs {...props} />}>
        {props.children}
      </Part>
      {answer.strikes.length > 0 ? (
        <Part title="Strikes examined">
          <StrikesTable strikes={answer.strikes} limits={answer.limits} />
        </Part>
      ) : null}
      <SentTable deliveries={answer.deliveries} />
      <RejectsTable rejects={answer.rejects} />
    </Page>
  );
}

/** A run of which all judged pieces have left. */
export function NothingNext(work: RunWork) {
  return (
    <RunFrame {...work} title="Nothing comes next">
      <p className="faint">The run is closed, and every judged piece of it has left.</p>
    </RunFrame>
  );
}

function RunFigures({ run }: { readonly run: RunShown }) {
  const figures = [
    ['Strike examined last', run.lastStrike],
    ['May be sent', run.piecesDeliverable],
    ['Sent', run.piecesDelivered],
    ['Rejects', run.piecesRejected],
  ] as const;
  return (
    <dl className="named-figures">
      {figures.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>
            <Figure value={value} decimals={0} size="result" />
          </dd>
        </div>
      ))}
    </dl>
  );
}

function HoldLine({ hold }: { readonly hold: HoldRow }) {
  return (
    <p>
      <State word={`${printNumber(hold.pieces)} pieces held: ${hold.words}`} tone="stopped" />{' '}
      <PathLink to={pathTo('/press-room/holds/$hold', { hold: hold.hold })}>{hold.hold}</PathLink>
    </p>
  );
}

const toldWords: Readonly<Record<RunAct, string>> = {
  'record strike': 'Strike recorded',
  'send pieces': 'Pieces sent',
  'set rejects aside': 'Rejects set aside',
  'close run': 'Run closed',
};

function ToldLine({ told }: { readonly told: Told }) {
  const [first] = told.entries;
  if (!first) return null;
  return (
    <p role="status">
      ✓ {toldWords[told.act]}, entry{' '}
      <PathLink to={`/journal/${first.number}`}>{printNumber(first.number)}</PathLink>
    </p>
  );
}

function OtherActs({ others, choose }: RunWork) {
  return (
    <span className="other-acts">
      {others.map((act) => (
        <button key={act} type="button" className="link-button" onClick={() => choose(act)}>
          {inWords(act)}
        </button>
      ))}
    </span>
  );
}

function Known({ answer }: { readonly answer: RunAnswer }) {
  const { run } = answer;
  const resolved = answer.holds.filter(({ state }) => state !== 'open');
  return (
    <>
      <Facts
        facts={[
          ['Melt', <ThingLink key="melt" thing="melt" id={run.melt} />],
          ['Press', <ThingLink key="press" thing="press" id={run.press} />],
          ['Obverse die', <ThingLink key="obverse" thing="die" id={run.obverse} />],
          ['Reverse die', <ThingLink key="reverse" thing="die" id={run.reverse} />],
          ['Collar', <ThingLink key="collar" thing="die" id={run.collar} />],
          ['Counter before', <Figure key="before" value={run.counterBefore} decimals={0} />],
          ['Counter after', <Figure key="after" value={run.counterAfter} decimals={0} />],
          ['Judged up to strike', <Figure key="judged" value={run.judgedUpTo} decimals={0} />],
          [
            'Opened',
            `${printInstant(run.openedInstant)}, ${run.openedBy}${run.openedWitness ? ` with ${run.openedWitness}` : ''}`,
          ],
          ...(run.closedInstant ? [['Closed', printInstant(run.closedInstant)] as const] : []),
        ]}
      />
      {resolved.length > 0 ? (
        <div>
          <h3>Holds with a ruling</h3>
          {resolved.map(({ hold, state, words }) => (
            <p key={hold}>
              <PathLink to={pathTo('/press-room/holds/$hold', { hold })}>{hold}</PathLink> {state}:{' '}
              <span className="faint">{words}</span>
            </p>
          ))}
        </div>
      ) : null}
      <LineageStrip thing="run" id={run.run} />
    </>
  );
}
