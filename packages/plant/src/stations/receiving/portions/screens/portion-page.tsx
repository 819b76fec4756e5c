import type { ReactNode } from 'react';
import {
  ChoiceField,
  Empty,
  emptyReading,
  Facts,
  FieldRow,
  Figure,
  LineageStrip,
  MainAct,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  type ReadingDraft,
  ReadingField,
  readingOf,
  type ScreenProps,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { Recipient } from '../words.ts';
import type { PortionAnswer } from './answer-shapes.ts';
import { actsOf, type PortionAct, portionActs } from './portion-acts.ts';
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
    </Page>
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
        ]}
      />
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

interface ActDraft {
  readonly act: PortionAct;
  readonly sealFound: string;
  readonly document: string;
  readonly to: Recipient | '';
  readonly reason: string;
  readonly place: string;
  readonly keptUntil: string;
  readonly gross: ReadingDraft;
  readonly instrument: string;
  readonly blanks: readonly string[];
}

const orNothing = (text: string): string | null => (text === '' ? null : text);

/** The input of the act in hand. */
function inputOf(answer: PortionAnswer, draft: ActDraft): object {
  const { portion } = answer;
  const { sealFound, document, reason, instrument } = draft;
  switch (draft.act) {
    case 'send':
      return { portion, to: draft.to, sealFound, document };
    case 'takeBack':
      return {
        portion,
        sealFound: orNothing(sealFound),
        blanks: draft.blanks,
        gross: readingOf(draft.gross),
        instrument,
        document,
      };
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
    to: answer.recipients.length === 1 ? (answer.recipients[0] ?? '') : '',
    reason: '',
    place: answer.place,
    keptUntil: answer.keptUntil ?? '',
    gross: emptyReading('g'),
    instrument: answer.balances[0]?.instrument ?? '',
    blanks: [],
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

interface FieldsProps {
  readonly answer: PortionAnswer;
  readonly draft: ActDraft;
  readonly change: (part: Partial<ActDraft>) => void;
  readonly refusalAt: (field: string) => string | undefined;
}

function ActFields(props: FieldsProps) {
  const { answer, draft, change, refusalAt } = props;
  const { act } = draft;
  const seesSeal = act !== 'keep' && !(act === 'discard' && answer.state !== 'sealed');
  return (
    <>
      {act === 'send' ? (
        <ChoiceField
          label="To the"
          value={draft.to}
          choices={answer.recipients.map((value) => ({ value, label: value }))}
          onChange={(to) => change({ to })}
          refusal={refusalAt('to')}
        />
      ) : null}
      <FieldRow>
        {seesSeal ? (
          <TextField
            label="Seal found"
            kind="code"
            value={draft.sealFound}
            onChange={(sealFound) => change({ sealFound })}
            optional={act === 'takeBack'}
            hint="As it stands on the portion."
            refusal={refusalAt('sealFound')}
          />
        ) : null}
        {act === 'send' || act === 'takeBack' ? (
          <TextField
            label="Document"
            value={draft.document}
            onChange={(document) => change({ document })}
            refusal={refusalAt('document')}
          />
        ) : null}
      </FieldRow>
      {act === 'takeBack' ? <BackFields {...props} /> : null}
      {act === 'keep' ? (
        <FieldRow>
          <TextField
            label="Place"
            value={draft.place}
            onChange={(place) => change({ place })}
            refusal={refusalAt('place')}
          />
          <TextField
            label="Kept until"
            kind="date"
            value={draft.keptUntil}
            onChange={(keptUntil) => change({ keptUntil })}
            optional={answer.for !== 'reserve'}
            refusal={refusalAt('keptUntil')}
          />
        </FieldRow>
      ) : null}
      {act === 'send' || act === 'takeBack' ? null : (
        <TextField
          label="Why"
          kind="long"
          value={draft.reason}
          onChange={(reason) => change({ reason })}
          refusal={refusalAt('reason')}
        />
      )}
    </>
  );
}

/** What of a portion came back: its whole blanks and their grams. */
function BackFields({ answer, draft, change, refusalAt }: FieldsProps) {
  return (
    <>
      {answer.blanks.length === 0 ? null : (
        <fieldset className="field">
          <legend>Blanks that came back whole</legend>
          <div className="difference-choice">
            {answer.blanks.map((blank) => (
              <label key={blank} className="choice-one">
                <input
                  type="checkbox"
                  checked={draft.blanks.includes(blank)}
                  onChange={(event) =>
                    change({
                      blanks: answer.blanks.filter((one) =>
                        one === blank ? event.target.checked : draft.blanks.includes(one),
                      ),
                    })
                  }
                />
                <span>{blank}</span>
              </label>
            ))}
          </div>
        </fieldset>
      )}
      <ReadingField
        label="Mass of all that came back"
        large
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        refusal={refusalAt('gross') ?? refusalAt('gross.text')}
      />
      <ChoiceField
        label="Balance"
        value={draft.instrument}
        choices={answer.balances.map(({ instrument, title }) => ({
          value: instrument,
          label: `${title} (${instrument})`,
        }))}
        onChange={(instrument) => change({ instrument })}
        refusal={refusalAt('instrument')}
      />
    </>
  );
}
