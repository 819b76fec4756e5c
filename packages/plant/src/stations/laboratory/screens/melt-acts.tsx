import {
  ChoiceField,
  CommandForm,
  MainAct,
  Part,
  SideAct,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { CupellationForm } from './cupellation-form.tsx';
import { DifferenceForm } from './difference-form.tsx';
import { MeasureForm } from './measure-form.tsx';
import type { DeskInstrument, TrialAnswer } from './trial-answer.ts';

interface ActsProps {
  readonly answer: TrialAnswer;
  readonly instruments: readonly DeskInstrument[];
}

/** The act that comes next, and quietly the others that the stage allows. */
export function MeltActs(props: ActsProps) {
  const { answer } = props;
  switch (answer.stage) {
    case 'to be measured':
      return <MeasureForm {...props} />;
    case 'to be cut':
      return <Cut {...props} />;
    case 'to be assayed':
      return <Assay {...props} />;
    case 'to be signed':
      return (
        <>
          <Sign answer={answer} />
          <MoreAssays {...props} />
          <OtherActs {...props} />
        </>
      );
    case 'to be checked':
      return <Check answer={answer} />;
    case 'to be ruled':
    case 'held':
      return (
        <>
          <Rule answer={answer} />
          {answer.results.at(-1)?.body.verdict === 'undecided' || answer.stage === 'held' ? (
            <MoreAssays {...props} />
          ) : null}
          <OtherActs {...props} />
        </>
      );
    case 'refused':
      return (
        <Part title="Return the melt">
          <CommandForm
            command="return-melt"
            label="Return melt"
            given={{ melt: answer.melt }}
            isMain
          />
        </Part>
      );
    default:
      return <OtherActs {...props} />;
  }
}

function Cut({ answer }: ActsProps) {
  const cut = useCommand('cut-blanks');
  const blanks = answer.blanks.filter((row) => row.forAssay && !row.cut).map(({ blank }) => blank);
  return (
    <Part title="Cut blanks for assay">
      <p>
        The draw chose {blanks.join(', ')}. A blank that is cut stops being a piece; its grams stay
        in the laboratory.
      </p>
      <MainAct label="Cut blanks" command={cut} input={() => ({ melt: answer.melt, blanks })} />
      <ReturnBlanks answer={answer} />
    </Part>
  );
}

function ReturnBlanks({ answer }: { readonly answer: TrialAnswer }) {
  const whole = answer.blanks.filter((row) => row.measurement && !row.cut && !row.returned);
  const others = whole.filter((row) => !row.forAssay).map(({ blank }) => blank);
  if (others.length === 0) return null;
  return (
    <details className="act-fold">
      <summary>Return {others.length} whole blanks to receiving</summary>
      <CommandForm command="return-blanks" given={{ melt: answer.melt, blanks: others }} />
    </details>
  );
}

function Assay(props: ActsProps) {
  return props.answer.method === 'cupellation' ? (
    <CupellationForm {...props} isMain />
  ) : (
    <DifferenceForm {...props} isMain />
  );
}

function MoreAssays(props: ActsProps) {
  return (
    <details className="act-fold">
      <summary>Record a further run</summary>
      {props.answer.method === 'cupellation' ? (
        <CupellationForm {...props} />
      ) : (
        <DifferenceForm {...props} />
      )}
    </details>
  );
}

function Sign({ answer }: { readonly answer: TrialAnswer }) {
  const sign = useCommand('sign-result');
  const missing =
    answer.preview?.state === 'incomplete'
      ? answer.preview.missing.map(({ message, nextStep }) => `${message} ${nextStep}`).join(' ')
      : undefined;
  return (
    <MainAct
      label="Sign result"
      command={sign}
      input={() => ({ melt: answer.melt })}
      notYet={missing}
    />
  );
}

function Check({ answer }: { readonly answer: TrialAnswer }) {
  const check = useCommand('check-result');
  return (
    <>
      <p>
        Signed by {answer.people[answer.results.at(-1)?.signer ?? ''] ?? 'an assayer'}. Another
        authorised assayer checks every reading below against the worksheet.
      </p>
      <MainAct label="Check result" command={check} input={() => ({ melt: answer.melt })} />
      <details className="act-fold">
        <summary>Send the result back</summary>
        <CommandForm command="send-back-result" given={{ melt: answer.melt }} />
      </details>
    </>
  );
}

const rulingChoices = [
  { value: 'release', label: 'release' },
  { value: 'refuse', label: 'refuse' },
  { value: 'hold', label: 'hold' },
  { value: 'concession', label: 'concession on size' },
] as const;

function Rule({ answer }: { readonly answer: TrialAnswer }) {
  const [draft, change, clear] = useDraft<{ ruling: string; reason: string }>(
    `rule ${answer.melt}`,
    { ruling: '', reason: '' },
  );
  const rule = useCommand('rule-melt', { onRecorded: clear });
  return (
    <Part title="Ruling">
      <ChoiceField
        label="Ruling"
        value={draft.ruling}
        choices={rulingChoices}
        onChange={(ruling) => change({ ruling })}
        refusal={rule.refusalAt('ruling')}
      />
      <TextField
        label="Reason"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={rule.refusalAt('reason')}
      />
      <MainAct
        label="Rule on melt"
        command={rule}
        input={() => ({ melt: answer.melt, ...draft })}
        notYet={draft.ruling === '' ? 'Choose the ruling and say why.' : undefined}
      />
    </Part>
  );
}

function OtherActs({ answer }: ActsProps) {
  const valid = answer.determinations.filter(({ state }) => state === 'valid');
  const cut = answer.blanks.filter((row) => row.forAssay && !row.cut);
  const discard = useCommand('cut-blanks');
  return (
    <>
      <ReturnBlanks answer={answer} />
      {cut.length > 0 && answer.stage !== 'released' ? (
        <SideAct
          label="Cut the remaining blanks"
          command={discard}
          input={() => ({ melt: answer.melt, blanks: cut.map(({ blank }) => blank) })}
        />
      ) : null}
      {valid.length > 0 && answer.stage === 'to be signed' ? (
        <details className="act-fold">
          <summary>Discard a determination for an assignable cause</summary>
          <CommandForm command="discard-determination" />
        </details>
      ) : null}
    </>
  );
}
