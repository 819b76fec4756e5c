import {
  ChoiceField,
  type CommandInHand,
  decimalOf,
  emptyReading,
  FieldGroup,
  FieldRow,
  MainAct,
  type ReadingDraft,
  ReadingField,
  readingOf,
  type ScreenProps,
  SheetKept,
  TextField,
  useCommand,
  useDraft,
  useKeptSheet,
} from '../../../../workbench/index.ts';
import type { ExaminationsAnswer } from '../../examination/screens/examination-answer.ts';
import { ExaminationFrame, ExaminationPage } from '../../examination/screens/examination-page.tsx';
import { InstrumentChoice, instrumentAtHand } from '../../screens/instrument-choice.tsx';
import { readingRefusal } from '../../screens/measure-blanks.tsx';

interface DimensionDraft {
  readonly label: string;
  readonly readings: readonly ReadingDraft[];
  readonly least: string;
  readonly greatest: string;
}

interface EdgeDraft {
  readonly blank: string;
  readonly limitsSetBy: string;
  readonly gaugeUncertainty: string;
  readonly rule: 'expanded uncertainty' | 'probability 95 %';
  readonly dimensions: readonly DimensionDraft[];
}

const gauges = ['micrometer', 'gauge', 'microscope'];
/** Places around the edge that are gauged to begin with. */
const places = 4;

const newDimension = (label: string): DimensionDraft => ({
  label,
  readings: Array.from({ length: places }, () => emptyReading('mm')),
  least: '',
  greatest: '',
});

const firstDraft: EdgeDraft = {
  blank: '',
  limitsSetBy: '',
  gaugeUncertainty: '',
  rule: 'expanded uncertainty',
  dimensions: [newDimension('Edge height'), newDimension('Edge width')],
};

const readOf = ({ readings }: DimensionDraft): readonly ReadingDraft[] =>
  readings.filter(({ text }) => text.trim() !== '');

const sentOf = ({ dimensions }: EdgeDraft): readonly DimensionDraft[] =>
  dimensions.filter((one) => readOf(one).length > 0);

function notYet(draft: EdgeDraft): string | undefined {
  if (draft.blank === '') return 'Choose the blank.';
  if (draft.limitsSetBy.trim() === '') return 'Name the drawing or order that sets the limits.';
  if (draft.gaugeUncertainty.trim() === '') return 'State the standard uncertainty of a reading.';
  return sentOf(draft).length === 0 ? 'Read one dimension at least.' : undefined;
}

/** The edge of a blank and other dimensions, held to limits that are typed with them. */
export function EdgePage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const title = `Edge, melt ${melt}`;
  return (
    <ExaminationPage melt={melt} title={title}>
      {(answer) => <MeasureEdge title={title} answer={answer} />}
    </ExaminationPage>
  );
}

