import { lazy, Suspense, useState } from 'react';
import {
  Empty,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  useQuestion,
  useSession,
} from '../../../workbench/index.ts';
import { AskFurther } from './ask-further.tsx';
import { CheckResult, SendResultBack } from './check-result.tsx';
import { CorrectMeasurement } from './correct-measurement.tsx';
import { CutBlanks } from './cut-blanks.tsx';
import { DiscardDetermination } from './discard-determination.tsx';
import { MeasureBlanks } from './measure-blanks.tsx';
import type { MeltWork, Told } from './melt-frame.tsx';
import { actsOf, commandOf, type MeltAct, nextActOf } from './next-act.ts';
import { NothingNext, WaitsForOthers } from './nothing-next.tsx';
import { RecordCupellation } from './record-cupellation.tsx';
import { RecordDifference } from './record-difference.tsx';
import { ReturnBlanks } from './return-blanks.tsx';
import { ReturnMelt } from './return-melt.tsx';
import { RuleOnMelt } from './rule-on-melt.tsx';
import { SignResult } from './sign-result.tsx';
import type { DeskAnswer, TrialAnswer } from './trial-answer.ts';

const works = {
  'measure blanks': MeasureBlanks,
  'correct measurement': CorrectMeasurement,
  'cut blanks': CutBlanks,
  'ask further blanks': AskFurther,
  'return blanks': ReturnBlanks,
  'record run': RecordRun,
  'discard determination': DiscardDetermination,
  'sign result': SignResult,
  'check result': CheckResult,
  'send result back': SendResultBack,
  'rule on melt': RuleOnMelt,
  'return melt': ReturnMelt,
} as const satisfies Readonly<Record<MeltAct, unknown>>;

// Reading curves brings readers of tables with it, which the other pages of a melt do not need.
const LoadedTitration = lazy(async () => ({
  default: (await import('../titration/screens/record-titration.tsx')).RecordTitration,
}));

function RecordTitration(work: MeltWork) {
  return (
    <Suspense
      fallback={
        <Page title={`Melt ${work.answer.melt}`}>
          <Pending />
        </Page>
      }
    >
      <LoadedTitration {...work} />
    </Suspense>
  );
}

const runsOfMethods = {
  cupellation: RecordCupellation,
  'fineness-by-difference': RecordDifference,
  titration: RecordTitration,
} as const satisfies Readonly<Record<MeltWork['answer']['method'], unknown>>;

function RecordRun(work: MeltWork) {
  const Run = runsOfMethods[work.answer.method];
  return <Run {...work} />;
}

/** The trial of one melt: the act that comes next, and every reading up to the ruling. */
export function MeltPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const { answer, problem } = useQuestion<TrialAnswer | null>('melt-trial', { melt });
  const desk = useQuestion<DeskAnswer>('laboratory-desk');
  const title = `Melt ${melt}`;
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="No sample of this melt has come to the laboratory."
          how={<PathLink to="/receiving">It is ordered and drawn at receiving.</PathLink>}
        />
      </Page>
    );
  }
  if (!answer || !desk.answer) {
    return (
      <Page title={title}>
        <Pending problem={problem ?? desk.problem} />
      </Page>
    );
  }
  return <OneMelt key={melt} answer={answer} desk={desk.answer} />;
}

function OneMelt(props: { readonly answer: TrialAnswer; readonly desk: DeskAnswer }) {
  const { answer, desk } = props;
  const { session } = useSession();
  const [chosen, choose] = useState<MeltAct | undefined>(undefined);
  const [told, tell] = useState<Told | undefined>(undefined);
  const may = (act: MeltAct) => session?.commands[commandOf(act, answer.method)]?.allowed ?? false;
  const acts = actsOf(answer).filter(may);
  const next = nextActOf(answer);
  const act = chosen && acts.includes(chosen) ? chosen : next;
  const work: MeltWork = {
    answer,
    instruments: desk.instruments,
    others: acts.filter((one) => one !== act),
    choose,
    // Where the act stays the same, it says itself what was recorded.
    told: told?.act === act && told.words === undefined ? undefined : told,
    onRecorded: (entries, words) => {
      if (act) tell({ act, entries, words });
      choose(undefined);
    },
  };
  if (act === null) return <NothingNext {...work} />;
  if (!may(act)) return <WaitsForOthers {...work} act={act} />;
  const Work = works[act];
  // A worksheet that nobody has begun is laid out anew once further blanks are cut.
  const cut = act === 'record run' ? answer.blanks.filter((blank) => blank.cut).length : 0;
  return <Work key={`${act} ${cut}`} {...work} />;
}
