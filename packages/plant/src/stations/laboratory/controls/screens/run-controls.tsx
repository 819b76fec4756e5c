import {
  type CommandInHand,
  FieldGroup,
  FieldRow,
  ReadingField,
  TextField,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ReagentLotRow, ReferenceMaterialRow } from '../../../registers/index.ts';
import { readingRefusal } from '../../screens/measure-blanks.tsx';
import { SolutionTable } from '../../screens/solution-table.tsx';
import {
  type BlankDraft,
  type ControlsDraft,
  lotsSent,
  newBlank,
  newReference,
  type ReferenceDraft,
  sentBlanks,
  sentReferences,
} from './controls-draft.ts';
import type { GoverningEdition } from './governing-edition.ts';

interface ControlsProps {
  readonly method: 'cupellation' | 'difference';
  readonly metal: string;
  readonly edition: GoverningEdition | null;
  readonly draft: ControlsDraft;
  readonly change: (part: Partial<ControlsDraft>) => void;
  readonly record: CommandInHand;
}

const replaced = <Item,>(items: readonly Item[], index: number, part: Partial<Item>): Item[] =>
  items.map((item, at) => (at === index ? { ...item, ...part } : item));

/** What runs beside the portions of a melt, so that the run can be believed. */
export function RunControls(props: ControlsProps) {
  const { edition } = props;
  return (
    <>
      {edition ? (
        <p className="faint">
          Recorded under {edition.title}, edition {edition.edition}.
        </p>
      ) : null}
      <References {...props} />
      <Blanks {...props} />
      <Lots {...props} />
    </>
  );
}

/** The bottles that could serve, told below the field that waits for one. */
function useMaterials(metal: string): string {
  const { answer } = useQuestion<{
    day: string;
    referenceMaterials: readonly ReferenceMaterialRow[];
  }>('reference-materials');
  const fit = (answer?.referenceMaterials ?? []).filter(
    (row) =>
      row.metal === metal &&
      !row.retired &&
      row.validUntil >= (answer?.day ?? '') &&
      row.massRemainingMicrograms > 0,
  );
  return fit.length === 0
    ? `No reference material of ${metal} is in use.`
    : `In use: ${fit.map((row) => `${row.referenceMaterial} (${row.kind})`).join(', ')}.`;
}

function References(props: ControlsProps) {
  const { draft, change, record, metal } = props;
  const hint = useMaterials(metal);
  const sent = sentReferences(draft);
  const refusal = record.refusalAt('references');
  return (
    <FieldGroup title="Reference materials">
      {draft.references.map((reference, index) => (
        <Reference
          key={reference.label}
          {...{ ...props, reference, hint }}
          at={`references.${sent.indexOf(index)}`}
          onChange={(part) => change({ references: replaced(draft.references, index, part) })}
        />
      ))}
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() => {
            const place = draft.references.length + 1;
            const rows = draft.references.at(-1)?.rows ?? [];
            const blank = rows.map((row) => ({ ...row, content: '', uncertainty: '' }));
            change({ references: [...draft.references, newReference(place, blank)] });
          }}
        >
          Add a reference material
        </button>
        {draft.references.length > 0 ? (
          <button
            type="button"
            className="link-button"
            onClick={() => change({ references: draft.references.slice(0, -1) })}
          >
            Take the last one away
          </button>
        ) : null}
      </p>
    </FieldGroup>
  );
}

