import {
  ChoiceField,
  Empty,
  emptyReading,
  FieldRow,
  MainAct,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  pathTo,
  ReadingField,
  readingOf,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DeskAnswer } from './desk-answer.ts';

interface PackDraft {
  readonly box: string;
  readonly next: string;
  readonly tubes: readonly string[];
  readonly tare: ReturnType<typeof emptyReading>;
  readonly gross: ReturnType<typeof emptyReading>;
  readonly seal: string;
  readonly instrument: string;
  readonly last: string;
}

/** Packing a box: scan its tubes, weigh it against them, seal it with a second person. */
export function PackBoxPage() {
  const { answer, problem } = useQuestion<DeskAnswer>('put-up-desk');
  if (!answer) {
    return (
      <Page title="Pack box">
        <Pending problem={problem} />
      </Page>
    );
  }
  return <PackBox answer={answer} />;
}

function PackBox({ answer }: { readonly answer: DeskAnswer }) {
  const [draft, change] = useDraft<PackDraft>('pack box', {
    box: '',
    next: '',
    tubes: [],
    tare: emptyReading('g'),
    gross: emptyReading('g'),
    seal: '',
    instrument: answer.balances.at(0)?.instrument ?? '',
    last: '',
  });
  const pack = useCommand('pack-box', {
    onRecorded: () =>
      change({
        last: draft.box,
        box: '',
        next: '',
        tubes: [],
        tare: emptyReading('g'),
        gross: emptyReading('g'),
        seal: '',
      }),
  });
  const most = boxSize(answer, draft.tubes);
  const missing = missingOf(draft);
  return (
    <Page
      title="Pack box"
      about={`${draft.tubes.length} of ${most} tubes scanned`}
      known={<LastBox box={draft.last} />}
      act={
        <MainAct
          label="Seal box"
          command={pack}
          notYet={missing}
          input={() => ({
            box: draft.box,
            tubes: draft.tubes,
            gross: readingOf(draft.gross),
            tare: readingOf(draft.tare),
            seal: draft.seal,
            instrument: draft.instrument,
          })}
        />
      }
    >
      <TextField
        label="Box"
        kind="code"
        value={draft.box}
        onChange={(box) => change({ box })}
        refusal={pack.refusalAt('box')}
      />
      <Tubes answer={answer} draft={draft} change={change} refusalAt={pack.refusalAt} />
      <ReadingField
        label="Tare, the empty box"
        value={draft.tare}
        onChange={(tare) => change({ tare })}
        onInstrument={(instrument) => change({ instrument })}
        hint="May stay empty: then the tare of the piece standard counts, with its own spread."
        refusal={pack.refusalAt('tare.text')}
        optional
      />
      <ReadingField
        label="Gross, the closed box"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        onInstrument={(instrument) => change({ instrument })}
        refusal={pack.refusalAt('gross') ?? pack.refusalAt('gross.text')}
      />
      <FieldRow>
        <TextField
          label="Seal"
          kind="code"
          value={draft.seal}
          onChange={(seal) => change({ seal })}
          refusal={pack.refusalAt('seal')}
        />
        <ChoiceField
          label="Balance"
          value={draft.instrument}
          choices={answer.balances.map((one) => ({
            value: one.instrument,
            label: `${one.title} (${one.instrument})`,
          }))}
          onChange={(instrument) => change({ instrument })}
          refusal={pack.refusalAt('instrument')}
        />
      </FieldRow>
    </Page>
  );
}

function boxSize(answer: DeskAnswer, tubes: readonly string[]): number {
  const first = answer.proved.find(({ tube }) => tube === (tubes[0] ?? tube));
  const melt = answer.melts.find((one) => one.pieceStandard === first?.pieceStandard);
  return melt?.tubesPerBox ?? answer.proved.length;
}

function missingOf(draft: PackDraft): string | undefined {
  if (draft.box === '') return 'Scan the box.';
  if (draft.tubes.length === 0) return 'Scan the tubes as they go in.';
  if (draft.gross.text === '') return 'Weigh the closed box.';
  return draft.seal === '' ? 'Scan the seal.' : undefined;
}

function Tubes(props: {
  readonly answer: DeskAnswer;
  readonly draft: PackDraft;
  readonly change: (part: Partial<PackDraft>) => void;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { answer, draft, change, refusalAt } = props;
  const add = (tube: string) => {
    if (tube !== '' && !draft.tubes.includes(tube)) {
      change({ tubes: [...draft.tubes, tube], next: '' });
    } else change({ next: '' });
  };
  const waiting = answer.proved.filter(({ tube }) => !draft.tubes.includes(tube));
  return (
    <Part title="Tubes">
      <div className="field-row" data-own-enter>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            add(draft.next.trim());
          }}
        >
          <TextField
            label="Next tube"
            kind="code"
            value={draft.next}
            onChange={(next) => change({ next })}
            refusal={refusalAt('tubes')}
          />
          <button type="submit" className="quiet-button">
            Put tube in
          </button>
        </form>
      </div>
      <ol className="chips" aria-label="Tubes in the box">
        {draft.tubes.map((tube, index) => (
          <li key={tube}>
            {tube}
            <button
              type="button"
              className="quiet-button"
              aria-label={`Take tube ${tube} out`}
              onClick={() => change({ tubes: draft.tubes.filter((one) => one !== tube) })}
            >
              take out
            </button>
            {refusalAt(`tubes.${index}`) ? (
              <p className="field-refusal">{refusalAt(`tubes.${index}`)}</p>
            ) : null}
          </li>
        ))}
      </ol>
      {waiting.length === 0 ? (
        draft.tubes.length === 0 ? (
          <Empty
            what="No proved tube waits for a box."
            how={<PathLink to="/put-up/weigh">Weigh tubes first.</PathLink>}
          />
        ) : null
      ) : (
        <fieldset className="chips" aria-label="Proved tubes that wait">
          {waiting.slice(0, 30).map(({ tube }) => (
            <button key={tube} type="button" className="quiet-button" onClick={() => add(tube)}>
              {tube}
            </button>
          ))}
        </fieldset>
      )}
    </Part>
  );
}

function LastBox({ box }: { readonly box: string }) {
  if (box === '')
    return <p className="faint">The box sealed last will stand here, with its label.</p>;
  return (
    <>
      <h3>Sealed last</h3>
      <p>
        <PathLink to={pathTo('/put-up/boxes/$box', { box })}>Box {box}</PathLink>
      </p>
      <p>
        <PaperLink paper="box-label" id={box}>
          Label
        </PaperLink>
      </p>
    </>
  );
}
