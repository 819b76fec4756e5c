import { useState } from 'react';
import {
  ChoiceField,
  CommandForm,
  FieldRow,
  MainAct,
  Page,
  Part,
  Pending,
  pathTo,
  printNumber,
  SideAct,
  Table,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useQuestion,
} from '../../../workbench/index.ts';
import type { AnnounceInput } from '../announce-input.ts';
import type { PackingListColumns } from '../bodies.ts';
import { type PackingListResult, readPackingList } from '../packing-list.ts';
import type { DeskAnswer } from './desk-answer.ts';
import { columnNames, proposedColumns } from './proposed-columns.ts';

interface AnnounceDraft {
  readonly consignment: string;
  readonly supplier: string;
  readonly document: string;
  readonly pieceStandard: string;
  readonly text: string;
  readonly columns: PackingListColumns;
  readonly massUnit: 'kg' | 'g';
  readonly decimalMark: 'point' | 'comma';
}

/** A consignment begins with its packing list: a file of the supplier, or a form. */
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

function Announce({ answer }: { readonly answer: DeskAnswer }) {
  const go = useGo();
  const [draft, change, clear] = useDraft<AnnounceDraft>('announce', {
    consignment: '',
    supplier: '',
    document: '',
    pieceStandard: '',
    text: '',
    columns: proposedColumns(''),
    massUnit: 'kg',
    decimalMark: 'point',
  });
  const announce = useCommand('announce-consignment', {
    onRecorded: () => {
      clear();
      go(pathTo('/receiving/consignments/$consignment', { consignment: draft.consignment }));
    },
  });
  const result = draft.text === '' ? undefined : readPackingList(draft.text, draft);
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
          notYet={
            input
              ? undefined
              : 'Name the consignment and bring a packing list in which every row is right.'
          }
        />
      }
    >
      <FieldRow>
        <TextField
          label="Consignment"
          value={draft.consignment}
          onChange={(consignment) => change({ consignment })}
          hint="A new name for this delivery."
          refusal={announce.refusalAt('consignment')}
        />
        <TextField
          label="Document"
          value={draft.document}
          onChange={(document) => change({ document })}
          hint="Delivery note or packing list."
          refusal={announce.refusalAt('document')}
        />
      </FieldRow>
      <ChoiceField
        label="Supplier"
        value={draft.supplier}
        choices={answer.suppliers.map(({ supplier, name, isApproved }) => ({
          value: supplier,
          label: isApproved ? name : `${name} (approval has run out)`,
        }))}
        onChange={(supplier) => change({ supplier, ...keptColumns(answer, supplier) })}
        refusal={announce.refusalAt('supplier')}
      />
      <ChoiceField
        label="Blanks for"
        value={draft.pieceStandard}
        choices={answer.pieceStandards.map(({ pieceStandard, title }) => ({
          value: pieceStandard,
          label: title,
        }))}
        onChange={(pieceStandard) => change({ pieceStandard })}
        refusal={announce.refusalAt('pieceStandard')}
      />
      <ListFile draft={draft} change={change} />
      {draft.text === '' ? null : <Columns draft={draft} change={change} />}
      {result ? <ListShown result={result} /> : null}
      <details className="act-fold">
        <summary>Without a file: fill in melts and drums</summary>
        <CommandForm command="announce-consignment" />
      </details>
    </Page>
  );
}

type Change = (part: Partial<AnnounceDraft>) => void;

/** What a supplier's columns were called last time. */
function keptColumns(answer: DeskAnswer, supplier: string): Partial<AnnounceDraft> {
  const kept = answer.packingListColumns.find((row) => row.supplier === supplier);
  if (!kept) return {};
  const { columns, massUnit, decimalMark } = kept;
  return { columns: columns as PackingListColumns, massUnit, decimalMark };
}

