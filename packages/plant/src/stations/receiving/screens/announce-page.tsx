import { useMemo } from 'react';
import {
  ChoiceField,
  FieldRow,
  MainAct,
  Page,
  Part,
  Pending,
  pathTo,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useQuestion,
} from '../../../workbench/index.ts';
import { readPackingList } from '../packing-list.ts';
import {
  type AnnounceDraft,
  type ChangeAnnounceDraft,
  isAsKept,
  keptFor,
  listOf,
  readingFor,
} from './announce-draft.ts';
import type { DeskAnswer } from './desk-answer.ts';
import { nextDrum, rowOfLine } from './drums-by-hand.ts';
import { DrumsByHand } from './hand-rows.tsx';
import { ListColumns } from './list-columns.tsx';
import { ListFile } from './list-file.tsx';
import { ListShown } from './list-shown.tsx';
import { missingColumns, proposedColumns } from './proposed-columns.ts';

/** A consignment begins with its packing list: a file of the supplier, or typed off his document. */
export function AnnouncePage() {
  const { answer, problem } = useQuestion<DeskAnswer>('receiving-desk');
  if (!answer) {
    return (
      <Page title="Announce consignment">
        <Pending problem={problem} />
      </Page>
    );
  }
  return <Announce answer={answer} />;
}

const emptyDraft: AnnounceDraft = {
  consignment: '',
  supplier: '',
  document: '',
  pieceStandard: '',
  way: 'list',
  text: '',
  columns: proposedColumns(''),
  massUnit: 'kg',
  decimalMark: 'point',
  drums: [nextDrum(undefined)],
};

/** The list as it is read now; nothing while there is none, or columns are missing. */
function useReadList(draft: AnnounceDraft) {
  const { text, reading } = listOf(draft);
  const asked = JSON.stringify(reading);
  return useMemo(() => {
    const { columns, ...rest } = JSON.parse(asked) as typeof reading;
    if (text === '' || missingColumns(columns).length > 0) return undefined;
    return readPackingList(text, { ...rest, columns });
  }, [text, asked]);
}

/** Why the consignment cannot be announced yet. */
function whyNotYet(draft: AnnounceDraft, isRead: boolean): string | undefined {
  if (isRead) return undefined;
  const missing = draft.way === 'list' && draft.text !== '' ? missingColumns(draft.columns) : [];
  if (missing.length > 0) return `Choose the columns for ${missing.join(', ')}.`;
  return 'Name the consignment and bring a packing list in which every row is right.';
}

function Announce({ answer }: { readonly answer: DeskAnswer }) {
  const go = useGo();
  const [draft, change, clear] = useDraft<AnnounceDraft>('announce', emptyDraft);
  const keep = useCommand('keep-packing-list-columns');
  const kept = keptFor(answer, draft.supplier);
  const announce = useCommand('announce-consignment', {
    onRecorded: async () => {
      const { consignment, supplier, columns, massUnit, decimalMark } = draft;
      if (draft.way === 'list' && !isAsKept(draft, kept)) {
        await keep.send({ supplier, columns, massUnit, decimalMark });
      }
      clear();
      go(pathTo('/receiving/consignments/$consignment', { consignment }));
    },
  });
  const result = useReadList(draft);
  const input = result?.outcome === 'read' ? result.input : undefined;
  return (
    <Page
      title="Announce consignment"
      about="The supplier’s packing list is taken as a whole, or not at all"
      act={
        <MainAct
          label="Announce consignment"
          command={announce}
          input={() => input}
          notYet={whyNotYet(draft, input !== undefined)}
        />
      }
    >
      <Head answer={answer} draft={draft} change={change} refusalAt={announce.refusalAt} />
      <ChoiceField
        label="Packing list"
        value={draft.way}
        choices={[
          { value: 'list', label: 'File of the supplier' },
          { value: 'hand', label: 'Typed by hand' },
        ]}
        onChange={(way) => change({ way })}
      />
      {draft.way === 'list' ? (
        <Part title="Packing list">
          <ListFile text={draft.text} onText={(text) => change(readingFor(text, kept))} />
        </Part>
      ) : (
        <DrumsByHand draft={draft} change={change} />
      )}
      {draft.way === 'list' && draft.text !== '' ? (
        <ListColumns draft={draft} change={change} isAsKept={isAsKept(draft, kept)} />
      ) : null}
      {result ? (
        <ListShown
          result={result}
          placeTitle={draft.way === 'list' ? 'Line' : 'Row'}
          placeOf={(line) => (draft.way === 'list' ? line : rowOfLine(draft.drums, line))}
        />
      ) : null}
    </Page>
  );
}

function Head(props: {
  readonly answer: DeskAnswer;
  readonly draft: AnnounceDraft;
  readonly change: ChangeAnnounceDraft;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { answer, draft, change, refusalAt } = props;
  return (
    <>
      <FieldRow>
        <TextField
          label="Consignment"
          kind="code"
          value={draft.consignment}
          onChange={(consignment) => change({ consignment })}
          hint="A new name for this delivery."
          refusal={refusalAt('consignment')}
        />
        <TextField
          label="Document"
          value={draft.document}
          onChange={(document) => change({ document })}
          hint="Delivery note or packing list."
          refusal={refusalAt('document')}
        />
      </FieldRow>
      <ChoiceField
        label="Supplier"
        value={draft.supplier}
        choices={answer.suppliers.map(({ supplier, name, isApproved }) => ({
          value: supplier,
          label: isApproved ? name : `${name} (approval has run out)`,
        }))}
        onChange={(supplier) => {
          const { text } = draft;
          change({ supplier, ...(text === '' ? {} : readingFor(text, keptFor(answer, supplier))) });
        }}
        refusal={refusalAt('supplier')}
      />
      <ChoiceField
        label="Blanks for"
        value={draft.pieceStandard}
        choices={answer.pieceStandards.map(({ pieceStandard, title }) => ({
          value: pieceStandard,
          label: title,
        }))}
        onChange={(pieceStandard) => change({ pieceStandard })}
        refusal={refusalAt('pieceStandard')}
      />
    </>
  );
}