function MeasureEdge(props: { readonly title: string; readonly answer: ExaminationsAnswer }) {
  const { title, answer } = props;
  const { melt } = answer;
  const [hand, keep] = useDraft('laboratory edge gauge', { gauge: '' });
  const gauge = instrumentAtHand(answer.instruments, gauges, hand.gauge);
  const name = { command: 'measure-edge', thing: melt };
  const [draft, change, clear, sheet] = useKeptSheet<EdgeDraft>(name, firstDraft);
  const record = useCommand('measure-edge', { onRecorded: clear });
  const put = (at: number, part: Partial<DimensionDraft>) =>
    change({
      dimensions: draft.dimensions.map((one, index) => (index === at ? { ...one, ...part } : one)),
    });
  return (
    <ExaminationFrame
      title={title}
      answer={answer}
      act={
        <MainAct
          label="Record edge"
          command={record}
          notYet={notYet(draft)}
          input={() => ({
            melt,
            blank: draft.blank,
            instrument: gauge,
            rule: draft.rule,
            limitsSetBy: draft.limitsSetBy,
            gaugeStandardUncertaintyMicrometres: decimalOf(draft.gaugeUncertainty),
            dimensions: sentOf(draft).map((one) => ({
              label: one.label,
              readings: readOf(one).map(readingOf),
              leastMillimetres: decimalOf(one.least),
              greatestMillimetres: decimalOf(one.greatest),
            })),
          })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <FieldRow>
        <ChoiceField
          label="Blank"
          value={draft.blank}
          choices={answer.blanks.map(({ blank }) => ({ value: blank, label: blank }))}
          onChange={(blank) => change({ blank })}
          refusal={record.refusalAt('blank')}
        />
        <InstrumentChoice
          label="Gauge"
          instruments={answer.instruments}
          kinds={gauges}
          value={gauge}
          onChange={(chosen) => keep({ gauge: chosen })}
          refusal={record.refusalAt('instrument')}
        />
        <TextField
          label="Limits of"
          value={draft.limitsSetBy}
          onChange={(limitsSetBy) => change({ limitsSetBy })}
          hint="The drawing or order that sets them."
          refusal={record.refusalAt('limitsSetBy')}
        />
        <TextField
          label="Standard uncertainty of a reading"
          kind="decimal"
          unit="µm"
          value={draft.gaugeUncertainty}
          onChange={(gaugeUncertainty) => change({ gaugeUncertainty })}
          refusal={record.refusalAt('gaugeStandardUncertaintyMicrometres')}
        />
      </FieldRow>
      <ChoiceField
        label="A limit is kept when"
        value={draft.rule}
        choices={[
          { value: 'expanded uncertainty', label: 'the reading keeps it by twice its uncertainty' },
          { value: 'probability 95 %', label: 'it is kept with a probability of 95 %' },
        ]}
        onChange={(rule) => change({ rule })}
        refusal={record.refusalAt('rule')}
      />
      {draft.dimensions.map((one, index) => (
        <Dimension
          // biome-ignore lint/suspicious/noArrayIndexKey: its name is typed here and no key
          key={index}
          one={one}
          onChange={(part) => put(index, part)}
          at={`dimensions.${sentOf(draft).indexOf(one)}`}
          record={record}
        />
      ))}
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() => change({ dimensions: [...draft.dimensions, newDimension('')] })}
        >
          Add a dimension
        </button>
      </p>
    </ExaminationFrame>
  );
}

function Dimension(props: {
  readonly one: DimensionDraft;
  readonly onChange: (part: Partial<DimensionDraft>) => void;
  /** Its place in the command; of none while nothing is read. */
  readonly at: string;
  readonly record: CommandInHand;
}) {
  const { one, onChange, at, record } = props;
  const title = one.label.trim() === '' ? 'Dimension' : one.label;
  return (
    <FieldGroup title={title}>
      <FieldRow>
        <TextField
          label="Name"
          value={one.label}
          onChange={(label) => onChange({ label })}
          refusal={record.refusalAt(`${at}.label`)}
        />
        <TextField
          label={`Least, ${title}`}
          kind="decimal"
          unit="mm"
          optional
          value={one.least}
          onChange={(least) => onChange({ least })}
          refusal={record.refusalAt(`${at}.leastMillimetres`)}
        />
        <TextField
          label={`Greatest, ${title}`}
          kind="decimal"
          unit="mm"
          optional
          value={one.greatest}
          onChange={(greatest) => onChange({ greatest })}
          refusal={record.refusalAt(`${at}.greatestMillimetres`)}
        />
      </FieldRow>
      <FieldRow>
        {one.readings.map((reading, index) => {
          const sent = readOf({ ...one, readings: one.readings.slice(0, index) }).length;
          return (
            <ReadingField
              // biome-ignore lint/suspicious/noArrayIndexKey: readings are told apart by their place
              key={index}
              label={`Place ${index + 1}, ${title}`}
              value={reading}
              optional
              onChange={(changed) =>
                onChange({
                  readings: one.readings.map((other, place) => (place === index ? changed : other)),
                })
              }
              refusal={readingRefusal(record, `${at}.readings.${sent}`)}
            />
          );
        })}
      </FieldRow>
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() => onChange({ readings: [...one.readings, emptyReading('mm')] })}
        >
          Add a place
        </button>
      </p>
    </FieldGroup>
  );
}
