import type { ReactNode } from 'react';
import {
  ChoiceField,
  Empty,
  emptyReading,
  Facts,
  Figure,
  LineageStrip,
  MainAct,
  Mass,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  readingOf,
  type ScreenProps,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ExchangeAnswer } from '../reported/screens/exchange-answer.ts';
import { ExchangeComparison } from '../reported/screens/exchange-shown.tsx';
import { emptyReport, reportInputOf } from '../reported/screens/report-draft.ts';
import type { PortionAnswer } from './answer-shapes.ts';
import { actsOf, type PortionAct, portionActs } from './portion-acts.ts';
import { type ActDraft, ActFields } from './portion-fields.tsx';
import { KeptUntil, PortionStateShown } from './portions-table.tsx';

/** One sealed portion, with what can be done with it now. */
export function PortionPage({ params }: ScreenProps) {
  const portion = params['portion'] ?? '';
  const { answer, problem } = useQuestion<PortionAnswer | null>('portion', { portion });
  if (answer === undefined) {
    return (
      <Page title={`Portion ${portion}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Portion ${portion}`}>
        <Empty
          what="No portion of this name was sealed."
          how={<PathLink to="/receiving/portions">All sealed portions.</PathLink>}
        />
      </Page>
    );
  }
  const [first] = actsOf(answer);
  return first ? <PortionInHand answer={answer} first={first} /> : <Frame answer={answer} />;
}

function Frame(props: {
  readonly answer: PortionAnswer;
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}) {
  const { answer } = props;
  return (
    <Page
      title={`Portion ${answer.portion}`}
      about={
        <>
          For the {answer.for}, of melt {answer.melt} <PortionStateShown state={answer.state} />
        </>
      }
      known={<Known answer={answer} />}
      act={props.act}
    >
      <Facts
        facts={[
          ['Blanks', <Figure key="pieces" value={answer.pieces} size="result" />],
          ['Mass', <Mass key="mass" micrograms={answer.grossMicrograms} unit="g" size="result" />],
          ['Kept until', <KeptUntil key="kept" row={answer} />],
          ['Place', answer.place],
        ]}
      />
      {props.children}
      {answer.sent?.isReported ? <Found answer={answer} /> : null}
    </Page>
  );
}

/** What the other side found, held against the plant's own result. */
function Found({ answer: { melt } }: { readonly answer: PortionAnswer }) {
  const { answer } = useQuestion<ExchangeAnswer | null>('melt-exchange', { melt });
  if (!answer) return null;
  return (
    <Part
      title="Exchange of assays"
      aside={
        <PathLink to={pathTo('/receiving/melts/$melt/exchange', { melt })}>
          All results of melt {melt}
        </PathLink>
      }
    >
      <ExchangeComparison answer={answer} />
    </Part>
  );
}

function Known({ answer }: { readonly answer: PortionAnswer }) {
  return (
    <>
      <Facts
        facts={[
          ['Sealed', printInstant(answer.sealedAt)],
          ['Stands so since', printInstant(answer.since)],
          [
            'Melt',
            <PathLink
              key="melt"
              to={pathTo('/receiving/melts/$melt/portions', { melt: answer.melt })}
            >
              {answer.melt}
            </PathLink>,
          ],
          ...(answer.document === null ? [] : [['Sent with', answer.document] as const]),
          ...(answer.sent?.answerBy ? [['Answer by', answer.sent.answerBy] as const] : []),
        ]}
      />
      {answer.sent === null ? null : (
        <p>
          <PaperLink paper="portion-note" id={answer.portion}>
            Print the note that goes with it
          </PaperLink>
        </p>
      )}
      <ul className="plain-list">
        {answer.blanks.map((blank) => (
          <li key={blank}>
            <ThingLink thing="blank" id={blank} />
          </li>
        ))}
      </ul>
      {answer.gone.length === 0 ? null : (
        <p className="faint">Did not come back: {answer.gone.join(', ')}</p>
      )}
      <LineageStrip thing="portion" id={answer.portion} />
    </>
  );
}

const orNothing = (text: string): string | null => (text === '' ? null : text);

/** The input of the act in hand. */
function inputOf(answer: PortionAnswer, draft: ActDraft): object {
  const { portion } = answer;
  const { sealFound, document, reason, instrument } = draft;
  switch (draft.act) {
    case 'send':
      return {
        portion,
        to: draft.to,
        sealFound,
        document,
        answerBy: orNothing(draft.answerBy),
      };
    case 'takeBack':
      return {
        portion,
        sealFound: orNothing(sealFound),
        blanks: draft.blanks,
        gross: readingOf(draft.gross),
        instrument,
        document,
      };
    case 'report':
      return reportInputOf(portion, draft.report, answer.sent?.isReported ?? false);
    case 'keep':
      return { portion, place: draft.place, keptUntil: orNothing(draft.keptUntil), reason };
    case 'discard':
      return { portion, sealFound: answer.state === 'sealed' ? sealFound : null, reason };
    case 'open':
    case 'return':
      return { portion, sealFound, reason };
  }
}

function PortionInHand(props: { readonly answer: PortionAnswer; readonly first: PortionAct }) {
  const { answer, first } = props;
  const [stored, change, clear] = useDraft<ActDraft>(`portion ${answer.portion}`, {
    act: first,
    sealFound: '',
    document: '',
    answerBy: '',
    to: answer.recipients.length === 1 ? (answer.recipients[0] ?? '') : '',
    reason: '',
    place: answer.place,
    keptUntil: answer.keptUntil ?? '',
    gross: emptyReading('g'),
    instrument: answer.balances[0]?.instrument ?? '',
    blanks: [],
    report: emptyReport,
  });
  const acts = actsOf(answer);
  const draft = acts.includes(stored.act) ? stored : { ...stored, act: first };
  const { command: name, label } = portionActs[draft.act];
  const command = useCommand(name, { onRecorded: clear });
  return (
    <Frame
      answer={answer}
      act={<MainAct label={label} command={command} input={() => inputOf(answer, draft)} />}
    >
      <Part title="What is done">
        <ChoiceField
          label="The portion is in hand to"
          value={draft.act}
          choices={acts.map((value) => ({ value, label: portionActs[value].title }))}
          onChange={(act) => {
            command.reset();
            change({ act });
          }}
        />
        <ActFields answer={answer} draft={draft} change={change} refusalAt={command.refusalAt} />
      </Part>
    </Frame>
  );
}
