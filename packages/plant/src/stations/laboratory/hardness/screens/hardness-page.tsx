import type { VickersOutput } from '@cupel/calculation';
import {
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  Figure,
  LimitRule,
  MainAct,
  ReadingField,
  type ScreenProps,
  SheetKept,
  State,
  TextField,
  useCommand,
  useDraft,
  useKeptSheet,
} from '../../../../workbench/index.ts';
import type { ExaminationsAnswer, Window } from '../../examination/screens/examination-answer.ts';
import { ExaminationFrame, ExaminationPage } from '../../examination/screens/examination-page.tsx';
import { limitsTyped, OrderedLimits } from '../../examination/screens/ordered-limits.tsx';
import { useCalculated } from '../../examination/screens/use-calculated.ts';
import { InstrumentChoice, instrumentAtHand } from '../../screens/instrument-choice.tsx';
import { readingRefusal } from '../../screens/measure-blanks.tsx';
import {
  firstHardness,
  type HardnessDraft,
  hardnessInputOf,
  hardnessNotYet,
  hardnessPreview,
  type IndentationDraft,
  isRead,
  newIndentation,
} from './hardness-draft.ts';

/** Test forces of the scales, in N: g × the number of the scale, as the standard rounds them. */
const forces = [
  ['0.9807', 'HV 0.1'],
  ['1.961', 'HV 0.2'],
  ['2.942', 'HV 0.3'],
  ['4.903', 'HV 0.5'],
  ['9.807', 'HV 1'],
  ['19.61', 'HV 2'],
  ['29.42', 'HV 3'],
  ['49.03', 'HV 5'],
  ['98.07', 'HV 10'],
] as const;

const tools = ['hardness tester', 'microscope'];

/** The hardness of a blank by the diagonals of its indentations. */
export function HardnessPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const title = `Hardness, melt ${melt}`;
  return (
    <ExaminationPage melt={melt} title={title}>
      {(answer) => <MeasureHardness title={title} answer={answer} />}
    </ExaminationPage>
  );
}

