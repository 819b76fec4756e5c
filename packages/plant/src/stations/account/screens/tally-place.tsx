import { useState } from 'react';
import {
  ChoiceField,
  type CommandInHand,
  Empty,
  Facts,
  FieldRow,
  inWords,
  MainAct,
  Page,
  Part,
  PathLink,
  printInstant,
  printNumber,
  ReadingField,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { type DeskPlace, placeTitle } from './desk-answer.ts';
import { PlaceState } from './place-state.tsx';
import { CountRacks } from './rack-counts.tsx';
import {
  besideRacks,
  emptyLine,
  type LineDraft,
  rackTallyInput,
  type TallyDraft,
  tallyInput,
} from './tally-draft.ts';

interface Registered {
  readonly instruments: readonly {
    readonly instrument: string;
    readonly title: string;
    readonly kind: string;
    readonly place: string;
  }[];
  readonly pieceStandards: readonly { readonly pieceStandard: string; readonly title: string }[];
}

/** Counts one place. No figure of the book is on the page. */
export function TallyPlace(props: {
  readonly place: DeskPlace;
  /** Back to book and tally, for those who may see them. */
  readonly onCompare: (() => void) | undefined;
}) {
  const { place } = props;
  const registers = useQuestion<Registered>('registers-desk').answer;
  const [draft, change, clear] = useDraft<TallyDraft>(`tally ${place.place}`, {
    lines: {},
    added: [],
  });
  const balances = balancesAt(registers, place.place);
  const [hand, keep] = useDraft(`tally balance ${place.place}`, { balance: '' });
  const balance = hand.balance || (balances[0]?.value ?? '');
  const onBalance = (chosen: string) => keep({ balance: chosen });
  const byRacks = place.racks.some(({ count }) => count !== null);
  const tally = useCommand(byRacks ? 'tally-racks' : 'tally-place', { onRecorded: clear });
  const standards = standardsOf(place, draft, registers);
  const names = standards.map(({ pieceStandard }) => pieceStandard);
  const uncounted = names.filter((name) => (draft.lines[name]?.pieces ?? '') === '');
  // The lines of the command: a refusal names one by its place among them.
  const sent = byRacks ? besideRacks(names, draft) : names;
  const set = (name: string, part: Partial<LineDraft>) =>
    change({ lines: { ...draft.lines, [name]: { ...emptyLine, ...draft.lines[name], ...part } } });
  return (
    <Page
      title={`Count ${placeTitle(place.place).toLowerCase()}`}
      about={<PlaceState place={place} />}
      known={<LastTally place={place} />}
      act={
        <MainAct
          label={byRacks ? 'Record tally from racks' : 'Record tally'}
          command={tally}
          notYet={
            uncounted.length > 0 && !byRacks
              ? `Count ${uncounted.join(' and ')}; where there is none, write 0.`
              : undefined
          }
          input={() =>
            (byRacks ? rackTallyInput : tallyInput)(place.place, names, { draft, balance })
          }
        />
      }
    >
      <CountRacks place={place} scale={{ balance, balances, onBalance }} />
      <Part
        title={byRacks ? 'What lies beside the racks' : 'What lies here'}
        aside={<BackToBook onCompare={props.onCompare} />}
      >
        <p>
          Count, and weigh where it can be weighed. The book stays out of sight until the tally is
          recorded.
        </p>
        {standards.length === 0 ? (
          <Empty
            what="No metal is looked for here."
            how="If some lies here all the same, add what was found; else record the empty tally."
          />
        ) : null}
        {standards.map((standard) => (
          <TallyLine
            key={standard.pieceStandard}
            standard={standard}
            index={sent.indexOf(standard.pieceStandard)}
            line={draft.lines[standard.pieceStandard] ?? emptyLine}
            onChange={(part) => set(standard.pieceStandard, part)}
            onBalance={onBalance}
            command={tally}
            list={byRacks ? 'beside' : 'lines'}
          />
        ))}
        <FoundBesides
          registers={registers}
          names={names}
          onAdd={(name) => change({ added: [...draft.added, name] })}
        />
        {names.some((name) => draft.lines[name]?.gross.text) ? (
          <ChoiceField
            label="Balance"
            value={balance}
            choices={balances}
            onChange={onBalance}
            refusal={names
              .map((_name, index) =>
                tally.refusalAt(`${byRacks ? 'beside' : 'lines'}.${index}.instrument`),
              )
              .find(Boolean)}
          />
        ) : null}
      </Part>
    </Page>
  );
}

/** Balances of the place first, then those of the others. */
function balancesAt(registers: Registered | undefined, place: string) {
  const balances = (registers?.instruments ?? []).filter(({ kind }) => kind === 'balance');
  return balances
    .toSorted((left, right) => Number(right.place === place) - Number(left.place === place))
    .map(({ instrument, title }) => ({ value: instrument, label: `${title} (${instrument})` }));
}

interface Standard {
  readonly pieceStandard: string;
  readonly title: string;
}

function standardsOf(
  place: DeskPlace,
  draft: TallyDraft,
  registers: Registered | undefined,
): readonly Standard[] {
  const known = new Set(place.standards.map(({ pieceStandard }) => pieceStandard));
  const added = (registers?.pieceStandards ?? []).filter(
    ({ pieceStandard }) => draft.added.includes(pieceStandard) && !known.has(pieceStandard),
  );
  return [...place.standards, ...added];
}

function TallyLine(props: {
  readonly standard: Standard;
  readonly index: number;
  readonly line: LineDraft;
  readonly onChange: (part: Partial<LineDraft>) => void;
  readonly onBalance: (instrument: string) => void;
  readonly command: CommandInHand;
  readonly list: 'lines' | 'beside';
}) {
  const { standard, index, line, onChange, command, list } = props;
  const at = (field: string) => command.refusalAt(`${list}.${index}.${field}`);
  const refusal = at('pieceStandard');
  return (
    <fieldset className="tally-line">
      <legend>
        {standard.title} <span className="faint">{standard.pieceStandard}</span>
      </legend>
      <FieldRow>
        <TextField
          label="Pieces found"
          kind="whole number"
          unit="pieces"
          value={line.pieces}
          onChange={(pieces) => onChange({ pieces })}
          refusal={at('pieces')}
        />
        <ReadingField
          label="Net mass found"
          optional
          value={line.gross}
          onChange={(gross) => onChange({ gross })}
          onInstrument={props.onBalance}
          refusal={at('gross') ?? at('gross.text') ?? at('gross.unit')}
        />
      </FieldRow>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </fieldset>
  );
}

/** What lies here though nobody looked for it is counted, too. */
function FoundBesides(props: {
  readonly registers: Registered | undefined;
  readonly names: readonly string[];
  readonly onAdd: (pieceStandard: string) => void;
}) {
  const [isAsking, ask] = useState(false);
  const others = (props.registers?.pieceStandards ?? []).filter(
    ({ pieceStandard }) => !props.names.includes(pieceStandard),
  );
  if (others.length === 0) return null;
  if (!isAsking) {
    return (
      <button type="button" className="link-button tally-add" onClick={() => ask(true)}>
        Other pieces lie here, too
      </button>
    );
  }
  return (
    <ChoiceField
      label="Pieces of"
      value=""
      choices={others.map(({ pieceStandard, title }) => ({ value: pieceStandard, label: title }))}
      onChange={(pieceStandard) => {
        props.onAdd(pieceStandard);
        ask(false);
      }}
    />
  );
}

function BackToBook({ onCompare }: { readonly onCompare: (() => void) | undefined }) {
  if (!onCompare) return null;
  return (
    <button type="button" className="link-button" onClick={onCompare}>
      {inWords('book and tally')}
    </button>
  );
}

/** Who counted last, without a figure. */
export function LastTally({ place }: { readonly place: DeskPlace }) {
  const { tally } = place;
  if (!tally) {
    return <p className="faint">Nobody has counted here since the last close.</p>;
  }
  return (
    <Facts
      facts={[
        ['Counted last by', tally.name],
        ['When', printInstant(tally.instant)],
        [
          'Entry',
          <PathLink key="entry" to={`/journal/${tally.entry}`}>
            {printNumber(tally.entry)}
          </PathLink>,
        ],
        ['Metal moved since', tally.movedSince ? 'yes' : 'no'],
      ]}
    />
  );
}
