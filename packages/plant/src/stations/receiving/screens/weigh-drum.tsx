import {
  ChoiceField,
  emptyReading,
  FieldRow,
  MainAct,
  Part,
  ReadingField,
  readingOf,
  State,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { DeskAnswer, DrumInDetail } from './desk-answer.ts';

/** Weighing drums one after the other: scan the drum, scan its seal, weigh it. */
export function WeighDrum(props: {
  readonly drums: readonly DrumInDetail[];
  readonly balances: DeskAnswer['balances'];
}) {
  const { drums, balances } = props;
  const [draft, change] = useDraft('weigh drum', {
    drum: '',
    sealFound: '',
    gross: emptyReading('g'),
    tare: emptyReading('g'),
    instrument: balances[0]?.instrument ?? '',
  });
  const weigh = useCommand('weigh-drum', {
    onRecorded: () =>
      change({ drum: '', sealFound: '', gross: emptyReading('g'), tare: emptyReading('g') }),
  });
  const state = weigh.answer['state'];
  return (
    <Part title="Weigh drum">
      <p className="faint">Waiting: {drums.map(({ drum }) => drum).join(', ')}</p>
      {typeof state === 'string' ? (
        <p role="status">
          <State word={state} tone={state === 'counted' ? 'done' : 'look'} />{' '}
          {String(weigh.answer['words'] ?? '')}
        </p>
      ) : null}
      <FieldRow>
        <TextField
          label="Drum"
          kind="code"
          value={draft.drum}
          onChange={(drum) => change({ drum })}
          refusal={weigh.refusalAt('drum')}
        />
        <TextField
          label="Seal found"
          kind="code"
          value={draft.sealFound}
          onChange={(sealFound) => change({ sealFound })}
          refusal={weigh.refusalAt('sealFound')}
        />
      </FieldRow>
      <ReadingField
        label="Gross, the full drum"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        refusal={weigh.refusalAt('gross') ?? weigh.refusalAt('gross.text')}
      />
      <FieldRow>
        <ReadingField
          label="Tare, the empty drum"
          value={draft.tare}
          onChange={(tare) => change({ tare })}
          refusal={weigh.refusalAt('tare') ?? weigh.refusalAt('tare.text')}
        />
        <ChoiceField
          label="Balance"
          value={draft.instrument}
          choices={balances.map(({ instrument, title }) => ({
            value: instrument,
            label: `${title} (${instrument})`,
          }))}
          onChange={(instrument) => change({ instrument })}
          refusal={weigh.refusalAt('instrument')}
        />
      </FieldRow>
      <MainAct
        label="Record drum"
        command={weigh}
        input={() => ({
          drum: draft.drum,
          sealFound: draft.sealFound,
          gross: readingOf(draft.gross),
          tare: readingOf(draft.tare),
          instrument: draft.instrument,
        })}
        notYet={
          draft.drum === '' || draft.gross.text === '' || draft.tare.text === ''
            ? 'Scan the drum and its seal, then weigh it.'
            : undefined
        }
      />
    </Part>
  );
}
