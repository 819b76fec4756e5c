import {
  emptyReading,
  MainAct,
  printNumber,
  ReadingField,
  readingOf,
  TextField,
  useCommand,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { MeanMass } from './mean-mass.tsx';
import { openHoldsOf, RunFrame, type RunWork } from './run-frame.tsx';

/** Struck pieces leave for put-up, which counts them again and signs for them. */
export function SendPieces(work: RunWork) {
  const { answer, instruments } = work;
  const { run, limits } = answer;
  const [draft, change, clear] = useDraft(`deliver-pieces ${run.run}`, {
    pieces: '',
    gross: emptyReading('g'),
  });
  const [hand, keep] = useDraft('press-room balance', { instrument: '' });
  const balance = instrumentAtHand(instruments, ['balance'], hand.instrument);
  const send = useCommand('deliver-pieces', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const [hold] = openHoldsOf(answer);
  const isComplete = draft.pieces !== '' && draft.gross.text !== '';
  const notYet = hold
    ? `Nothing leaves this run while ${hold.hold} has no ruling.`
    : isComplete
      ? undefined
      : 'Count the pieces and weigh them.';
  return (
    <RunFrame
      {...work}
      title="Send pieces to put-up"
      mainAct={
        <MainAct
          label="Send pieces"
          command={send}
          input={() => ({
            melt: run.melt,
            run: run.run,
            pieces: wholeNumberOf(draft.pieces),
            gross: readingOf(draft.gross),
            instrument: balance,
          })}
          notYet={notYet}
        />
      }
    >
      <TextField
        label="Pieces"
        kind="whole number"
        unit="pieces"
        hint={`${printNumber(run.piecesDeliverable)} are judged and may leave.`}
        value={draft.pieces}
        onChange={(pieces) => change({ pieces })}
        refusal={send.refusalAt('pieces') ?? send.refusalAt('run')}
      />
      <ReadingField
        label="Mass of the pieces, container tared off"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        onInstrument={(instrument) => keep({ instrument })}
        refusal={send.refusalAt('gross') ?? send.refusalAt('gross.text')}
      />
      {limits ? <MeanMass {...draft} limits={limits} /> : null}
      <InstrumentChoice
        label="Balance"
        instruments={instruments}
        kinds={['balance']}
        value={balance}
        onChange={(instrument) => keep({ instrument })}
        refusal={send.refusalAt('instrument')}
      />
    </RunFrame>
  );
}
