import { useEffect } from 'react';
import {
  ChoiceField,
  emptyReading,
  FieldRow,
  Figure,
  MainAct,
  Mass,
  Part,
  ReadingField,
  readingOf,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { ConsignmentFrame } from './consignment-frame.tsx';
import { type CountFigures, CountRule } from './count-shown.tsx';
import type { ConsignmentAnswer, DeskAnswer } from './desk-answer.ts';
import { OtherActs } from './other-acts.tsx';

const emptyDrum = {
  drum: '',
  sealFound: '',
  gross: emptyReading('g'),
  tare: emptyReading('g'),
};

const chosenDrum = (): string => new URLSearchParams(location.search).get('drum') ?? '';

/** The first balance whose readings count today. */
function usualBalance({ balances }: DeskAnswer): string {
  return balances.find(({ outOfUse }) => outOfUse === null)?.instrument ?? '';
}

/** Why a balance of receiving is not offered. */
function balancesHint({ balances }: DeskAnswer): string | undefined {
  if (balances.length === 0) return 'No balance is registered at receiving.';
  const others = balances.flatMap(({ outOfUse }) => outOfUse ?? []);
  return others.length === 0 ? undefined : others.join(' ');
}

/** Weighing drums one after the other: scan the drum, scan its seal, weigh it. */
export function WeighDrum(props: {
  readonly answer: ConsignmentAnswer;
  readonly desk: DeskAnswer;
}) {
  const { answer, desk } = props;
  const [draft, change] = useDraft(`weigh drum ${answer.consignment}`, {
    ...emptyDrum,
    instrument: usualBalance(desk),
  });
  useEffect(() => {
    const chosen = chosenDrum();
    if (chosen !== '') change({ drum: chosen });
  }, [change]);
  const weigh = useCommand('weigh-drum', { onRecorded: () => change(emptyDrum) });
  const { drum, sealFound, instrument } = draft;
  const [gross, tare] = [readingOf(draft.gross), readingOf(draft.tare)];
  const isComplete = drum !== '' && sealFound !== '' && gross !== null && tare !== null;
  return (
    <ConsignmentFrame
      answer={answer}
      isWorkFirst
      others={<OtherActs answer={answer} drum={drum} />}
      act={
        <MainAct
          label="Record drum"
          command={weigh}
          input={() => ({ drum, sealFound, gross, tare, instrument })}
          notYet={isComplete ? undefined : 'Scan the drum and its seal, then weigh it.'}
        />
      }
    >
      <Part title="Weigh drum" aside={<Waiting answer={answer} />}>
        <FieldRow>
          <TextField
            label="Drum"
            kind="code"
            value={drum}
            onChange={(value) => change({ drum: value })}
            refusal={weigh.refusalAt('drum')}
          />
          <TextField
            label="Seal found"
            kind="code"
            value={sealFound}
            onChange={(value) => change({ sealFound: value })}
            hint="As it stands on the drum."
            refusal={weigh.refusalAt('sealFound')}
          />
        </FieldRow>
        <div className="weigh-row">
          <ReadingField
            label="Gross, the full drum"
            large
            value={draft.gross}
            onChange={(value) => change({ gross: value })}
            onInstrument={(instrument) => change({ instrument })}
            refusal={weigh.refusalAt('gross') ?? weigh.refusalAt('gross.text')}
          />
          <ReadingField
            label="Tare, the empty drum"
            value={draft.tare}
            onChange={(value) => change({ tare: value })}
            onInstrument={(instrument) => change({ instrument })}
            refusal={weigh.refusalAt('tare') ?? weigh.refusalAt('tare.text')}
          />
        </div>
        <LiveCount
          input={
            drum !== '' && instrument !== '' && gross && tare
              ? { drum, gross, tare, instrument }
              : undefined
          }
        />
        <ChoiceField
          label="Balance"
          value={instrument}
          choices={desk.balances
            .filter(({ outOfUse }) => outOfUse === null)
            .map((balance) => ({
              value: balance.instrument,
              label: `${balance.title} (${balance.instrument})`,
            }))}
          onChange={(value) => change({ instrument: value })}
          hint={balancesHint(desk)}
          refusal={weigh.refusalAt('instrument')}
        />
      </Part>
    </ConsignmentFrame>
  );
}

function Waiting({ answer }: { readonly answer: ConsignmentAnswer }) {
  const { ids } = answer.next;
  const shown = ids.slice(0, 6).join(', ');
  return (
    <span className="faint">
      waiting: {shown}
      {ids.length > 6 ? ` and ${ids.length - 6} more` : ''}
    </span>
  );
}

interface DrumTrial {
  readonly refusals: readonly { readonly message: string }[];
  readonly netMicrograms: number | null;
  readonly count: { readonly output: CountFigures } | null;
}

/** What the weighing would say, while the drum still stands on the balance. */
function LiveCount({ input }: { readonly input: object | undefined }) {
  const { answer } = useQuestion<DrumTrial>('drum-trial', input);
  if (!input || !answer) return null;
  const [refusal] = answer.refusals;
  if (refusal) return <p className="faint">{refusal.message}</p>;
  const { netMicrograms, count } = answer;
  if (netMicrograms === null || !count) return null;
  const likeliest = count.output.posterior.toSorted((a, b) => b.probability - a.probability)[0];
  return (
    <div aria-live="polite">
      <p className="live-weight">
        <Mass micrograms={netMicrograms} unit="g" decimals={1} size="live" />
        {likeliest ? <Figure value={likeliest.pieces} unit="pieces" size="result" /> : null}
      </p>
      <CountRule count={count.output} netMicrograms={netMicrograms} />
    </div>
  );
}
