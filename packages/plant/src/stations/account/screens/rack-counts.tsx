import { useState } from 'react';
import {
  ChoiceField,
  type Column,
  FieldRow,
  Part,
  PathLink,
  printAgo,
  ReadingField,
  SideAct,
  State,
  Table,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { RackAtPlace } from '../racks/rack-answer.ts';
import type { DeskPlace } from './desk-answer.ts';
import { PiecesDifference } from './place-state.tsx';
import { emptyLine, foundLines, type LineDraft, type TallyDraft } from './tally-draft.ts';

/** Whether a rack is counted, and by whom. */
function Counted({ rack }: { readonly rack: RackAtPlace }) {
  if (!rack.count) return <State word="not counted" tone="waits" />;
  const { name, instant, outdatedBy } = rack.count;
  if (outdatedBy === null)
    return <span className="faint">{`counted by ${name}, ${printAgo(instant)}`}</span>;
  return (
    <>
      <State word="count again" tone="look" />{' '}
      <PathLink to={`/journal/${outdatedBy}`}>moved since</PathLink>
    </>
  );
}

const piecesOf = (rack: RackAtPlace, of: 'piecesCounted' | 'piecesLabelled'): number | null =>
  rack.lines?.reduce((sum, line) => sum + line[of], 0) ?? null;

const bookColumns: readonly Column<RackAtPlace>[] = [
  {
    key: 'labelled',
    title: 'By labels',
    value: (row) => piecesOf(row, 'piecesLabelled'),
    decimals: 0,
  },
  { key: 'counted', title: 'Counted', value: (row) => piecesOf(row, 'piecesCounted'), decimals: 0 },
  {
    key: 'difference',
    title: 'Difference',
    value: (row) => differenceOf(row),
    cell: (row) => (row.lines ? <PiecesDifference pieces={differenceOf(row)} /> : ''),
  },
];

const differenceOf = (rack: RackAtPlace): number =>
  (piecesOf(rack, 'piecesCounted') ?? 0) - (piecesOf(rack, 'piecesLabelled') ?? 0);

/** How far the racks of a place are counted, under its name. */
export function RacksCounted({ place }: { readonly place: DeskPlace }) {
  const { racks } = place;
  if (racks.length === 0) return null;
  const counted = racks.filter(({ count }) => count?.outdatedBy === null).length;
  const differing = racks.filter((rack) => rack.lines && differenceOf(rack) !== 0);
  const differ = differing.map(({ rack }) => rack).join(', ');
  return (
    <span className="faint racks-counted">
      {counted} of {racks.length} racks counted{differ ? `; ${differ} differs` : ''}
    </span>
  );
}

/** The racks under their place, for those who see the book. */
export function RacksOfPlace({ racks }: { readonly racks: readonly RackAtPlace[] }) {
  if (racks.length === 0) return null;
  return (
    <Part title="Racks" aside={<PathLink to="/account/racks">What lies in them</PathLink>}>
      <Table
        caption="Racks of this place"
        rows={racks}
        keyOf={(row) => row.rack}
        columns={[
          { key: 'rack', title: 'Rack', value: (row) => row.rack },
          { key: 'title', title: 'Title', value: (row) => row.title },
          {
            key: 'count',
            title: 'Counted',
            value: (row) => row.count?.instant ?? '',
            cell: (row) => <Counted rack={row} />,
          },
          ...bookColumns,
        ]}
      />
    </Part>
  );
}

/** The balance that weighs at a place while it is counted. */
interface ScaleInHand {
  readonly balance: string;
  readonly balances: readonly { readonly value: string; readonly label: string }[];
  readonly onBalance: (instrument: string) => void;
}

/** Counts the racks of a place one after the other; each is recorded by whoever counted it. */
export function CountRacks(props: { readonly place: DeskPlace; readonly scale: ScaleInHand }) {
  const { place, scale } = props;
  const [open, setOpen] = useState('');
  if (place.racks.length === 0) return null;
  return (
    <Part title="Racks, one after the other">
      <ul className="plain-list">
        {place.racks.map((rack) => (
          <li key={rack.rack}>
            <strong>{rack.rack}</strong> {rack.title} <Counted rack={rack} />{' '}
            {open === rack.rack ? (
              <CountRack
                rack={rack.rack}
                place={place}
                scale={scale}
                onRecorded={() => setOpen('')}
              />
            ) : (
              <button
                type="button"
                className="link-button"
                aria-label={`Count rack ${rack.rack}`}
                onClick={() => setOpen(rack.rack)}
              >
                {rack.count ? 'Count again' : 'Count'}
              </button>
            )}
          </li>
        ))}
      </ul>
    </Part>
  );
}

function CountRack(props: {
  readonly rack: string;
  readonly place: DeskPlace;
  readonly scale: ScaleInHand;
  readonly onRecorded: () => void;
}) {
  const { rack, place, scale } = props;
  const [draft, change, clear] = useDraft<TallyDraft>(`count rack ${rack}`, {
    lines: {},
    added: [],
  });
  const command = useCommand('count-rack', {
    onRecorded: () => {
      clear();
      props.onRecorded();
    },
  });
  const names = place.standards.map(({ pieceStandard }) => pieceStandard);
  const uncounted = names.filter((name) => (draft.lines[name]?.pieces ?? '') === '');
  const set = (name: string, part: Partial<LineDraft>) =>
    change({ lines: { ...draft.lines, [name]: { ...emptyLine, ...draft.lines[name], ...part } } });
  return (
    <>
      {place.standards.map(({ pieceStandard, title }, index) => {
        const line = draft.lines[pieceStandard] ?? emptyLine;
        const at = (field: string) => command.refusalAt(`lines.${index}.${field}`);
        return (
          <fieldset className="tally-line" key={pieceStandard}>
            <legend>{title}</legend>
            <FieldRow>
              <TextField
                label={`Pieces in rack ${rack}`}
                kind="whole number"
                unit="pieces"
                value={line.pieces}
                onChange={(pieces) => set(pieceStandard, { pieces })}
                refusal={at('pieces')}
              />
              <ReadingField
                label="Net mass"
                optional
                value={line.gross}
                onChange={(gross) => set(pieceStandard, { gross })}
                onInstrument={scale.onBalance}
                refusal={at('gross') ?? at('gross.text') ?? at('gross.unit')}
              />
            </FieldRow>
          </fieldset>
        );
      })}
      {names.some((name) => draft.lines[name]?.gross.text) ? (
        <ChoiceField
          label="Balance"
          value={scale.balance}
          choices={[...scale.balances]}
          onChange={scale.onBalance}
          refusal={names
            .map((_name, index) => command.refusalAt(`lines.${index}.instrument`))
            .find(Boolean)}
        />
      ) : null}
      <SideAct
        label="Record count of rack"
        command={command}
        notYet={
          uncounted.length > 0
            ? `Count ${uncounted.join(' and ')}; where there is none, write 0.`
            : undefined
        }
        input={() => ({ rack, lines: foundLines(names, { draft, balance: scale.balance }) })}
      />
    </>
  );
}
