import {
  ChoiceField,
  Empty,
  MainAct,
  Page,
  PathLink,
  Pending,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { Die } from '../books.ts';
import type { RegistersAnswer } from './desk-answer.ts';
import { diePartChoices } from './words.ts';

/** A die or collar comes into the keeping of the plant, under two signatures. */
export function ReceiveDiePage() {
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  if (!answer || answer.pieceStandards.length === 0) {
    return (
      <Page title="Receive a die">
        {answer ? (
          <Empty
            what="A die strikes a piece standard, and none is registered."
            how={
              <PathLink to="/registers/register-piece-standard">Register the first one.</PathLink>
            }
          />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  return <ReceiveDie answer={answer} />;
}

function ReceiveDie({ answer }: { readonly answer: RegistersAnswer }) {
  const [draft, change] = useDraft<{ die: string; part: Die['part'] | ''; pieceStandard: string }>(
    'receive-die',
    { die: '', part: '', pieceStandard: answer.pieceStandards[0]?.pieceStandard ?? '' },
  );
  // Dies come several at once: the standard stays for the next one.
  const receive = useCommand('receive-die', { onRecorded: () => change({ die: '', part: '' }) });
  return (
    <Page
      title="Receive a die"
      about="Dies are kept like metal: two people sign for each."
      act={
        <MainAct
          label="Receive die"
          command={receive}
          input={() => ({ ...draft, die: draft.die.trim() })}
        />
      }
    >
      <TextField
        label="Die"
        kind="code"
        hint="The id engraved on the die or collar."
        value={draft.die}
        onChange={(die) => change({ die })}
        refusal={receive.refusalAt('die')}
      />
      <ChoiceField
        label="Part"
        value={draft.part}
        choices={diePartChoices}
        onChange={(part) => change({ part })}
        refusal={receive.refusalAt('part')}
      />
      <ChoiceField
        label="Strikes"
        value={draft.pieceStandard}
        choices={answer.pieceStandards.map(({ pieceStandard, title }) => ({
          value: pieceStandard,
          label: title,
        }))}
        onChange={(pieceStandard) => change({ pieceStandard })}
        refusal={receive.refusalAt('pieceStandard')}
      />
    </Page>
  );
}
