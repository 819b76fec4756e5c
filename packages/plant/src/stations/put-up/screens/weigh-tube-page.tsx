import {
  ChoiceField,
  Empty,
  emptyReading,
  FieldRow,
  MainAct,
  Page,
  PaperLink,
  PathLink,
  Pending,
  ReadingField,
  readingOf,
  State,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { type CountFigures, CountShown } from './count-figures.tsx';
import type { DeskAnswer } from './desk-answer.ts';

interface TrialAnswer {
  readonly refusals: readonly { readonly message: string }[];
  readonly state?: string;
  readonly count: CountFigures | null;
}

const chosenMelt = (): string => new URLSearchParams(location.search).get('melt') ?? '';

/** Filling and weighing tubes, one after the other: scan, weigh, record. */
export function WeighTubePage() {
  const { answer, problem } = useQuestion<DeskAnswer>('put-up-desk');
  if (!answer) {
    return (
      <Page title="Weigh tube">
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer.melts.length === 0 || answer.balances.length === 0) {
    return (
      <Page title="Weigh tube">
        <Empty
          what="There is nothing to fill a tube with, or no balance to weigh it on."
          how="Accept a delivery of the press room first; balances are registered by the chief assayer."
        />
      </Page>
    );
  }
  return <WeighTube answer={answer} />;
}

function WeighTube({ answer }: { readonly answer: DeskAnswer }) {
  const [draft, change] = useDraft('weigh tube', {
    melt: chosenMelt() || (answer.melts[0]?.melt ?? ''),
    instrument: answer.balances[0]?.instrument ?? '',
    pieces: '',
    tube: '',
    tare: emptyReading('g'),
    gross: emptyReading('g'),
    last: '',
  });
  const melt = answer.melts.find((one) => one.melt === draft.melt);
  const pieces = draft.pieces || String(melt?.piecesPerTube ?? '');
  // The bench goes on with the next tube of the same melt: only the tube and its masses are new.
  const weigh = useCommand('weigh-tube', {
    onRecorded: () =>
      change({ last: draft.tube, tube: '', tare: emptyReading('g'), gross: emptyReading('g') }),
  });
  const input = () => ({
    tube: draft.tube,
    melt: draft.melt,
    pieces: wholeNumberOf(pieces),
    gross: readingOf(draft.gross),
    tare: readingOf(draft.tare),
    instrument: draft.instrument,
  });
  const isComplete = draft.tube !== '' && draft.gross.text !== '';
  return (
    <Page
      title="Weigh tube"
      about={
        typeof melt?.piecesLoose === 'number'
          ? `${melt.title}: ${melt.piecesLoose} pieces lie loose`
          : (melt?.title ?? draft.melt)
      }
      known={<LastTube tube={draft.last} state={String(weigh.answer['state'] ?? '')} />}
      act={
        <MainAct
          label="Record tube"
          command={weigh}
          input={input}
          notYet={isComplete ? undefined : 'Scan the tube and weigh it.'}
        />
      }
    >
      <FieldRow>
        <TextField
          label="Tube"
          kind="code"
          value={draft.tube}
          onChange={(tube) => change({ tube })}
          refusal={weigh.refusalAt('tube')}
        />
        <TextField
          label="Pieces"
          kind="whole number"
          unit="pieces"
          value={pieces}
          onChange={(value) => change({ pieces: value })}
          refusal={weigh.refusalAt('pieces')}
        />
      </FieldRow>
      <ReadingField
        label="Tare, the empty tube"
        value={draft.tare}
        onChange={(tare) => change({ tare })}
        onInstrument={(instrument) => change({ instrument })}
        hint="May stay empty: then the tare of the piece standard counts, with its own spread."
        refusal={weigh.refusalAt('tare') ?? weigh.refusalAt('tare.text')}
        optional
      />
      <ReadingField
        label="Gross, the closed tube"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        onInstrument={(instrument) => change({ instrument })}
        refusal={weigh.refusalAt('gross') ?? weigh.refusalAt('gross.text')}
      />
      {isComplete ? <LiveCount input={input()} /> : null}
      <FieldRow>
        <ChoiceField
          label="Melt"
          value={draft.melt}
          choices={answer.melts.map((one) => ({ value: one.melt, label: one.melt }))}
          onChange={(value) => change({ melt: value, pieces: '' })}
          refusal={weigh.refusalAt('melt')}
        />
        <ChoiceField
          label="Balance"
          value={draft.instrument}
          choices={answer.balances.map((one) => ({
            value: one.instrument,
            label: `${one.title} (${one.instrument})`,
          }))}
          onChange={(instrument) => change({ instrument })}
          refusal={weigh.refusalAt('instrument')}
        />
      </FieldRow>
    </Page>
  );
}

/** What the weighing would say, while it still can be repeated. */
function LiveCount({ input }: { readonly input: object }) {
  const { answer } = useQuestion<TrialAnswer>('tube-trial', input);
  if (!answer) return null;
  const [refusal] = answer.refusals;
  if (refusal) return <p className="faint">{refusal.message}</p>;
  if (!answer.count) return null;
  const masses = input as { gross: { text: string }; tare: { text: string } | null };
  const expected = answer.count.expectedGrams;
  const net = Number(masses.gross.text) - Number(masses.tare?.text ?? 0);
  return <CountShown count={answer.count} netGrams={masses.tare ? net : expected} />;
}

function LastTube({ tube, state }: { readonly tube: string; readonly state: string }) {
  if (tube === '') return <p className="faint">The tube recorded last will stand here.</p>;
  return (
    <>
      <h3>Recorded last</h3>
      <p>
        <PathLink to={`/put-up/tubes/${encodeURIComponent(tube)}`}>Tube {tube}</PathLink>{' '}
        {state === '' ? null : <State word={state} tone={state === 'proved' ? 'done' : 'look'} />}
      </p>
      <p>
        <PaperLink paper="tube-receipt" id={tube}>
          Receipt
        </PaperLink>
      </p>
    </>
  );
}
