import type { GrainSizeOutput } from '@cupel/calculation';
import {
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  Figure,
  LimitRule,
  MainAct,
  Part,
  PhotographField,
  printNumber,
  type ScreenProps,
  SheetKept,
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
import { grainCounts, laidLines, type PictureSize } from '../picture-marks.ts';
import { LineCounts } from './line-counts.tsx';
import { PictureBoard } from './picture-board.tsx';
import {
  type DrawingTool,
  firstStructure,
  otherPhotograph,
  pointTaken,
  type StructureDraft,
  scaleOf,
  structureInputOf,
  structureNotYet,
} from './structure-draft.ts';

/** The grain of a blank on the photograph of its section. */
export function StructurePage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const title = `Structure, melt ${melt}`;
  return (
    <ExaminationPage melt={melt} title={title}>
      {(answer) => <ExamineStructure title={title} answer={answer} />}
    </ExaminationPage>
  );
}

interface Form {
  readonly draft: StructureDraft;
  readonly change: (part: Partial<StructureDraft>) => void;
  readonly record: CommandInHand;
}

function previewOf(draft: StructureDraft, limits: Window) {
  const scale = scaleOf(draft);
  const isMarked = draft.lines.some(({ marks }) => marks.length > 0);
  if (!scale || !isMarked) return undefined;
  return {
    ...grainCounts(draft.lines, scale),
    ...(limits.least === null ? {} : { lowerLimitGrainSize: limits.least }),
    ...(limits.greatest === null ? {} : { upperLimitGrainSize: limits.greatest }),
  };
}

function ExamineStructure(props: { readonly title: string; readonly answer: ExaminationsAnswer }) {
  const { title, answer } = props;
  const { melt, grainSize: window } = answer;
  const [hand, keep] = useDraft('laboratory microscope', { microscope: '' });
  const microscope = instrumentAtHand(answer.instruments, ['microscope'], hand.microscope);
  const name = { command: 'examine-structure', thing: melt };
  const [draft, change, clear, sheet] = useKeptSheet<StructureDraft>(name, firstStructure);
  const record = useCommand('examine-structure', { onRecorded: clear });
  const limits = limitsTyped(draft.order, window);
  const found = useCalculated<GrainSizeOutput>('grain-size', previewOf(draft, limits));
  const form = { draft, change, record };
  return (
    <ExaminationFrame
      title={title}
      answer={answer}
      act={
        <MainAct
          label="Record structure"
          command={record}
          notYet={structureNotYet(draft)}
          input={() => structureInputOf(draft, { melt, instrument: microscope, window })}
        />
      }
    >
      <SheetKept sheet={sheet} />
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
          label="Microscope"
          instruments={answer.instruments}
          kinds={['microscope']}
          value={microscope}
          onChange={(chosen) => keep({ microscope: chosen })}
          refusal={record.refusalAt('instrument')}
        />
        <TextField
          label="Preparation"
          optional
          value={draft.preparation}
          onChange={(preparation) => change({ preparation })}
          hint="How the section was ground and etched."
          refusal={record.refusalAt('preparation')}
        />
      </FieldRow>
      <PhotographField
        label="Photograph of the section"
        sha256={draft.photographSha256}
        onChange={(sha256) => change(otherPhotograph(sha256))}
        refusal={record.refusalAt('photographSha256')}
      />
      {draft.photographSha256 === '' ? null : <Board {...form} />}
      <OrderedLimits
        window={window}
        setBy={answer.pieceStandard}
        unit="G"
        draft={draft.order}
        change={(part) => change({ order: { ...draft.order, ...part } })}
        record={record}
      />
      {found.state === 'refused' ? <p role="status">{found.words}</p> : null}
      {found.state === 'found' ? <Found output={found.output} limits={limits} /> : null}
    </ExaminationFrame>
  );
}

const hints: Readonly<Record<DrawingTool, readonly [string, string]>> = {
  scale: ['Touch one end of the scale bar.', 'Touch the other end of the scale bar.'],
  line: ['Touch where a test line begins.', 'Touch where the test line ends.'],
  mark: [
    'Touch a line where it crosses the boundary of a grain; touch a mark to take it away.',
    '',
  ],
};

const hintOf = ({ tool, pending }: StructureDraft): string => hints[tool][pending ? 1 : 0];

/** So many lines are laid at once; a few more than the method asks for fields. */
const linesLaid = 7;

