import { MainAct, TextField, useCommand, useDraft } from '../../../workbench/index.ts';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';

/** A refused melt goes back to its supplier. */
export function ReturnMelt(work: MeltWork) {
  const { answer } = work;
  const [draft, change, clear] = useDraft(`return ${answer.melt}`, { document: '' });
  const giveBack = useCommand('return-melt', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  return (
    <MeltFrame
      {...work}
      title="Return the melt to its supplier"
      mainAct={
        <MainAct
          label="Return melt"
          command={giveBack}
          notYet={draft.document === '' ? 'Name the document under which it goes.' : undefined}
          input={() => ({ melt: answer.melt, document: draft.document })}
        />
      }
    >
      <p>
        Everything of melt {answer.melt} that lies at receiving goes back to {answer.supplierName}.
        Whole blanks that still lie here are returned to receiving first.
      </p>
      <TextField
        label="Document"
        value={draft.document}
        onChange={(document) => change({ document })}
        hint="The delivery note under which it goes back."
        refusal={giveBack.refusalAt('document') ?? giveBack.refusalAt('melt')}
      />
    </MeltFrame>
  );
}
