import {
  Empty,
  emptyReading,
  FieldRow,
  Figure,
  MainAct,
  Metal,
  Page,
  Pending,
  printNumber,
  ReadingField,
  readingOf,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { PieceStandard } from '../../registers/index.ts';
import type { MeltAtHand, PressRoomAnswer } from './answers.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { MeanMass } from './mean-mass.tsx';

const chosenMelt = (): string => new URLSearchParams(location.search).get('melt') ?? '';

/** Blanks of a ruled melt come into the press room: counted and weighed by two people. */
export function TakeBlanksPage() {
  const { answer, problem } = useQuestion<PressRoomAnswer>('press-room-desk');
  if (!answer) {
    return (
      <Page title="Take blanks">
        <Pending problem={problem} />
      </Page>
    );
  }
  const waiting = answer.melts.filter(({ isAtReceiving }) => isAtReceiving);
  if (waiting.length === 0) {
    return (
      <Page title="Take blanks">
        <Empty
          what="No melt waits at receiving to be struck."
          how="A melt comes here once the chief assayer has ruled its release or a concession."
        />
      </Page>
    );
  }
  return <TakeBlanks answer={answer} waiting={waiting} />;
}

function TakeBlanks(props: {
  readonly answer: PressRoomAnswer;
  readonly waiting: readonly MeltAtHand[];
}) {
  const { answer, waiting } = props;
  const asked = chosenMelt();
  const [draft, change, clear] = useDraft(`take-blanks ${asked}`, {
    melt: asked,
    pieces: '',
    gross: emptyReading('g'),
  });
  const [hand, keep] = useDraft('press-room balance', { instrument: '' });
  const balance = instrumentAtHand(answer.instruments, ['balance'], hand.instrument);
  const take = useCommand('take-blanks', { onRecorded: clear });
  const melt = waiting.find((one) => one.melt === draft.melt);
  const isComplete = draft.melt !== '' && draft.pieces !== '' && draft.gross.text !== '';
  return (
    <Page
      title="Take blanks"
      about="From receiving into the press room; the custodian counts with you."
      known={<Waiting waiting={waiting} onTake={(one) => change({ melt: one })} />}
      act={
        <MainAct
          label="Take blanks"
          command={take}
          input={() => ({
            melt: draft.melt.trim(),
            pieces: wholeNumberOf(draft.pieces),
            gross: readingOf(draft.gross),
            instrument: balance,
          })}
          notYet={isComplete ? undefined : 'Scan the melt, count the blanks and weigh them.'}
        />
      }
    >
      <FieldRow>
        <TextField
          label="Melt"
          kind="code"
          value={draft.melt}
          onChange={(one) => change({ melt: one })}
          hint={
            typeof melt?.piecesAtReceiving === 'number'
              ? `${printNumber(melt.piecesAtReceiving)} blanks lie at receiving.`
              : undefined
          }
          refusal={take.refusalAt('melt')}
        />
        <TextField
          label="Pieces"
          kind="whole number"
          unit="pieces"
          hint="As counted by both of you."
          value={draft.pieces}
          onChange={(pieces) => change({ pieces })}
          refusal={take.refusalAt('pieces')}
        />
      </FieldRow>
      <ReadingField
        label="Mass of the blanks, container tared off"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        onInstrument={(instrument) => keep({ instrument })}
        refusal={take.refusalAt('gross') ?? take.refusalAt('gross.text')}
      />
      {melt?.pieceStandard ? (
        <MeanOfStandard pieceStandard={melt.pieceStandard} draft={draft} />
      ) : null}
      <InstrumentChoice
        label="Balance"
        instruments={answer.instruments}
        kinds={['balance']}
        value={balance}
        onChange={(instrument) => keep({ instrument })}
        refusal={take.refusalAt('instrument')}
      />
    </Page>
  );
}

function MeanOfStandard(props: {
  readonly pieceStandard: string;
  readonly draft: { readonly pieces: string; readonly gross: ReturnType<typeof emptyReading> };
}) {
  const { answer } = useQuestion<{ standard: PieceStandard } | null>('piece-standard', {
    pieceStandard: props.pieceStandard,
  });
  if (!answer) return null;
  return <MeanMass {...props.draft} limits={answer.standard} />;
}

function Waiting(props: {
  readonly waiting: readonly MeltAtHand[];
  readonly onTake: (melt: string) => void;
}) {
  return (
    <div>
      <h3>Released and waiting at receiving</h3>
      <ul className="plain-list">
        {props.waiting.map(({ melt, metal, title, piecesAtReceiving }) => (
          <li key={melt}>
            <button type="button" className="link-button" onClick={() => props.onTake(melt)}>
              {melt}
            </button>{' '}
            {piecesAtReceiving === null ? null : <Figure value={piecesAtReceiving} unit="pieces" />}
            <p className="faint">
              {metal ? <Metal metal={metal} /> : null} {title}
            </p>
          </li>
        ))}
      </ul>
    </div>
  );
}
