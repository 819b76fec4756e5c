import { useMemo, useState } from 'react';
import { sheetsOfCsv } from '../../../tables/csv-sheet.ts';
import type { SheetsRead } from '../../../tables/sheet.ts';
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
import { listMappingSchema } from '../list/list-bodies.ts';
import type { PackingListResult } from '../list/list-result.ts';
import { type Proposal, proposeMapping } from '../list/proposal.ts';
import { isSameMapping } from '../list/same-mapping.ts';
import {
  type AnnounceDraft,
  type ChangeAnnounceDraft,
  confirmedFor,
  mappingFor,
  withoutReason,
} from './announce-draft.ts';
import type { DeskAnswer } from './desk-answer.ts';
import { nextDrum, rowOfLine } from './drums-by-hand.ts';
import { DrumsByHand } from './hand-rows.tsx';
import { ListColumns } from './list-columns.tsx';
import { ListFile } from './list-file.tsx';
import { ListShown } from './list-shown.tsx';
import { LinesSetAside } from './set-aside.tsx';
import { type ChosenFile, type KeptFile, useKeptFile, useReadList, useSheets } from './use-list.ts';

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
  fileName: '',
  mapping: null,
  setAside: [],
  massUnit: 'kg',
  drums: [nextDrum(undefined)],
};

/** Why the consignment cannot be announced yet. */
function whyNotYet(
  draft: AnnounceDraft,
  list: {
    readonly isRead: boolean;
    readonly isConfirmed: boolean;
    readonly kept: KeptFile | undefined;
    readonly problem: string;
  },
): string | undefined {
  const lines = withoutReason(draft.setAside);
  if (draft.way === 'list' && draft.mapping !== null) {
    if (!list.isConfirmed) return 'Confirm what the columns of the list mean.';
    if (lines.length > 0) return `Say why line ${lines.join(', ')} is set aside.`;
  }
  if (!list.isRead) {
    return 'Name the consignment and bring a packing list in which every row is right.';
  }
  if (draft.way === 'hand' || list.kept) return undefined;
  return list.problem === '' ? 'The file is being kept …' : `The file is not kept: ${list.problem}`;
}

/** What is announced: the drums, with the file that they were read from. */
function announced(
  result: PackingListResult | undefined,
  draft: AnnounceDraft,
  file: KeptFile | undefined,
): unknown {
  if (result?.outcome !== 'read') return undefined;
  const mapping = listMappingSchema.safeParse(draft.mapping);
  if (draft.way === 'hand' || !file || !mapping.success) return result.input;
  const { rows, setAside, totals } = result.account;
  return {
    ...result.input,
    packingList: { file, mapping: mapping.data, rows, setAside, totals },
  };
}

/** The list in hand: its rows, what they seem to mean, whether a person confirmed it, what is read. */
function useListInHand(answer: DeskAnswer, draft: AnnounceDraft) {
  const [chosen, setChosen] = useState<ChosenFile | undefined>(undefined);
  const read = useSheets(draft.text, chosen);
  const confirmed = confirmedFor(answer, draft.supplier);
  const proposal = useMemo(
    () => (read?.outcome === 'sheets' ? proposeMapping(read.sheets, confirmed) : undefined),
    [read, confirmed],
  );
  const { mapping } = draft;
  const isConfirmed =
    confirmed !== undefined && mapping !== null && isSameMapping(confirmed, mapping);
  const result = useReadList(draft, read);
  const isReady = draft.way === 'list' && isConfirmed && result?.outcome === 'read';
  const { kept, problem } = useKeptFile(draft, chosen, isReady);
  return { setChosen, read, proposal, isConfirmed, result, kept, problem };
}

function Announce({ answer }: { readonly answer: DeskAnswer }) {
  const go = useGo();
  const [draft, change, clear] = useDraft<AnnounceDraft>('announce', emptyDraft);
  const list = useListInHand(answer, draft);
  const announce = useCommand('announce-consignment', {
    onRecorded: () => {
      const { consignment } = draft;
      clear();
      go(pathTo('/receiving/consignments/$consignment', { consignment }));
    },
  });
  const { result } = list;
  const isRead = result?.outcome === 'read';
  return (
    <Page
      title="Announce consignment"
      about="The supplier’s packing list is taken as a whole, or not at all"
      act={
        <MainAct
          label="Announce consignment"
          command={announce}
          input={() => announced(result, draft, list.kept)}
          notYet={whyNotYet(draft, { ...list, isRead })}
        />
      }
    >
      <Head
        answer={answer}
        draft={draft}
        change={change}
        read={list.read}
        refusalAt={announce.refusalAt}
      />
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
        <ListInHand answer={answer} draft={draft} change={change} list={list} />
      ) : (
        <DrumsByHand draft={draft} change={change} />
      )}
      {result ? (
        <ListShown
          result={result}
          placeTitle={draft.way === 'list' ? 'Line' : 'Row'}
          placeOf={(line) => (draft.way === 'list' ? line : rowOfLine(draft.drums, line))}
          onSetAside={
            draft.way === 'hand'
              ? undefined
              : (line) => {
                  const others = draft.setAside.filter((one) => one.line !== line);
                  change({ setAside: [...others, { line, reason: '' }] });
                }
          }
        />
      ) : null}
    </Page>
  );
}

/** The file, what its columns mean, and the lines of it that are set aside. */
function ListInHand(props: {
  readonly answer: DeskAnswer;
  readonly draft: AnnounceDraft;
  readonly change: ChangeAnnounceDraft;
  readonly list: {
    readonly setChosen: (chosen: ChosenFile | undefined) => void;
    readonly read: SheetsRead | undefined;
    readonly proposal: Proposal | undefined;
    readonly isConfirmed: boolean;
  };
}) {
  const { answer, draft, change, list } = props;
  const { read, proposal } = list;
  const take = (laidOut: SheetsRead, text: string, fileName: string) => {
    const sheets = laidOut.outcome === 'sheets' ? laidOut.sheets : [];
    change({ text, fileName, ...mappingFor(sheets, answer, draft.supplier) });
  };
  return (
    <>
      <Part title="Packing list">
        <ListFile
          text={draft.text}
          fileName={draft.fileName}
          onText={(text) => {
            list.setChosen(undefined);
            take(sheetsOfCsv(text), text, '');
          }}
          onFile={(chosen, text) => {
            list.setChosen(chosen);
            take(chosen.read, text, chosen.file.name);
          }}
        />
        {read?.outcome === 'sheets' && !proposal ? (
          <p role="alert">
            No table of drums was found in it: a header with drum, melt, pieces, masses and seal, or
            rows with several figures.
          </p>
        ) : null}
      </Part>
      {proposal && draft.mapping && read?.outcome === 'sheets' ? (
        <ListColumns
          supplier={draft.supplier}
          sheets={read.sheets}
          proposal={proposal}
          mapping={draft.mapping}
          isConfirmed={list.isConfirmed}
          change={(mapping) => change({ mapping })}
        />
      ) : null}
      <LinesSetAside setAside={draft.setAside} change={(setAside) => change({ setAside })} />
    </>
  );
}

function Head(props: {
  readonly answer: DeskAnswer;
  readonly draft: AnnounceDraft;
  readonly change: ChangeAnnounceDraft;
  /** The list in hand, whose mapping goes by its supplier. */
  readonly read: SheetsRead | undefined;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { answer, draft, change, read, refusalAt } = props;
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
          const sheets = read?.outcome === 'sheets' ? read.sheets : undefined;
          change({ supplier, ...(sheets ? mappingFor(sheets, answer, supplier) : {}) });
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
