import {
  MainAct,
  printInstant,
  TextField,
  useCommand,
  useDraft,
  useSession,
} from '../../../workbench/index.ts';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

/** Why this person cannot be the second one, as far as the page knows. */
function tookPart(answer: TrialAnswer, person: string | undefined): string | undefined {
  const isSigner = standingResultOf(answer.results)?.signer === person;
  const isAuthor = answer.runs.some(({ author }) => author === person);
  if (!isSigner && !isAuthor) return undefined;
  return `You ${isSigner ? 'signed this result' : 'recorded a run of this result'}; an assayer checks it who had no part in it.`;
}

function Signed({ answer }: { readonly answer: TrialAnswer }) {
  const standing = standingResultOf(answer.results);
  if (!standing) return null;
  return (
    <p>
      Signed by {answer.people[standing.signer] ?? standing.signer},{' '}
      {printInstant(standing.instant)}. Compare every reading below with the worksheets before you
      stand for the result.
    </p>
  );
}

/** A second assayer stands for the signed result. */
export function CheckResult(work: MeltWork) {
  const { answer } = work;
  const person = useSession().session?.person.person;
  const check = useCommand('check-result', {
    onRecorded: (_answer, entries) => work.onRecorded(entries),
  });
  return (
    <MeltFrame
      {...work}
      title="Check the result"
      mainAct={
        <MainAct
          label="Check result"
          command={check}
          notYet={tookPart(answer, person)}
          input={() => ({ melt: answer.melt })}
        />
      }
    >
      <Signed answer={answer} />
    </MeltFrame>
  );
}

/** The second assayer gives the result back with the reason. */
export function SendResultBack(work: MeltWork) {
  const { answer } = work;
  const person = useSession().session?.person.person;
  const [draft, change, clear] = useDraft(`send back ${answer.melt}`, { reason: '' });
  const sendBack = useCommand('send-back-result', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  return (
    <MeltFrame
      {...work}
      title="Send the result back"
      mainAct={
        <MainAct
          label="Send result back"
          command={sendBack}
          notYet={tookPart(answer, person)}
          input={() => ({ melt: answer.melt, reason: draft.reason })}
        />
      }
    >
      <Signed answer={answer} />
      <TextField
        label="Reason"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={sendBack.refusalAt('reason')}
      />
    </MeltFrame>
  );
}
