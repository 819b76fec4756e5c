import {
  ChoiceField,
  MainAct,
  printNumber,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';

/** Takes a determination out of the result for a cause that was found; it stays visible. */
export function DiscardDetermination(work: MeltWork) {
  const { answer } = work;
  const [draft, change, clear] = useDraft(`discard ${answer.melt}`, { chosen: '', reason: '' });
  const discard = useCommand('discard-determination', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const valid = answer.determinations.filter(({ state }) => state === 'valid');
  const keyOf = (row: (typeof valid)[number]) => `${row.assayRun} ${row.label}`;
  const row = valid.find((one) => keyOf(one) === draft.chosen);
  return (
    <MeltFrame
      {...work}
      title="Discard a determination"
      mainAct={
        <MainAct
          label="Discard determination"
          command={discard}
          notYet={row ? undefined : 'Choose the determination whose fault was found.'}
          input={() => ({ assayRun: row?.assayRun, label: row?.label, reason: draft.reason })}
        />
      }
    >
      <p>
        Only for a cause that was found, such as a cracked cupel or a spilt solution. That a value
        looks odd is none. What is discarded stays visible with its reason.
      </p>
      <ChoiceField
        label="Determination"
        value={draft.chosen}
        choices={valid.map((one) => ({
          value: keyOf(one),
          label: `${keyOf(one)}: ${printNumber(one.finenessPerMille, 3)} ‰`,
        }))}
        onChange={(chosen) => change({ chosen })}
        refusal={discard.refusalAt('label') ?? discard.refusalAt('assayRun')}
      />
      <TextField
        label="Reason"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={discard.refusalAt('reason')}
      />
    </MeltFrame>
  );
}