function Reference(
  props: ControlsProps & {
    readonly reference: ReferenceDraft;
    readonly hint: string;
    readonly at: string;
    readonly onChange: (part: Partial<ReferenceDraft>) => void;
  },
) {
  const { reference, record, at, onChange, method } = props;
  const { label } = reference;
  const head = (
    <FieldRow>
      <TextField
        label={`Reference material ${label}`}
        kind="code"
        hint={props.hint}
        value={reference.referenceMaterial}
        onChange={(referenceMaterial) => onChange({ referenceMaterial })}
        refusal={record.refusalAt(`${at}.referenceMaterial`)}
      />
      <ReadingField
        label={`Taken, ${label}`}
        value={reference.taken}
        onChange={(taken) => onChange({ taken })}
        refusal={readingRefusal(record, `${at}.taken`)}
      />
      {method === 'cupellation' ? (
        <ReadingField
          label={`Cornet, ${label}`}
          value={reference.cornet}
          onChange={(cornet) => onChange({ cornet })}
          refusal={readingRefusal(record, `${at}.cornet`)}
        />
      ) : null}
    </FieldRow>
  );
  if (method === 'cupellation') return head;
  return (
    <SolutionTable
      title={`Reference ${label}`}
      head={head}
      solution={{ label, blank: '', rows: reference.rows }}
      cut={[]}
      onChange={({ rows }) => (rows ? onChange({ rows }) : undefined)}
      onRemove={undefined}
      refusalAt={(field) => record.refusalAt(`${at}${field}`)}
    />
  );
}

function Blanks({ draft, change, record, edition }: ControlsProps) {
  const sent = sentBlanks(draft);
  const refusal = record.refusalAt('blanks');
  const set = (index: number, part: Partial<BlankDraft>) =>
    change({ blanks: replaced(draft.blanks, index, part) });
  return (
    <FieldGroup title="Blanks: without metal">
      {draft.blanks.map((blank, index) => {
        const at = `blanks.${sent.indexOf(index)}`;
        const limit = edition?.blanks.find((one) => one.quantity === blank.quantity);
        return (
          <FieldRow key={blank.label}>
            <TextField
              label={`Quantity, ${blank.label}`}
              hint="volume, mass, or the symbol of an element."
              value={blank.quantity}
              onChange={(quantity) => set(index, { quantity })}
              refusal={record.refusalAt(`${at}.quantity`)}
            />
            <TextField
              label={`Unit, ${blank.label}`}
              value={blank.unit}
              onChange={(unit) => set(index, { unit })}
              refusal={record.refusalAt(`${at}.unit`)}
            />
            <TextField
              label={`Value, ${blank.label}`}
              kind="decimal"
              unit={blank.unit}
              hint={limit ? `At most ${limit.greatest} ${limit.unit}.` : undefined}
              value={blank.value}
              onChange={(value) => set(index, { value })}
              refusal={record.refusalAt(`${at}.value`)}
            />
          </FieldRow>
        );
      })}
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() => {
            const place = draft.blanks.length + 1;
            change({ blanks: [...draft.blanks, newBlank(place, { quantity: '', unit: 'mg/kg' })] });
          }}
        >
          Add a blank
        </button>
      </p>
    </FieldGroup>
  );
}

function Lots({ draft, change, record }: ControlsProps) {
  const { answer } = useQuestion<{ day: string; lots: readonly ReagentLotRow[] }>('reagent-lots');
  const open = (answer?.lots ?? []).filter(
    (row) => row.state === 'open' && row.expires >= (answer?.day ?? ''),
  );
  const sent = lotsSent(draft);
  const refusal = record.refusalAt('reagentLots');
  return (
    <FieldGroup title="Reagents">
      <FieldRow>
        {draft.lots.map(({ reagent, lot }, index) => {
          const fit = open.filter((row) => reagent === '' || row.reagent === reagent);
          return (
            <TextField
              // biome-ignore lint/suspicious/noArrayIndexKey: lines of a form are told apart by their place
              key={index}
              label={reagent === '' ? 'Lot of a further reagent' : `Lot of ${reagent}`}
              kind="code"
              hint={
                fit.length === 0
                  ? 'None is open.'
                  : `Open: ${fit.map((row) => row.lot).join(', ')}.`
              }
              value={lot}
              onChange={(changed) =>
                change({ lots: replaced(draft.lots, index, { lot: changed }) })
              }
              refusal={record.refusalAt(`reagentLots.${sent.indexOf(lot.trim())}`)}
            />
          );
        })}
      </FieldRow>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() => change({ lots: [...draft.lots, { reagent: '', lot: '' }] })}
        >
          Add a lot
        </button>
      </p>
    </FieldGroup>
  );
}