function ListFile({ draft, change }: { readonly draft: AnnounceDraft; readonly change: Change }) {
  const [name, setName] = useState('');
  const take = (text: string) => change({ text, columns: proposedColumns(text, draft.columns) });
  return (
    <Part title="Packing list">
      <div className="field">
        <label htmlFor="packing-list">File of the supplier (CSV)</label>
        <input
          id="packing-list"
          type="file"
          accept=".csv,text/csv,text/plain"
          onChange={async (event) => {
            const file = event.target.files?.[0];
            if (!file) return;
            setName(file.name);
            take(await file.text());
          }}
        />
        <p className="field-hint">{name === '' ? 'One drum in a row, with a header.' : name}</p>
      </div>
      <TextField label="Or paste it" kind="long" value={draft.text} onChange={take} optional />
    </Part>
  );
}

const asked: readonly (readonly [keyof PackingListColumns, string])[] = [
  ['drum', 'Drum'],
  ['melt', 'Melt'],
  ['pieces', 'Pieces'],
  ['gross', 'Gross mass'],
  ['tare', 'Tare'],
  ['seal', 'Seal'],
  ['supplierFinenessPerMille', 'Fineness, ‰'],
];

function Columns({ draft, change }: { readonly draft: AnnounceDraft; readonly change: Change }) {
  const names = columnNames(draft.text);
  const keep = useCommand('keep-packing-list-columns');
  const { supplier, columns, massUnit, decimalMark } = draft;
  return (
    <Part title="What its columns mean">
      <FieldRow>
        {asked.map(([field, label]) => (
          <div className="field" key={field}>
            <label htmlFor={`column-${field}`}>{label}</label>
            <select
              id={`column-${field}`}
              value={columns[field] ?? ''}
              onChange={(event) =>
                change({ columns: { ...columns, [field]: event.target.value || null } })
              }
            >
              <option value="">not in the list</option>
              {names.map((name) => (
                <option key={name} value={name}>
                  {name}
                </option>
              ))}
            </select>
          </div>
        ))}
      </FieldRow>
      <FieldRow>
        <ChoiceField
          label="Unit of mass"
          value={massUnit}
          choices={[
            { value: 'kg', label: 'kg' },
            { value: 'g', label: 'g' },
          ]}
          onChange={(unit) => change({ massUnit: unit })}
        />
        <ChoiceField
          label="Decimal mark"
          value={decimalMark}
          choices={[
            { value: 'point', label: 'point' },
            { value: 'comma', label: 'comma' },
          ]}
          onChange={(mark) => change({ decimalMark: mark })}
        />
      </FieldRow>
      <SideAct
        label="Remember for this supplier"
        command={keep}
        input={() => ({ supplier, columns, massUnit, decimalMark })}
        notYet={supplier === '' ? 'Choose the supplier first.' : undefined}
      />
    </Part>
  );
}

function ListShown({ result }: { readonly result: PackingListResult }) {
  if (result.outcome === 'read') return <ListRead input={result.input} />;
  return (
    <Part title={`Nothing is taken: ${result.problems.length} rows or fields are not right`}>
      <Table
        caption="What is not right in the packing list"
        rows={result.problems}
        keyOf={(row) => `${row.line} ${row.column} ${row.accepted}`}
        columns={[
          { key: 'line', title: 'Line', value: (row) => row.line, decimals: 0 },
          { key: 'column', title: 'Column', value: (row) => row.column },
          { key: 'value', title: 'It says', value: (row) => row.value },
          { key: 'accepted', title: 'Accepted', value: (row) => row.accepted },
        ]}
      />
    </Part>
  );
}

function ListRead({ input }: { readonly input: AnnounceInput }) {
  const pieces = input.drums.reduce((sum, drum) => sum + drum.pieces, 0);
  return (
    <Part
      title={`Read: ${input.drums.length} drums, ${input.melts.length} melts, ${printNumber(pieces)} pieces`}
    >
      <Table
        caption="The packing list as it will be recorded"
        rows={input.drums}
        keyOf={(row) => row.drum}
        columns={[
          { key: 'drum', title: 'Drum', value: (row) => row.drum },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          { key: 'gross', title: 'Gross', value: (row) => `${row.gross.text} ${row.gross.unit}` },
          { key: 'tare', title: 'Tare', value: (row) => `${row.tare.text} ${row.tare.unit}` },
          { key: 'seal', title: 'Seal', value: (row) => row.seal },
        ]}
      />
    </Part>
  );
}
