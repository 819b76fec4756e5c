import {
  ChoiceField,
  CommandForm,
  FieldRow,
  type KeptDocument,
  KeptFileField,
  MainAct,
  Part,
  TextField,
  useCommand,
  useDraft,
} from '../../../../workbench/index.ts';
import { settlements, supplierAnswers } from '../words.ts';
import type { DifferenceAnswer } from './answer-shapes.ts';
import { DifferenceFrame } from './difference-frame.tsx';
import { gramsText, microgramsOf, piecesOf } from './signed.ts';

type Answer = (typeof supplierAnswers)[number];
type How = (typeof settlements)[number];

interface AnswerDraft {
  readonly answer: Answer | '';
  readonly document: string;
  readonly file: KeptDocument | null;
  readonly words: string;
}

function AnswerFields(props: {
  readonly command: ReturnType<typeof useCommand>;
  readonly draft: AnswerDraft;
  readonly change: (part: Partial<AnswerDraft>) => void;
}) {
  const { command, draft, change } = props;
  return (
    <>
      <ChoiceField
        label="He says it is"
        value={draft.answer}
        choices={supplierAnswers.map((value) => ({ value, label: value }))}
        onChange={(answer) => change({ answer })}
        refusal={command.refusalAt('answer')}
      />
      <FieldRow>
        <TextField
          label="Document"
          value={draft.document}
          onChange={(document) => change({ document })}
          hint="Letter or message in which he says so."
          refusal={command.refusalAt('document')}
        />
        <KeptFileField
          label="The document itself"
          value={draft.file}
          onChange={(file) => change({ file })}
          optional
        />
      </FieldRow>
      <TextField
        label="In his words"
        kind="long"
        value={draft.words}
        onChange={(words) => change({ words })}
        refusal={command.refusalAt('words')}
      />
    </>
  );
}

const emptyAnswer: AnswerDraft = { answer: '', document: '', file: null, words: '' };

/** The supplier has been told; his answer comes next. */
export function RecordAnswer({ answer }: { readonly answer: DifferenceAnswer }) {
  const { difference } = answer;
  const [draft, change, clear] = useDraft(`answer ${difference}`, emptyAnswer);
  const record = useCommand('record-answer', { onRecorded: clear });
  const isComplete = draft.answer !== '' && draft.document !== '' && draft.words !== '';
  return (
    <DifferenceFrame
      answer={answer}
      act={
        <MainAct
          label="Record answer"
          command={record}
          input={() => ({ difference, ...draft })}
          notYet={isComplete ? undefined : `The supplier answers by ${answer.answerDue}.`}
        />
      }
    >
      <Part title="What the supplier answers">
        <AnswerFields command={record} draft={draft} change={change} />
      </Part>
      <Withdraw answer={answer} />
    </DifferenceFrame>
  );
}

/** Nothing is owed: settled without waiting for an answer. */
function Withdraw({ answer }: { readonly answer: DifferenceAnswer }) {
  const lines = answer.lines.map(({ thing, id }) => ({
    thing,
    id,
    agreedPieces: 0,
    agreedMicrograms: 0,
    how: 'withdrawn',
  }));
  return (
    <details className="act-fold">
      <summary>Withdraw it</summary>
      <CommandForm
        command="settle-difference"
        label="Withdraw difference"
        given={{ difference: answer.difference, lines }}
      />
    </details>
  );
}

interface LineDraft {
  readonly pieces: string;
  readonly grams: string;
  readonly how: How | '';
}

const nameOf = ({ thing, id }: { readonly thing: string; readonly id: string }) => `${thing} ${id}`;

function startOf(answer: DifferenceAnswer): Readonly<Record<string, LineDraft>> {
  return Object.fromEntries(
    answer.lines.map((line) => [
      nameOf(line),
      {
        pieces: String(line.differencePieces),
        grams: gramsText(line.differenceMicrograms ?? 0),
        how: '' as const,
      },
    ]),
  );
}

const noLine: LineDraft = { pieces: '0', grams: '0', how: '' };

/** Two people agree with the supplier, drum by drum and melt by melt. */
export function SettleDifference({ answer }: { readonly answer: DifferenceAnswer }) {
  const { difference } = answer;
  const [draft, change, clear] = useDraft(`settle ${difference}`, {
    lines: startOf(answer),
    document: '',
    words: '',
  });
  const settle = useCommand('settle-difference', { onRecorded: clear });
  const lineOf = (name: string) => draft.lines[name] ?? noLine;
  const put = (name: string, part: Partial<LineDraft>) =>
    change({ lines: { ...draft.lines, [name]: { ...lineOf(name), ...part } } });
  const isComplete =
    draft.document !== '' && answer.lines.every((line) => lineOf(nameOf(line)).how !== '');
  return (
    <DifferenceFrame
      answer={answer}
      act={
        <MainAct
          label="Settle difference"
          command={settle}
          input={() => ({
            difference,
            lines: answer.lines.map(({ thing, id }) => {
              const { pieces, grams, how } = lineOf(nameOf({ thing, id }));
              const isNothing = how === 'withdrawn';
              return {
                thing,
                id,
                agreedPieces: isNothing ? 0 : piecesOf(pieces),
                agreedMicrograms: isNothing ? 0 : microgramsOf(grams),
                how,
              };
            }),
            document: draft.document,
            words: draft.words,
          })}
          notYet={isComplete ? undefined : 'Say for each line how it is settled, and the document.'}
        />
      }
    >
      {settle.description?.allowed === false ? null : (
        <Part title="What is agreed">
          {answer.lines.map((line, index) => (
            <LineAgreed
              key={nameOf(line)}
              name={nameOf(line)}
              line={lineOf(nameOf(line))}
              put={(part) => put(nameOf(line), part)}
              refusalAt={(field) => settle.refusalAt(`lines.${index}.${field}`)}
            />
          ))}
          <TextField
            label="Document"
            value={draft.document}
            onChange={(document) => change({ document })}
            hint="In which both sides agree."
            refusal={settle.refusalAt('document')}
          />
          <TextField
            label="On what it rests"
            kind="long"
            value={draft.words}
            onChange={(words) => change({ words })}
            refusal={settle.refusalAt('words')}
          />
        </Part>
      )}
    </DifferenceFrame>
  );
}

function LineAgreed(props: {
  readonly name: string;
  readonly line: LineDraft;
  readonly put: (part: Partial<LineDraft>) => void;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { name, line, put, refusalAt } = props;
  const title = `${name[0]?.toUpperCase()}${name.slice(1)}`;
  return (
    <fieldset className="settled-line">
      <legend>{title}</legend>
      <ChoiceField
        label="How"
        value={line.how}
        choices={settlements.map((value) => ({ value, label: value }))}
        onChange={(how) => put({ how })}
      />
      {line.how === 'withdrawn' ? null : (
        <FieldRow>
          <TextField
            label="Pieces agreed"
            value={line.pieces}
            onChange={(pieces) => put({ pieces })}
            hint="Below 0: missing."
            unit="pieces"
            refusal={refusalAt('agreedPieces')}
          />
          <TextField
            label="Net agreed"
            value={line.grams}
            onChange={(grams) => put({ grams })}
            unit="g"
            refusal={refusalAt('agreedMicrograms')}
          />
        </FieldRow>
      )}
    </fieldset>
  );
}