/** Until the file is loaded its size is not known; any size shows the picture. */
const unknownSize: PictureSize = { widthPixels: 1000, heightPixels: 750 };

function Board({ draft, change, record }: Form) {
  const size = draft.picture ?? unknownSize;
  const scale = scaleOf(draft);
  return (
    <Part title="On the photograph">
      <FieldRow>
        <ChoiceField
          label="A touch on the picture is"
          value={draft.tool}
          choices={[
            { value: 'scale', label: 'an end of the scale bar' },
            { value: 'line', label: 'an end of a test line' },
            { value: 'mark', label: 'a crossed boundary' },
          ]}
          onChange={(tool) => change({ tool, pending: null })}
        />
      </FieldRow>
      <p className="field-hint" aria-live="polite">
        {hintOf(draft)}
      </p>
      <PictureBoard
        picture={{
          sha256: draft.photographSha256,
          words: 'Photograph of the section',
          size,
          bar: draft.scaleKind === 'bar' ? draft.bar : null,
          lines: draft.lines,
        }}
        pending={draft.pending}
        hint={hintOf(draft)}
        onPoint={(point) => change(pointTaken(draft, point))}
        onSize={(picture) => {
          if (!draft.picture) change({ picture });
        }}
      />
      <ScaleFields {...{ draft, change, record }} />
      <p className="row-counts">
        <button
          type="button"
          className="quiet-button"
          onClick={() => change({ lines: laidLines(size, linesLaid), tool: 'mark', pending: null })}
        >
          Lay {printNumber(linesLaid)} lines
        </button>
        {draft.lines.length > 0 ? (
          <button
            type="button"
            className="link-button"
            onClick={() => change({ lines: [], tool: 'line', pending: null })}
          >
            Take all lines away
          </button>
        ) : null}
      </p>
      <LineCounts
        lines={draft.lines}
        scale={scale}
        onLines={(lines) => change({ lines })}
        refusalAt={(index) => record.refusalAt(`lines.${index}`)}
      />
      {record.refusalAt('lines') ? (
        <p className="field-refusal">{record.refusalAt('lines')}</p>
      ) : null}
    </Part>
  );
}

function ScaleFields({ draft, change, record }: Form) {
  const refusal = record.refusalAt('scale') ?? record.refusalAt('scale.bar');
  return (
    <FieldGroup title="Scale">
      <FieldRow>
        <ChoiceField
          label="The scale is"
          value={draft.scaleKind}
          choices={[
            { value: 'bar', label: 'the bar on the picture' },
            { value: 'stated', label: 'known for each pixel' },
          ]}
          onChange={(scaleKind) =>
            change({ scaleKind, pending: null, tool: scaleKind === 'bar' ? 'scale' : 'line' })
          }
        />
        {draft.scaleKind === 'bar' ? (
          <TextField
            label="Length of the scale bar"
            kind="decimal"
            unit="µm"
            value={draft.barLength}
            onChange={(barLength) => change({ barLength })}
            hint={draft.bar ? 'Both ends are marked.' : 'Its ends are not marked yet.'}
            refusal={record.refusalAt('scale.lengthMicrometres') ?? refusal}
          />
        ) : (
          <TextField
            label="A pixel of the file"
            kind="decimal"
            unit="µm"
            value={draft.statedScale}
            onChange={(statedScale) => change({ statedScale })}
            refusal={record.refusalAt('scale.micrometresPerPixel') ?? refusal}
          />
        )}
      </FieldRow>
    </FieldGroup>
  );
}

function Found({ output, limits }: { readonly output: GrainSizeOutput; readonly limits: Window }) {
  const { grainSize, grainSizeLower, grainSizeUpper } = output;
  const half =
    grainSizeLower === null || grainSizeUpper === null
      ? undefined
      : Math.max(grainSize - grainSizeLower, grainSizeUpper - grainSize);
  if (limits.least === null && limits.greatest === null) {
    return (
      <div role="status">
        <Figure value={grainSize} decimals={1} unit="G" size="result" />
        <p>{output.words}</p>
      </div>
    );
  }
  return (
    <div role="status">
      <LimitRule
        value={grainSize}
        {...(half === undefined ? {} : { expandedUncertainty: half })}
        {...(limits.least === null ? {} : { lowerLimit: limits.least })}
        {...(limits.greatest === null ? {} : { upperLimit: limits.greatest })}
        unit="G"
        decimals={1}
        words={output.words}
      />
    </div>
  );
}
