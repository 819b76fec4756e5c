import {
  ChoiceField,
  FieldRow,
  type ReadingDraft,
  ReadingField,
  TextField,
} from '../../../../workbench/index.ts';
import type { ReportDraft } from '../reported/screens/report-draft.ts';
import { ReportFields } from '../reported/screens/report-fields.tsx';
import type { Recipient } from '../words.ts';
import type { PortionAnswer } from './answer-shapes.ts';
import type { PortionAct } from './portion-acts.ts';

/** What is done with a portion, while it is put together. */
export interface ActDraft {
  readonly act: PortionAct;
  readonly sealFound: string;
  readonly document: string;
  readonly answerBy: string;
  readonly to: Recipient | '';
  readonly reason: string;
  readonly place: string;
  readonly keptUntil: string;
  readonly gross: ReadingDraft;
  readonly instrument: string;
  readonly blanks: readonly string[];
  readonly report: ReportDraft;
}

interface FieldsProps {
  readonly answer: PortionAnswer;
  readonly draft: ActDraft;
  readonly change: (part: Partial<ActDraft>) => void;
  readonly refusalAt: (field: string) => string | undefined;
}

/** The fields of the act in hand. */
export function ActFields(props: FieldsProps) {
  const { answer, draft, change, refusalAt } = props;
  const { act } = draft;
  if (act === 'report') {
    return (
      <ReportFields
        draft={draft.report}
        change={(part) => change({ report: { ...draft.report, ...part } })}
        isCorrection={answer.sent?.isReported ?? false}
        refusalAt={refusalAt}
      />
    );
  }
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
        {act === 'send' ? (
          <TextField
            label="Answer by"
            kind="date"
            value={draft.answerBy}
            onChange={(answerBy) => change({ answerBy })}
            optional
            refusal={refusalAt('answerBy')}
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