function MeasureHardness(props: { readonly title: string; readonly answer: ExaminationsAnswer }) {
  const { title, answer } = props;
  const { melt, hardness: window } = answer;
  const [hand, keep] = useDraft('laboratory hardness tester', { tester: '' });
  const tester = instrumentAtHand(answer.instruments, tools, hand.tester);
  const name = { command: 'measure-hardness', thing: melt };
  const [draft, change, clear, sheet] = useKeptSheet<HardnessDraft>(name, firstHardness);
  const record = useCommand('measure-hardness', { onRecorded: clear });
  const limits = limitsTyped(draft.order, window);
  const thickness =
    answer.blanks.find(({ blank }) => blank === draft.blank)?.thicknessMillimetres ?? null;
  const found = useCalculated<VickersOutput>('vickers', hardnessPreview(draft, limits, thickness));
  const output = found.state === 'found' ? found.output : undefined;
  return (
    <ExaminationFrame
      title={title}
      answer={answer}
      act={
        <MainAct
          label="Record hardness"
          command={record}
          notYet={hardnessNotYet(draft)}
          input={() => hardnessInputOf(draft, { melt, instrument: tester, window })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <Head
        {...{ draft, change, record, answer, tester }}
        onTester={(one) => keep({ tester: one })}
      />
      <Indentations {...{ draft, change, record, output }} />
      <OrderedLimits
        window={window}
        setBy={answer.pieceStandard}
        unit="HV"
        draft={draft.order}
        change={(part) => change({ order: { ...draft.order, ...part } })}
        record={record}
      />
      {found.state === 'refused' ? <p role="status">{found.words}</p> : null}
      {output ? <Mean output={output} limits={limits} /> : null}
    </ExaminationFrame>
  );
}

interface Form {
  readonly draft: HardnessDraft;
  readonly change: (part: Partial<HardnessDraft>) => void;
  readonly record: CommandInHand;
}

function Head(
  props: Form & {
    readonly answer: ExaminationsAnswer;
    readonly tester: string;
    readonly onTester: (tester: string) => void;
  },
) {
  const { draft, change, record, answer } = props;
  return (
    <>
      <FieldRow>
        <ChoiceField
          label="Blank"
          value={draft.blank}
          choices={answer.blanks.map(({ blank, isCut }) => ({
            value: blank,
            label: isCut ? `${blank}, cut` : blank,
          }))}
          onChange={(blank) => change({ blank })}
          refusal={record.refusalAt('blank')}
        />
        <InstrumentChoice
          label="Hardness tester"
          instruments={answer.instruments}
          kinds={tools}
          value={props.tester}
          onChange={props.onTester}
          refusal={record.refusalAt('instrument')}
        />
        <ChoiceField
          label="Test force"
          value={draft.force}
          choices={forces.map(([force, scale]) => ({
            value: force,
            label: `${scale}, ${force} N`,
          }))}
          onChange={(force) => change({ force })}
          refusal={record.refusalAt('testForceNewtons')}
        />
      </FieldRow>
      <ChoiceField
        label="Distances are judged as for"
        value={draft.spacingGroup}
        choices={[
          { value: 'light metals, lead and tin', label: 'light metals: soft, annealed' },
          { value: 'steel and copper alloys', label: 'copper alloys: hard, worked' },
        ]}
        onChange={(spacingGroup) => change({ spacingGroup })}
        hint="The standard names neither gold nor silver."
        refusal={record.refusalAt('spacingGroup')}
      />
      <FieldRow>
        <TextField
          label="Standard uncertainty of a diagonal"
          kind="decimal"
          unit="µm"
          value={draft.diagonalUncertainty}
          onChange={(diagonalUncertainty) => change({ diagonalUncertainty })}
          refusal={record.refusalAt('diagonalStandardUncertaintyMicrometres')}
        />
        <TextField
          label="Relative standard uncertainty of the force"
          kind="decimal"
          unit="%"
          value={draft.forceUncertainty}
          onChange={(forceUncertainty) => change({ forceUncertainty })}
          refusal={record.refusalAt('forceRelativeStandardUncertaintyPercent')}
        />
      </FieldRow>
    </>
  );
}

function Indentations(props: Form & { readonly output: VickersOutput | undefined }) {
  const { draft, change, record, output } = props;
  const { indentations } = draft;
  const put = (at: number, part: Partial<IndentationDraft>) =>
    change({
      indentations: indentations.map((one, index) => (index === at ? { ...one, ...part } : one)),
    });
  return (
    <FieldGroup title="Indentations">
      {indentations.map((one, index) => {
        const sent = indentations.slice(0, index).filter(isRead).length;
        const found = output?.indentations.find(({ label }) => label === one.label);
        return (
          <Indentation
            key={one.label}
            one={one}
            found={isRead(one) ? found : undefined}
            onChange={(part) => put(index, part)}
            refusalAt={(field) =>
              isRead(one) ? readingRefusal(record, `indentations.${sent}.${field}`) : undefined
            }
          />
        );
      })}
      {record.refusalAt('indentations') ? (
        <p className="field-refusal">{record.refusalAt('indentations')}</p>
      ) : null}
      <p className="row-counts">
        <button
          type="button"
          className="link-button"
          onClick={() =>
            change({ indentations: [...indentations, newIndentation(indentations.length)] })
          }
        >
          Add an indentation
        </button>
        {indentations.length > 1 ? (
          <button
            type="button"
            className="link-button"
            onClick={() => change({ indentations: indentations.slice(0, -1) })}
          >
            Take the last one away
          </button>
        ) : null}
      </p>
    </FieldGroup>
  );
}

const readings = [
  ['first', 'First diagonal', false],
  ['second', 'Second diagonal', false],
  ['edgeDistance', 'From the edge', true],
  ['neighbourDistance', 'From the nearest', true],
] as const;

function Indentation(props: {
  readonly one: IndentationDraft;
  readonly found: VickersOutput['indentations'][number] | undefined;
  readonly onChange: (part: Partial<IndentationDraft>) => void;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { one, found, onChange, refusalAt } = props;
  return (
    <fieldset className="blank-row">
      <legend>
        Indentation {one.label}{' '}
        {found ? <Figure value={found.hardness} decimals={1} unit="HV" /> : null}{' '}
        {found && !found.isSymmetric ? <State word="diagonals differ" tone="look" /> : null}{' '}
        {found && !found.isValid ? (
          <State word="too thin, or too near to something" tone="look" />
        ) : null}
      </legend>
      <div className="blank-row-fields indentation-fields">
        {readings.map(([field, label, optional]) => (
          <ReadingField
            key={field}
            label={`${label}, ${one.label}`}
            value={one[field]}
            optional={optional}
            onChange={(reading) => onChange({ [field]: reading })}
            refusal={refusalAt(field)}
          />
        ))}
      </div>
    </fieldset>
  );
}

function Mean({ output, limits }: { readonly output: VickersOutput; readonly limits: Window }) {
  const hasLimits = limits.least !== null || limits.greatest !== null;
  return (
    <div role="status">
      {hasLimits ? (
        <LimitRule
          value={output.meanHardness}
          expandedUncertainty={output.expandedUncertainty}
          {...(limits.least === null ? {} : { lowerLimit: limits.least })}
          {...(limits.greatest === null ? {} : { upperLimit: limits.greatest })}
          unit="HV"
          words={output.words}
        />
      ) : (
        <>
          <Figure
            value={output.meanHardness}
            decimals={1}
            uncertainty={output.expandedUncertainty}
            unit="HV"
            size="result"
          />
          <p>{output.words}</p>
        </>
      )}
    </div>
  );
}
