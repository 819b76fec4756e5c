import {
  Empty,
  Facts,
  Page,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  pathTo,
  printInstant,
  type ScreenProps,
  ThingLink,
  useQuestion,
} from '../../../../workbench/index.ts';
import { attachmentPath } from '../../../../workbench/plant-client.ts';
import type { ResultFileRow } from '../books.ts';
import { CalibrationParts } from './calibration-shown.tsx';
import { ElementTable } from './element-table.tsx';

/** The file that a difference run was taken from: elements, calibration and drift. */
export function ResultFilePage({ params }: ScreenProps) {
  const assayRun = params['run'] ?? '';
  const { answer, problem } = useQuestion<ResultFileRow | null>('result-file', { assayRun });
  const title = `Result file of run ${assayRun}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="This run was not taken from a file."
          how={<PathLink to="/laboratory">Its readings stand with its melt.</PathLink>}
        />
      </Page>
    );
  }
  return (
    <Page
      title={title}
      about={`Melt ${answer.melt}, ${answer.file.name}`}
      known={<Known {...answer} />}
    >
      {answer.reason ? (
        <Part title="Answered for">
          {answer.figures.doubts.map((doubt) => (
            <p key={doubt} className="table-doubt">
              {doubt}
            </p>
          ))}
          <p>{answer.reason}</p>
        </Part>
      ) : null}
      <ElementTable figures={answer.figures} />
      <CalibrationParts figures={answer.figures} />
      {answer.setAside.length > 0 ? (
        <Part title="Lines set aside">
          <ul className="plain-list">
            {answer.setAside.map(({ line, reason }) => (
              <li key={line}>
                Line {line}: {reason}
              </li>
            ))}
          </ul>
        </Part>
      ) : null}
    </Page>
  );
}

function Known(answer: ResultFileRow) {
  return (
    <Facts
      facts={[
        [
          'Melt',
          <PathLink key="melt" to={pathTo('/laboratory/melts/$melt', { melt: answer.melt })}>
            {answer.melt}
          </PathLink>,
        ],
        ['Spectrometer', <ThingLink key="instrument" thing="instrument" id={answer.instrument} />],
        [
          'Taken by',
          <span key="author">
            <PeopleNamed author={answer.author} />, {printInstant(answer.instant)}
          </span>,
        ],
        [
          'Entry',
          <PathLink key="entry" to={`/journal/${answer.entry}`}>
            {answer.entry}
          </PathLink>,
        ],
        [
          'File',
          <a key="file" className="link" href={attachmentPath(answer.sha256)}>
            {answer.file.name}
          </a>,
        ],
        ['SHA-256', <code key="hash">{answer.sha256}</code>],
      ]}
    />
  );
}
