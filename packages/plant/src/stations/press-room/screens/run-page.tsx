import { useState } from 'react';
import {
  Empty,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  useQuestion,
} from '../../../workbench/index.ts';
import type { PressRoomAnswer, RunAnswer } from './answers.ts';
import { CloseRun } from './close-run.tsx';
import { actsOf, nextActOf, type RunAct } from './next-act.ts';
import { RecordStrike } from './record-strike.tsx';
import { NothingNext, type RunWork, type Told } from './run-frame.tsx';
import { SendPieces } from './send-pieces.tsx';
import { SetRejectsAside } from './set-rejects-aside.tsx';

const works = {
  'record strike': RecordStrike,
  'send pieces': SendPieces,
  'set rejects aside': SetRejectsAside,
  'close run': CloseRun,
} as const;

/** One run: how it stands, the act that comes next, and everything examined so far. */
export function RunPage({ params }: ScreenProps) {
  const run = params['run'] ?? '';
  const { answer, problem } = useQuestion<RunAnswer | null>('run', { run });
  const desk = useQuestion<PressRoomAnswer>('press-room-desk');
  if (answer === null) {
    return (
      <Page title={`Run ${run}`}>
        <Empty
          what={`No run ${run} was opened.`}
          how={<PathLink to="/press-room/open-run">Open it.</PathLink>}
        />
      </Page>
    );
  }
  if (!answer || !desk.answer) {
    return (
      <Page title={`Run ${run}`}>
        <Pending problem={problem ?? desk.problem} />
      </Page>
    );
  }
  return <OneRun answer={answer} desk={desk.answer} />;
}

function OneRun(props: { readonly answer: RunAnswer; readonly desk: PressRoomAnswer }) {
  const { answer, desk } = props;
  const [chosen, choose] = useState<RunAct | undefined>(undefined);
  const [told, tell] = useState<Told | undefined>(undefined);
  const acts = actsOf(answer.run);
  const act = chosen && acts.includes(chosen) ? chosen : nextActOf(answer.run);
  const work: RunWork = {
    answer,
    instruments: desk.instruments,
    act,
    others: acts.filter((one) => one !== act),
    choose,
    // Where the act stays the same, it says itself what was recorded.
    told: told?.act === act ? undefined : told,
    onRecorded: (entries) => {
      if (act) tell({ act, entries });
      choose(undefined);
    },
  };
  if (act === null) return <NothingNext {...work} />;
  const Work = works[act];
  return <Work {...work} />;
}
