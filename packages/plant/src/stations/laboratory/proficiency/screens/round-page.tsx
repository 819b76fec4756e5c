import { useState } from 'react';
import {
  ChoiceField,
  Drawings,
  Empty,
  Facts,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  printInstant,
  printNumber,
  type ScreenProps,
  State,
  TextField,
  useCommand,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import { roundFindings } from '../bodies.ts';
import type { RoundAnswer } from './round-answer.ts';

/** One round: its scores, its place in the history, and what was found about its signals. */
export function RoundPage({ params }: ScreenProps) {
  const round = params['round'] ?? '';
  const { answer, problem } = useQuestion<RoundAnswer | null>('proficiency-round', { round });
  const title = `Round ${round}`;
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="No round of this name has been recorded."
          how={<PathLink to="/laboratory/proficiency">All rounds</PathLink>}
        />
      </Page>
    );
  }
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  return <Round answer={answer} />;
}

function Round({ answer }: { readonly answer: RoundAnswer }) {
  const [finding, setFinding] = useState<(typeof roundFindings)[number]>('no cause found');
  const [reason, setReason] = useState('');
  const reply = useCommand('answer-proficiency-round');
  const may = useMay('answer-proficiency-round');
  const { open, round } = answer;
  const isAsked = open.length > 0 && may;
  return (
    <Page
      title={`Round ${round}`}
      about={`${answer.scheme} · ${answer.item} · ${answer.characteristic}`}
      known={<Known answer={answer} />}
      act={
        isAsked ? (
          <MainAct
            label="Answer signal"
            command={reply}
            notYet={reason.trim().length < 3 ? 'Say what was looked at and found.' : undefined}
            input={() => ({ round, finding, reason })}
          />
        ) : undefined
      }
    >
      {open.map((signal) => (
        <p key={signal} className="still-missing">
          <State word={signal} tone="look" />
        </p>
      ))}
      {isAsked ? (
        <Part title="What was found">
          <ChoiceField
            label="Finding"
            value={finding}
            choices={roundFindings.map((one) => ({ value: one, label: one }))}
            onChange={setFinding}
          />
          <TextField
            label="Reason"
            value={reason}
            onChange={setReason}
            refusal={reply.refusalAt('reason')}
          />
        </Part>
      ) : null}
      {answer.answered ? (
        <Part title={`Answered: ${answer.answered.finding}`}>
          <p>{answer.answered.reason}</p>
          <p className="faint">
            <PeopleNamed author={answer.answered.author} />, {printInstant(answer.answered.instant)}
          </p>
        </Part>
      ) : null}
      <p>{String(answer.scores.output['words'])}</p>
      <Drawings drawings={answer.drawings} />
      <Part title="Among the other rounds">
        <Drawings drawings={answer.historyDrawings} />
        <p>{answer.historyWords}</p>
      </Part>
    </Page>
  );
}

function Known({ answer }: { readonly answer: RoundAnswer }) {
  const score = (value: number | null) => (value === null ? 'none stated' : printNumber(value, 2));
  return (
    <>
      <Facts
        facts={[
          ['Verdict', answer.verdict],
          ['z', score(answer.z)],
          ['z′', score(answer.zPrime)],
          ['ζ', score(answer.zeta)],
          ['En', score(answer.en)],
          ['Own result', `${printNumber(answer.own.value)} ${answer.unit}`],
          ['Day of the report', answer.day],
          ['Other participants', printNumber(answer.others.length)],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${answer.entry}`}>
              {answer.entry}
            </PathLink>,
          ],
        ]}
      />
      <p>
        <PathLink to="/laboratory/proficiency">All rounds</PathLink>
      </p>
    </>
  );
}
