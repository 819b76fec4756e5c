import {
  type CommandInHand,
  emptyReading,
  FieldRow,
  MainAct,
  printNumber,
  type ReadingDraft,
  readingOf,
  SheetKept,
  useCommand,
  useDraft,
  useKeptSheet,
} from '../../../workbench/index.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { instrumentsInUse } from './instruments-in-use.ts';
import { JudgedReading, type Measured, measures } from './judged-reading.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import type { BlankLimits, DeskInstrument, ShownBlank } from './trial-answer.ts';

/** The readings of a blank while they are made. */
export type BlankDraft = Readonly<Record<Measured, ReadingDraft>>;

/** A blank on which nothing has been read yet. */
export const unread: BlankDraft = {
  mass: emptyReading('g'),
  diameter: emptyReading('mm'),
  thickness: emptyReading('mm'),
};

const gauges = ['micrometer', 'gauge'];

/** The instruments with which blanks are measured, kept from one melt to the next. */
export function useMeasuringInstruments(instruments: readonly DeskInstrument[]) {
  const [hand, keep] = useDraft('laboratory measuring instruments', {
    balance: '',
    micrometer: '',
  });
  // The finest balance of a laboratory stands first and weighs assays; blanks go on the last one.
  const balances = instrumentsInUse(instruments, ['balance']).fit.toReversed();
  return {
    balance: instrumentAtHand(balances, ['balance'], hand.balance),
    micrometer: instrumentAtHand(instruments, gauges, hand.micrometer),
    keep,
    /** An instrument on a line of its own gave that reading. */
    sentBy: (measured: Measured, instrument: string) =>
      keep(measured === 'mass' ? { balance: instrument } : { micrometer: instrument }),
  };
}

/** Which balance and micrometer measure the blanks. */
export function MeasuringInstruments(props: {
  readonly instruments: readonly DeskInstrument[];
  readonly hand: ReturnType<typeof useMeasuringInstruments>;
  readonly command: CommandInHand;
}) {
  const { instruments, hand, command } = props;
  return (
    <FieldRow>
      <InstrumentChoice
        label="Balance"
        instruments={instruments}
        kinds={['balance']}
        value={hand.balance}
        onChange={(balance) => hand.keep({ balance })}
        refusal={command.refusalAt('balance')}
      />
      <InstrumentChoice
        label="Micrometer or gauge"
        instruments={instruments}
        kinds={gauges}
        value={hand.micrometer}
        onChange={(micrometer) => hand.keep({ micrometer })}
        refusal={command.refusalAt('micrometer')}
      />
    </FieldRow>
  );
}

const isComplete = (draft: BlankDraft | undefined): boolean =>
  draft !== undefined && measures.every((measured) => draft[measured].text !== '');

/** The refusal of one reading, whichever part of it is blamed. */
export function readingRefusal(command: CommandInHand, field: string): string | undefined {
  return (
    command.refusalAt(field) ??
    command.refusalAt(`${field}.text`) ??
    command.refusalAt(`${field}.unit`)
  );
}

function actLabel(ready: number, waiting: number): string {
  if (ready === 0 || ready === waiting) return 'Record measurements';
  return ready === 1 ? 'Record 1 measurement' : `Record ${ready} measurements`;
}

/** Mass, diameter and thickness of every drawn blank that is not measured yet. */
export function MeasureBlanks(work: MeltWork) {
  const { answer, instruments } = work;
  const { melt } = answer;
  const hand = useMeasuringInstruments(instruments);
  const [draft, change, clear, sheet] = useKeptSheet<{
    blanks: Readonly<Record<string, BlankDraft>>;
  }>({ command: 'measure-blanks', thing: melt }, { blanks: {} });
  const measure = useCommand('measure-blanks', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const waiting = answer.blanks.filter(({ measurement }) => !measurement);
  const ready = waiting.filter(({ blank }) => isComplete(draft.blanks[blank]));
  const measurements = () =>
    ready.map(({ blank }) => {
      const { mass, diameter, thickness } = draft.blanks[blank] ?? unread;
      return {
        blank,
        mass: readingOf(mass),
        diameter: readingOf(diameter),
        thickness: readingOf(thickness),
      };
    });
  return (
    <MeltFrame
      {...work}
      title="Measure blanks"
      mainAct={
        <MainAct
          label={actLabel(ready.length, waiting.length)}
          command={measure}
          notYet={ready.length === 0 ? 'Measure at least one blank whole.' : undefined}
          input={() => ({
            melt,
            balance: hand.balance,
            micrometer: hand.micrometer,
            measurements: measurements(),
          })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <p className="faint">
        {printNumber(waiting.length)} blanks wait, {printNumber(ready.length)} of them read. They
        may be recorded in parts.
      </p>
      <MeasuringInstruments instruments={instruments} hand={hand} command={measure} />
      {waiting.map((blank) => {
        const index = ready.findIndex((one) => one.blank === blank.blank);
        return (
          <BlankReadings
            key={blank.blank}
            blank={blank}
            limits={answer.physical.limits}
            draft={draft.blanks[blank.blank] ?? unread}
            onChange={(one) => change({ blanks: { ...draft.blanks, [blank.blank]: one } })}
            onInstrument={hand.sentBy}
            refusalAt={(field) =>
              index < 0 ? undefined : readingRefusal(measure, `measurements.${index}.${field}`)
            }
          />
        );
      })}
    </MeltFrame>
  );
}

/** The three readings of one blank in one row. */
export function BlankReadings(props: {
  readonly blank: ShownBlank;
  readonly limits: BlankLimits;
  readonly draft: BlankDraft;
  readonly onChange: (draft: BlankDraft) => void;
  readonly onInstrument: (measured: Measured, instrument: string) => void;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { blank, draft, onChange, refusalAt, limits } = props;
  const refusal = refusalAt('blank');
  return (
    <fieldset className="blank-row">
      <legend>
        Blank <span className="thing-link">{blank.blank}</span>{' '}
        <span className="faint">
          drum {blank.drum}, position {blank.position}
          {blank.forAssay ? ', for assay' : ''}
        </span>
      </legend>
      <div className="blank-row-fields">
        {measures.map((measured) => (
          <JudgedReading
            key={measured}
            measured={measured}
            limits={limits}
            value={draft[measured]}
            onChange={(reading) => onChange({ ...draft, [measured]: reading })}
            onInstrument={(instrument) => props.onInstrument(measured, instrument)}
            refusal={refusalAt(measured)}
          />
        ))}
      </div>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </fieldset>
  );
}
