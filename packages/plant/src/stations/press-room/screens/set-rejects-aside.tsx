import {
  ChoiceField,
  emptyReading,
  MainAct,
  ReadingField,
  readingOf,
  TextField,
  useCommand,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { DefectFamily } from '../bodies.ts';
import { familyChoices } from './defect-words.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { RunFrame, type RunWork } from './run-frame.tsx';

interface RejectsDraft {
  readonly family: DefectFamily | '';
  readonly pieces: string;
  readonly gross: ReturnType<typeof emptyReading>;
}

/** Rejected pieces leave for the scrap, counted, weighed and named by their defect. */
export function SetRejectsAside(work: RunWork) {
  const { answer, instruments } = work;
  const { run } = answer;
  const [draft, change, clear] = useDraft<RejectsDraft>(`set-rejects-aside ${run.run}`, {
    family: '',
    pieces: '',
    gross: emptyReading('g'),
  });
  const [hand, keep] = useDraft('press-room balance', { instrument: '' });
  const balance = instrumentAtHand(instruments, ['balance'], hand.instrument);
  const setAside = useCommand('set-rejects-aside', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const isComplete = draft.family !== '' && draft.pieces !== '' && draft.gross.text !== '';
  return (
    <RunFrame
      {...work}
      title="Set rejects aside"
      mainAct={
        <MainAct
          label="Set rejects aside"
          command={setAside}
          input={() => ({
            run: run.run,
            family: draft.family,
            pieces: wholeNumberOf(draft.pieces),
            gross: readingOf(draft.gross),
            instrument: balance,
          })}
          notYet={isComplete ? undefined : 'Say what is wrong with them, count and weigh them.'}
        />
      }
    >
      <ChoiceField
        label="Defect of"
        value={draft.family}
        choices={familyChoices}
        onChange={(family) => change({ family })}
        refusal={setAside.refusalAt('family')}
      />
      <TextField
        label="Pieces"
        kind="whole number"
        unit="pieces"
        value={draft.pieces}
        onChange={(pieces) => change({ pieces })}
        refusal={setAside.refusalAt('pieces') ?? setAside.refusalAt('run')}
      />
      <ReadingField
        label="Mass of the rejects, container tared off"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        onInstrument={(instrument) => keep({ instrument })}
        refusal={setAside.refusalAt('gross') ?? setAside.refusalAt('gross.text')}
      />
      <InstrumentChoice
        label="Balance"
        instruments={instruments}
        kinds={['balance']}
        value={balance}
        onChange={(instrument) => keep({ instrument })}
        refusal={setAside.refusalAt('instrument')}
      />
    </RunFrame>
  );
}
