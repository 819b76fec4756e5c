import {
  Empty,
  Facts,
  FieldRow,
  LineageStrip,
  MainAct,
  Page,
  Pending,
  printInstant,
  type ScreenProps,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { RegistersAnswer } from './desk-answer.ts';
import { Until } from './until.tsx';

/** A supplier or a purchaser, whose pages differ in words only. */
interface PartyWords {
  readonly field: 'supplier' | 'purchaser';
  readonly Party: string;
  readonly register: string;
  readonly registerLabel: string;
  readonly registerTitle: string;
  readonly change: string;
  readonly what: string;
}

const supplier: PartyWords = {
  field: 'supplier',
  Party: 'Supplier',
  register: 'register-supplier',
  registerLabel: 'Register supplier',
  registerTitle: 'Register a supplier',
  change: 'change-supplier',
  what: 'Blanks are taken in only from a supplier whose approval holds.',
};

const purchaser: PartyWords = {
  field: 'purchaser',
  Party: 'Purchaser',
  register: 'approve-purchaser',
  registerLabel: 'Approve purchaser',
  registerTitle: 'Approve a purchaser',
  change: 'change-purchaser',
  what: 'Boxes are sent only to a purchaser whose approval holds.',
};

interface PartyRow {
  readonly id: string;
  readonly name: string;
  readonly approvedUntil: string;
  readonly entry: number;
  readonly since: string;
}

function rowOf(answer: RegistersAnswer, words: PartyWords, id: string): PartyRow | undefined {
  const rows: readonly PartyRow[] =
    words.field === 'supplier'
      ? answer.suppliers.map((row) => ({ ...row, id: row.supplier }))
      : answer.purchasers.map((row) => ({ ...row, id: row.purchaser }));
  return rows.find((row) => row.id === id);
}

export const RegisterSupplierPage = () => <RegisterParty words={supplier} />;

export const ApprovePurchaserPage = () => <RegisterParty words={purchaser} />;

export const SupplierPage = ({ params }: ScreenProps) => (
  <PartyPage words={supplier} id={params['supplier'] ?? ''} />
);

export const PurchaserPage = ({ params }: ScreenProps) => (
  <PartyPage words={purchaser} id={params['purchaser'] ?? ''} />
);

function RegisterParty({ words }: { readonly words: PartyWords }) {
  const [draft, change, clear] = useDraft(words.register, { id: '', name: '', approvedUntil: '' });
  const command = useCommand(words.register, { onRecorded: clear });
  const { name, approvedUntil } = draft;
  return (
    <Page
      title={words.registerTitle}
      about={words.what}
      act={
        <MainAct
          label={words.registerLabel}
          command={command}
          input={() => ({ [words.field]: draft.id.trim(), name: name.trim(), approvedUntil })}
        />
      }
    >
      <TextField
        label="Id"
        hint="Short, as it is typed and scanned; never given to another one."
        value={draft.id}
        onChange={(id) => change({ id })}
        refusal={command.refusalAt(words.field)}
      />
      <PartyFields {...{ draft, change, command }} />
    </Page>
  );
}

function PartyFields(props: {
  readonly draft: { readonly name: string; readonly approvedUntil: string };
  readonly change: (part: { name?: string; approvedUntil?: string }) => void;
  readonly command: { refusalAt(field: string): string | undefined };
}) {
  const { draft, change, command } = props;
  return (
    <FieldRow>
      <TextField
        label="Name"
        hint="As it stands on papers."
        value={draft.name}
        onChange={(name) => change({ name })}
        refusal={command.refusalAt('name')}
      />
      <TextField
        label="Approved until"
        kind="date"
        hint="The last day of the approval; a past day ends it."
        value={draft.approvedUntil}
        onChange={(approvedUntil) => change({ approvedUntil })}
        refusal={command.refusalAt('approvedUntil')}
      />
    </FieldRow>
  );
}

function PartyPage({ words, id }: { readonly words: PartyWords; readonly id: string }) {
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  const row = answer && rowOf(answer, words, id);
  if (!answer || !row) {
    return (
      <Page title={`${words.Party} ${id}`}>
        {answer ? (
          <Empty
            what={`${id} is not in the register.`}
            how={`The registers list every ${words.field}.`}
          />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  return <ChangeParty key={row.entry} {...{ words, row, answer }} />;
}

function ChangeParty(props: {
  readonly words: PartyWords;
  readonly row: PartyRow;
  readonly answer: RegistersAnswer;
}) {
  const { words, row } = props;
  const [draft, change, clear] = useDraft(`${words.change} ${row.id} ${row.entry}`, {
    name: row.name,
    approvedUntil: row.approvedUntil,
  });
  const command = useCommand(words.change, { onRecorded: clear });
  const { name, approvedUntil } = draft;
  return (
    <Page
      title={row.name}
      about={words.what}
      known={
        <>
          <Facts
            facts={[
              [words.Party, <code key="id">{row.id}</code>],
              ['Approved', <Until key="until" day={row.approvedUntil} answer={props.answer} />],
              ['So since', printInstant(row.since)],
            ]}
          />
          <LineageStrip thing={words.field} id={row.id} />
        </>
      }
      act={
        <MainAct
          label={`Change ${words.field}`}
          command={command}
          input={() => ({ [words.field]: row.id, name: name.trim(), approvedUntil })}
        />
      }
    >
      {command.description?.allowed ? <PartyFields {...{ draft, change, command }} /> : null}
    </Page>
  );
}
