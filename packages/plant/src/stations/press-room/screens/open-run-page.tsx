import {
  FieldGroup,
  FieldRow,
  MainAct,
  Page,
  Pending,
  pathTo,
  printNumber,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useQuestion,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { Die } from '../../registers/index.ts';
import type { PressRoomAnswer } from './answers.ts';
import { instrumentsOfKind } from './instrument-choice.tsx';

const asked = (name: string): string => new URLSearchParams(location.search).get(name) ?? '';

const dieParts = ['obverse', 'reverse', 'collar'] as const satisfies readonly Die['part'][];
const partLabels = { obverse: 'Obverse die', reverse: 'Reverse die', collar: 'Collar' } as const;

/** A die pair and collar go into a press for one melt. */
export function OpenRunPage() {
  const { answer, problem } = useQuestion<PressRoomAnswer>('press-room-desk');
  if (!answer) {
    return (
      <Page title="Open run">
        <Pending problem={problem} />
      </Page>
    );
  }
  return <OpenRun answer={answer} />;
}

function OpenRun({ answer }: { readonly answer: PressRoomAnswer }) {
  const go = useGo();
  const [draft, change, clear] = useDraft(`open-run ${asked('press')} ${asked('melt')}`, {
    run: '',
    press: asked('press'),
    melt: asked('melt'),
    obverse: '',
    reverse: '',
    collar: '',
    counterBefore: '',
  });
  const open = useCommand('open-run', {
    onRecorded: (recorded) => {
      clear();
      go(pathTo('/press-room/runs/$run', { run: String(recorded['run'] ?? '') }));
    },
  });
  const field = (name: keyof typeof draft, label: string, hint?: string) => (
    <TextField
      label={label}
      kind="code"
      hint={hint}
      value={draft[name]}
      onChange={(text) => change({ [name]: text })}
      refusal={open.refusalAt(name)}
    />
  );
  const counter = lastCounter(answer, draft.press);
  return (
    <Page
      title="Open run"
      about="One die pair and collar, in one press, on one melt. Two people sign: dies are kept like metal."
      known={<AtHand answer={answer} draft={draft} change={change} />}
      act={
        <MainAct
          label="Open run"
          command={open}
          input={() => ({ ...trimmed(draft), counterBefore: wholeNumberOf(draft.counterBefore) })}
        />
      }
    >
      <FieldRow>
        {field('press', 'Press', 'The id on its plate.')}
        {field('melt', 'Melt', 'Of the blanks at the press.')}
        {field('run', 'Run', 'A name that was not used before.')}
      </FieldRow>
      <FieldGroup title="What goes into the press">
        <FieldRow>
          {field('obverse', partLabels.obverse)}
          {field('reverse', partLabels.reverse)}
          {field('collar', partLabels.collar)}
        </FieldRow>
      </FieldGroup>
      <TextField
        label="Counter of the press now"
        kind="whole number"
        unit="strokes"
        hint={
          counter === undefined
            ? undefined
            : `The last run in this press ended at ${printNumber(counter)}.`
        }
        value={draft.counterBefore}
        onChange={(counterBefore) => change({ counterBefore })}
        refusal={open.refusalAt('counterBefore')}
      />
    </Page>
  );
}

function trimmed(draft: Readonly<Record<string, string>>) {
  return Object.fromEntries(Object.entries(draft).map(([name, text]) => [name, text.trim()]));
}

/** Where the counter of a press stood when its last run was closed. */
function lastCounter({ runsClosed }: PressRoomAnswer, press: string): number | undefined {
  const [last] = runsClosed
    .filter((run) => run.press === press)
    .sort((one, other) => other.openedEntry - one.openedEntry);
  return last?.counterAfter ?? undefined;
}

interface AtHandProps {
  readonly answer: PressRoomAnswer;
  readonly draft: Readonly<Record<string, string>>;
  readonly change: (part: Partial<Record<'press' | 'melt' | Die['part'], string>>) => void;
}

/** What can be taken: free presses, melts that are here, and the dies of the melt's standard. */
function AtHand({ answer, draft, change }: AtHandProps) {
  const busy = new Set(answer.runsOpen.map(({ press }) => press));
  const presses = instrumentsOfKind(answer.instruments, ['press']);
  const free = presses.filter(({ instrument }) => !busy.has(instrument));
  const here = answer.melts.filter(({ isInPressRoom }) => isInPressRoom);
  const standard = here.find(({ melt }) => melt === draft['melt'])?.pieceStandard ?? undefined;
  return (
    <>
      <Offers
        title="Free presses"
        none="Every press has an open run."
        offers={free.map(({ instrument, title }) => ({ id: instrument, words: title }))}
        onTake={(press) => change({ press })}
      />
      <Offers
        title="Melts in the press room"
        none="No blanks are in the press room; take some first."
        offers={here.map(({ melt, title, piecesInPressRoom }) => ({
          id: melt,
          words:
            piecesInPressRoom === null
              ? (title ?? '')
              : `${printNumber(piecesInPressRoom)} pieces, ${title ?? ''}`,
        }))}
        onTake={(melt) => change({ melt })}
      />
      {standard ? <DiesAtHand {...{ answer, standard, change }} /> : null}
    </>
  );
}

function DiesAtHand(props: {
  readonly answer: PressRoomAnswer;
  readonly standard: string;
  readonly change: AtHandProps['change'];
}) {
  const { answer: found } = useQuestion<{ dies: readonly Die[] } | null>('piece-standard', {
    pieceStandard: props.standard,
  });
  const used = new Set(
    props.answer.runsOpen.flatMap(({ obverse, reverse, collar }) => [obverse, reverse, collar]),
  );
  const free = (found?.dies ?? []).filter(({ die }) => !used.has(die));
  return dieParts.map((part) => (
    <Offers
      key={part}
      title={`${partLabels[part]} of this piece`}
      none="None is free."
      offers={free.filter((die) => die.part === part).map(({ die }) => ({ id: die, words: '' }))}
      onTake={(die) => props.change({ [part]: die })}
    />
  ));
}

/** A short list to choose from by hand where nothing can be scanned. */
function Offers(props: {
  readonly title: string;
  readonly none: string;
  readonly offers: readonly { readonly id: string; readonly words: string }[];
  readonly onTake: (id: string) => void;
}) {
  return (
    <div>
      <h3>{props.title}</h3>
      {props.offers.length === 0 ? <p className="faint">{props.none}</p> : null}
      {props.offers.map(({ id, words }) => (
        <p key={id}>
          <button type="button" className="link-button" onClick={() => props.onTake(id)}>
            {id}
          </button>{' '}
          <span className="faint">{words}</span>
        </p>
      ))}
    </div>
  );
}
