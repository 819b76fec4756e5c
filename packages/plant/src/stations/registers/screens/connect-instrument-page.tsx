import { useState } from 'react';
import { instrumentUnits } from '../../../ports/instrument-dialect.ts';
import {
  CheckField,
  ChoiceField,
  type CommandInHand,
  Empty,
  FieldGroup,
  FieldRow,
  LineageStrip,
  MainAct,
  Page,
  Pending,
  pathTo,
  type ScreenProps,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useQuestion,
} from '../../../workbench/index.ts';
import {
  decodedWords,
  exampleLine,
  type LineDraft,
  lineChoices,
  lineDraftOf,
  lineInputOf,
  usualLine,
  usualTitrator,
} from './line-draft.ts';
import type { LineAnswer } from './line-part.tsx';

interface Form {
  readonly draft: LineDraft;
  readonly change: (part: Partial<LineDraft>) => void;
  readonly connect: CommandInHand;
}

/** An instrument is set to be read on a line of its own. */
export function ConnectInstrumentPage({ params }: ScreenProps) {
  const instrument = params['instrument'] ?? '';
  const { answer, problem } = useQuestion<LineAnswer | null>('instrument-line', { instrument });
  if (!answer) {
    return (
      <Page title={`Line of ${instrument}`}>
        {answer === null ? (
          <Empty what={`${instrument} is not registered.`} how="Register the instrument first." />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  return <Connect key={answer.line?.entry ?? 0} answer={answer} />;
}

function Connect({ answer }: { readonly answer: LineAnswer }) {
  const { instrument, title } = answer.registered;
  const go = useGo();
  const [draft, change, clear] = useDraft<LineDraft>(
    `connect-instrument ${instrument} ${answer.line?.entry ?? 0}`,
    answer.line
      ? lineDraftOf(answer.line)
      : answer.registered.kind === 'burette'
        ? usualTitrator
        : usualLine,
  );
  const connect = useCommand('connect-instrument', {
    onRecorded: () => {
      clear();
      go(pathTo('/registers/instruments/$instrument', { instrument }));
    },
  });
  const form = { draft, change, connect };
  return (
    <Page
      title={`Line of ${title}`}
      about="Its readings then come by themselves, each with the line as it was sent."
      known={<LineageStrip thing="instrument" id={instrument} />}
      act={
        <MainAct
          label="Connect instrument"
          command={connect}
          input={() => lineInputOf(instrument, draft)}
        />
      }
    >
      <ChoiceField
        label="Line"
        value={draft.kind}
        choices={lineChoices.kind}
        onChange={(kind) => change({ kind })}
      />
      {draft.kind === 'serial' ? <SerialFields {...form} /> : <NetworkFields {...form} />}
      <ShapeFields {...form} />
      <SendingFields {...form} />
      <TryLine draft={draft} />
    </Page>
  );
}

function SerialFields({ draft, change, connect }: Form) {
  const one = (field: 'baudRate' | 'dataBits' | 'parity' | 'stopBits' | 'flow', label: string) => (
    <ChoiceField
      label={label}
      value={draft[field]}
      choices={lineChoices[field]}
      onChange={(value: string) => change({ [field]: value })}
      refusal={connect.refusalAt(`line.${field}`)}
    />
  );
  return (
    <>
      <FieldRow>
        <TextField
          label="Port"
          kind="code"
          scans={false}
          hint="As the plant’s server names it, such as /dev/ttyUSB0 or COM3."
          value={draft.path}
          onChange={(path) => change({ path })}
          refusal={connect.refusalAt('line.path')}
        />
        {one('baudRate', 'Speed, in baud')}
      </FieldRow>
      <FieldRow>
        {one('dataBits', 'Data bits')}
        {one('parity', 'Parity')}
        {one('stopBits', 'Stop bits')}
        {one('flow', 'Flow control')}
      </FieldRow>
    </>
  );
}

function NetworkFields({ draft, change, connect }: Form) {
  return (
    <FieldRow>
      <TextField
        label="Host"
        kind="code"
        scans={false}
        hint="Name or address in the plant’s own network."
        value={draft.host}
        onChange={(host) => change({ host })}
        refusal={connect.refusalAt('line.host')}
      />
      <TextField
        label="Port"
        kind="whole number"
        value={draft.port}
        onChange={(port) => change({ port })}
        refusal={connect.refusalAt('line.port')}
      />
    </FieldRow>
  );
}

const marks = [
  ['stable', 'Stable'],
  ['unstable', 'Unstable'],
  ['overload', 'Out of range'],
  ['net', 'Net of a tare'],
  ['gross', 'Gross'],
] as const;

function ShapeFields({ draft, change, connect }: Form) {
  return (
    <FieldGroup title="What its lines look like">
      <ChoiceField
        label="Shape"
        value={draft.shape}
        choices={lineChoices.shape}
        onChange={(shape) => change({ shape })}
        hint={`Such as “${exampleLine(draft)}”. Any other line is no reading.`}
        refusal={connect.refusalAt('dialect.shape')}
      />
      <FieldRow>
        <ChoiceField
          label="Decimal sign"
          value={draft.decimalSign}
          choices={lineChoices.decimalSign}
          onChange={(decimalSign) => change({ decimalSign: decimalSign as 'point' })}
        />
        {draft.shape === 'number alone' ? (
          <ChoiceField
            label="Unit of a line that names none"
            value={draft.unit}
            choices={instrumentUnits.map((unit) => ({ value: unit, label: unit }))}
            onChange={(unit) => change({ unit })}
            refusal={connect.refusalAt('dialect.unit')}
          />
        ) : null}
        {draft.shape === 'volume and potential' ? (
          <>
            <ChoiceField
              label="Parted by"
              value={draft.partedBy}
              choices={lineChoices.partedBy}
              onChange={(partedBy) => change({ partedBy })}
              refusal={connect.refusalAt('dialect.partedBy')}
            />
            <ChoiceField
              label="Unit of the potential"
              value={draft.potentialUnit}
              choices={lineChoices.potentialUnit}
              onChange={(potentialUnit) => change({ potentialUnit })}
            />
          </>
        ) : null}
      </FieldRow>
      {draft.shape === 'status first' ? (
        <FieldRow>
          {marks.map(([field, label]) => (
            <TextField
              key={field}
              label={label}
              kind="code"
              scans={false}
              optional={field === 'net' || field === 'gross'}
              value={draft[field]}
              onChange={(text) => change({ [field]: text })}
              refusal={connect.refusalAt(`dialect.${field}`)}
            />
          ))}
        </FieldRow>
      ) : null}
    </FieldGroup>
  );
}

function SendingFields({ draft, change, connect }: Form) {
  return (
    <FieldGroup title="When it sends">
      <FieldRow>
        <TextField
          label="Asked by"
          kind="code"
          scans={false}
          optional
          hint="Text that asks it for a stable value. Without one it is read by its print key."
          value={draft.asks}
          onChange={(asks) => change({ asks })}
          refusal={connect.refusalAt('asks.text')}
        />
        <ChoiceField
          label="The text ends with"
          value={draft.askEnd}
          choices={lineChoices.askEnd}
          onChange={(askEnd) => change({ askEnd })}
        />
      </FieldRow>
      <CheckField
        label="It sends line after line by itself, not only on its key"
        checked={draft.sendsAllTheTime}
        onChange={(sendsAllTheTime) => change({ sendsAllTheTime })}
        refusal={connect.refusalAt('sendsAllTheTime')}
      />
    </FieldGroup>
  );
}

/** A line from the manual or the printer, held against the settings before they are recorded. */
function TryLine({ draft }: { readonly draft: LineDraft }) {
  const [raw, setRaw] = useState('');
  return (
    <FieldGroup title="Try a line">
      <TextField
        label="A line that it sends"
        kind="code"
        scans={false}
        optional
        hint="From its manual or its printer."
        value={raw}
        onChange={setRaw}
      />
      <p aria-live="polite">{raw === '' ? '' : decodedWords(raw, draft)}</p>
    </FieldGroup>
  );
}
