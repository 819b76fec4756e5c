import {
  ChoiceField,
  Empty,
  Facts,
  MainAct,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  printInstant,
  printNumber,
  type ScreenProps,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useNames,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DifferenceRow } from '../books.ts';
import { type DifferencesAnswer, placeTitle } from './desk-answer.ts';
import { DifferenceFigure, DifferenceState } from './differences-part.tsx';
import { GramSuspects } from './gram-suspects.tsx';

const outcomes = {
  found: 'found: the metal goes back into the book',
  'booked since': 'booked since: its true move is recorded',
  'written off': 'written off',
  explained: 'explained',
} as const;

type Outcome = keyof typeof outcomes;

/** Grams alone were never posted, so that nothing of them can be put back. */
const outcomesFor = (row: DifferenceRow): readonly Outcome[] =>
  row.form === 'signed'
    ? ['found', 'booked since', 'written off', 'explained']
    : ['written off', 'explained'];

/** One difference: what it is, who signed for it, and how it ended. */
export function DifferencePage({ params }: ScreenProps) {
  const name = params['difference'] ?? '';
  const { answer, problem } = useQuestion<DifferencesAnswer>('differences');
  const title = `Difference ${name}`;
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const row = answer.differences.find((one) => one.difference === name);
  if (!row) {
    return (
      <Page title={title}>
        <Empty
          what={
            answer.seesBook
              ? 'There is no difference of this name.'
              : 'Differences are kept from those who count.'
          }
          how={<PathLink to="/account">All of them stand on the balance desk.</PathLink>}
        />
      </Page>
    );
  }
  return <OneDifference key={name} row={row} />;
}

function OneDifference({ row }: { readonly row: DifferenceRow }) {
  const [draft, change, clear] = useDraft<{ outcome: Outcome | ''; explanation: string }>(
    `explain ${row.difference}`,
    { outcome: '', explanation: '' },
  );
  const explain = useCommand('explain-difference', { onRecorded: clear });
  const isOpen = row.state === 'open';
  const isHere = isOpen && explain.description?.allowed !== false;
  return (
    <Page
      title={`Difference ${row.difference}`}
      about={
        <>
          <DifferenceState row={row} /> · {placeTitle(row.place)} · {row.pieceStandard}
        </>
      }
      known={<Known row={row} />}
      act={
        isOpen || explain.stage === 'recorded' ? (
          <MainAct
            label="Explain difference"
            command={explain}
            notYet={
              !isOpen
                ? 'It is explained.'
                : draft.outcome === '' || draft.explanation.trim() === ''
                  ? 'Choose how it ended and say what happened.'
                  : undefined
            }
            input={() => ({ difference: row.difference, ...draft })}
          />
        ) : undefined
      }
    >
      <p className="difference-figure">
        <DifferenceFigure row={row} />
      </p>
      {row.grossMicrogramsEstimated > 0 ? (
        <p>
          <Mass micrograms={row.grossMicrogramsEstimated} decimals={3} /> moved there by estimate in
          this shift, which no balance has shown.
        </p>
      ) : null}
      {row.form === 'grams only' ? (
        <GramSuspects place={row.place} shift={row.shift} pieceStandard={row.pieceStandard} />
      ) : null}
      {row.explanation ? (
        <Part title="As it was signed">
          <p>{row.explanation}</p>
        </Part>
      ) : null}
      {row.resolution ? (
        <Part title="How it ended">
          <p>{row.resolution}</p>
        </Part>
      ) : null}
      {isHere ? (
        <Part title="Explain it">
          <ChoiceField
            label="Outcome"
            value={draft.outcome}
            choices={outcomesFor(row).map((value) => ({ value, label: outcomes[value] }))}
            onChange={(outcome) => change({ outcome })}
            refusal={explain.refusalAt('outcome')}
          />
          <TextField
            label="Explanation"
            kind="long"
            value={draft.explanation}
            onChange={(explanation) => change({ explanation })}
            hint="What happened, and how it is known."
            refusal={explain.refusalAt('explanation') ?? explain.refusalAt('difference')}
          />
        </Part>
      ) : null}
    </Page>
  );
}

function Known({ row }: { readonly row: DifferenceRow }) {
  const { namesOf } = useNames();
  const entryLink = (entry: number) => (
    <PathLink key={entry} to={`/journal/${entry}`}>
      {printNumber(entry)}
    </PathLink>
  );
  return (
    <Facts
      facts={[
        [
          row.form === 'signed' ? 'Signed in shift' : 'Shift',
          <PathLink key="shift" to={`/account/shifts/${row.shift}`}>
            {row.shift}
          </PathLink>,
        ],
        ['Pieces', printNumber(row.pieces)],
        ['Gross', <Mass key="gross" micrograms={row.grossMicrograms} decimals={3} />],
        ['Fine', <Mass key="fine" micrograms={row.fineMicrograms} decimals={3} />],
        ['Melt', row.melt ? <ThingLink key="melt" thing="melt" id={row.melt} /> : 'mixed'],
        [
          row.form === 'signed' ? 'Signed' : 'Stood out at the close',
          `${namesOf(row.author, row.witness)}, ${printInstant(row.instant)}`,
        ],
        ['Entry', entryLink(row.entry)],
        ...(row.resolvedEntry ? [['Ended in entry', entryLink(row.resolvedEntry)] as const] : []),
      ]}
    />
  );
}
