import type { ReactNode } from 'react';
import {
  Empty,
  Facts,
  Metal,
  Page,
  PathLink,
  Pending,
  pathTo,
  State,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ExaminationsAnswer } from './examination-answer.ts';

/** A page on which one quality of the blanks of a melt is examined, once its melt is known. */
export function ExaminationPage(props: {
  readonly melt: string;
  readonly title: string;
  readonly children: (answer: ExaminationsAnswer) => ReactNode;
}) {
  const { melt, title } = props;
  const { answer, problem } = useQuestion<ExaminationsAnswer | null>('melt-examinations', { melt });
  if (answer) return props.children(answer);
  return (
    <Page title={title}>
      {answer === null ? (
        <Empty
          what="No sample of this melt has come to the laboratory."
          how={<PathLink to="/receiving">It is ordered and drawn at receiving.</PathLink>}
        />
      ) : (
        <Pending problem={problem} />
      )}
    </Page>
  );
}

/** The frame around the sheet in hand. */
export function ExaminationFrame(props: {
  readonly title: string;
  readonly answer: ExaminationsAnswer;
  readonly act: ReactNode;
  readonly children: ReactNode;
}) {
  const { answer } = props;
  const { melt, metal, pieceStandardTitle, isOpen } = answer;
  return (
    <Page
      title={props.title}
      about={
        <>
          <Metal metal={metal} /> {pieceStandardTitle}
          {isOpen ? null : (
            <>
              {' '}
              · <State word="the melt is ruled on" tone="look" />
            </>
          )}
        </>
      }
      known={
        <Facts
          facts={[
            [
              'Melt',
              <PathLink key="melt" to={pathTo('/laboratory/melts/$melt', { melt })}>
                {melt}
              </PathLink>,
            ],
            ['Blanks of the sample', String(answer.blanks.length)],
            ['Examined so far', String(answer.examinations.length)],
          ]}
        />
      }
      act={props.act}
    >
      {props.children}
    </Page>
  );
}
