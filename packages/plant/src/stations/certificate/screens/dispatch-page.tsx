import {
  ChoiceField,
  MainAct,
  Page,
  Pending,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { BoxChoice } from './box-choice.tsx';
import type { DeskAnswer } from './desk-answer.ts';

interface Registers {
  readonly purchasers: readonly {
    readonly purchaser: string;
    readonly name: string;
    readonly approvedUntil: string;
  }[];
}

interface DispatchDraft {
  readonly dispatch: string;
  readonly purchaser: string;
  readonly document: string;
  readonly scanned: string;
  readonly boxes: readonly string[];
}

const empty: DispatchDraft = { dispatch: '', purchaser: '', document: '', scanned: '', boxes: [] };

/** Certified boxes leave for an approved purchaser, signed by two people. */
export function DispatchPage() {
  const { answer, problem } = useQuestion<DeskAnswer>('certificate-desk');
  const registers = useQuestion<Registers>('registers-desk');
  const [draft, change, clear] = useDraft<DispatchDraft>('dispatch boxes', empty);
  const send = useCommand('dispatch-boxes', { onRecorded: clear });
  if (!answer || !registers.answer) {
    return (
      <Page title="Dispatch boxes">
        <Pending problem={problem ?? registers.problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Dispatch boxes"
      about="Only boxes with a valid certificate, only to approved purchasers"
      act={
        <MainAct
          label="Dispatch boxes"
          command={send}
          notYet={missingOf(draft)}
          input={() => ({
            dispatch: draft.dispatch,
            purchaser: draft.purchaser,
            document: draft.document,
            boxes: draft.boxes,
          })}
        />
      }
    >
      <div className="field-row">
        <TextField
          label="Dispatch number"
          value={draft.dispatch}
          onChange={(dispatch) => change({ dispatch })}
          refusal={send.refusalAt('dispatch')}
        />
        <TextField
          label="Document"
          value={draft.document}
          onChange={(document) => change({ document })}
          refusal={send.refusalAt('document')}
        />
      </div>
      <ChoiceField
        label="Purchaser"
        value={draft.purchaser}
        choices={registers.answer.purchasers.map(({ purchaser, name, approvedUntil }) => ({
          value: purchaser,
          label: `${name}, approved until ${approvedUntil}`,
        }))}
        onChange={(purchaser) => change({ purchaser })}
        refusal={send.refusalAt('purchaser')}
      />
      <BoxChoice
        boxes={answer.boxes.filter(({ certificate }) => certificate !== null)}
        chosen={draft.boxes}
        onChange={(boxes) => change({ boxes })}
        scanned={draft.scanned}
        onScan={(scanned) => change({ scanned })}
        refusalAt={send.refusalAt}
      />
    </Page>
  );
}

function missingOf(draft: DispatchDraft): string | undefined {
  if (draft.dispatch === '') return 'Give the dispatch its number.';
  if (draft.document === '') return 'Name the document that goes with the boxes.';
  if (draft.purchaser === '') return 'Choose the purchaser.';
  return draft.boxes.length === 0 ? 'Choose the boxes.' : undefined;
}
