import {
  Empty,
  Facts,
  FieldRow,
  Figure,
  LineageStrip,
  MainAct,
  Page,
  Part,
  Pending,
  printDecimal,
  printInstant,
  type ScreenProps,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { InstrumentRow } from '../books.ts';
import { ChecksPart } from '../instrument-checks/screens/checks-part.tsx';
import type { RegistersAnswer } from './desk-answer.ts';
import { LinePart } from './line-part.tsx';
import { Until } from './until.tsx';
import { WeighingFields, weighingDraft, weighingInput } from './weighing-fields.tsx';
import { placeWords } from './words.ts';

/** One instrument, and its next calibration. */
export function InstrumentPage({ params }: ScreenProps) {
  const id = params['instrument'] ?? '';
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  const row = answer?.instruments.find(({ instrument }) => instrument === id);
  if (!answer || !row) {
    return (
      <Page title={`Instrument ${id}`}>
        {answer ? (
          <Empty what={`${id} is not registered.`} how="The registers list every instrument." />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  return <OneInstrument key={row.entry} row={row} answer={answer} />;
}

function OneInstrument(props: { readonly row: InstrumentRow; readonly answer: RegistersAnswer }) {
  const { row, answer } = props;
  const [draft, change, clear] = useDraft(`record-calibration ${row.instrument} ${row.entry}`, {
    document: '',
    calibrationDue: '',
    ...weighingDraft(row),
  });
  const record = useCommand('record-calibration', { onRecorded: clear });
  const isBalance = row.kind === 'balance';
  return (
    <Page
      title={row.title}
      about={`${row.kind}, ${placeWords[row.place].toLowerCase()}`}
      known={
        <>
          <Facts facts={[['Label', <code key="id">{row.instrument}</code>]]} />
          <LineageStrip thing="instrument" id={row.instrument} />
        </>
      }
      act={
        <MainAct
          label="Record calibration"
          command={record}
          input={() => ({
            instrument: row.instrument,
            calibrationDue: draft.calibrationDue,
            document: draft.document.trim(),
            ...weighingInput(draft, isBalance),
          })}
        />
      }
    >
      <InstrumentFacts row={row} answer={answer} />
      <LinePart row={row} />
      <ChecksPart row={row} />
      {record.description?.allowed ? (
        <Part title="Its next calibration">
          <FieldRow>
            <TextField
              label="Document"
              hint="The calibration certificate or check record."
              value={draft.document}
              onChange={(document) => change({ document })}
              refusal={record.refusalAt('document')}
            />
            <TextField
              label="Calibration due"
              kind="date"
              hint="The last day on which its readings count."
              value={draft.calibrationDue}
              onChange={(calibrationDue) => change({ calibrationDue })}
              refusal={record.refusalAt('calibrationDue')}
            />
          </FieldRow>
          {isBalance ? <WeighingFields draft={draft} change={change} command={record} /> : null}
        </Part>
      ) : null}
    </Page>
  );
}

function InstrumentFacts(props: { readonly row: InstrumentRow; readonly answer: RegistersAnswer }) {
  const { row, answer } = props;
  const weighing = [
    ['Division', <Figure key="d" value={row.divisionGrams} unit="g" size="fact" />],
    ['Repeatability', <Figure key="r" value={row.repeatabilityGrams} unit="g" size="fact" />],
    ['Relative gain uncertainty', printDecimal(String(row.gainRelative))],
  ] as const;
  return (
    <Facts
      facts={[
        ['Calibration due', <Until key="due" day={row.calibrationDue} answer={answer} />],
        ['By document', row.document ?? 'as registered'],
        ['So since', printInstant(row.since)],
        ...(row.kind === 'balance' ? weighing : []),
      ]}
    />
  );
}
