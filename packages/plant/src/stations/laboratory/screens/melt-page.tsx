import {
  Drawings,
  Empty,
  Facts,
  Figure,
  LineageStrip,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  State,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';
import { MeltActs } from './melt-acts.tsx';
import { MeltEvidence } from './melt-evidence.tsx';
import type { DeskAnswer, TrialAnswer } from './trial-answer.ts';

/** The trial of one melt: every reading up to the ruling, and the act that comes next. */
export function MeltPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const { answer, problem } = useQuestion<TrialAnswer | null>('melt-trial', { melt });
  const desk = useQuestion<DeskAnswer>('laboratory-desk');
  if (answer === undefined || !desk.answer) {
    return (
      <Page title={`Melt ${melt}`}>
        <Pending problem={problem ?? desk.problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Melt ${melt}`}>
        <Empty
          what="No sample of this melt has come to the laboratory."
          how={<PathLink to="/receiving">It is ordered and drawn at receiving.</PathLink>}
        />
      </Page>
    );
  }
  const isWaiting = answer.stage.startsWith('to be');
  return (
    <Page
      title={`Melt ${melt}`}
      about={
        <>
          <State
            word={answer.stage}
            tone={answer.stage === 'held' ? 'stopped' : isWaiting ? 'waits' : 'plain'}
          />{' '}
          {answer.pieceStandardTitle} from {answer.supplierName}
        </>
      }
      known={<Known answer={answer} />}
    >
      <Verdict answer={answer} />
      <MeltActs answer={answer} instruments={desk.answer.instruments} />
      <MeltEvidence answer={answer} />
    </Page>
  );
}

/** The result that stands, or what it would be if it were signed now. */
function Verdict({ answer }: { readonly answer: TrialAnswer }) {
  const signed = answer.results.at(-1);
  const preview = answer.preview?.state === 'complete' ? answer.preview : undefined;
  const figures = preview?.figures ?? signed?.body;
  const drawing = preview?.limitRule ?? signed?.limitRule;
  if (!figures) return null;
  return (
    <>
      <p className="figure-line">
        <Figure
          value={figures.finenessPerMille}
          uncertainty={2 * figures.standardUncertaintyPerMille}
          decimals={3}
          unit="‰"
          size="result"
        />
        <span>
          <State
            word={figures.verdict}
            tone={
              figures.verdict === 'passes'
                ? 'done'
                : figures.verdict === 'fails'
                  ? 'stopped'
                  : 'look'
            }
          />
          {preview ? <span className="faint"> if it were signed now</span> : null}
        </span>
      </p>
      {drawing ? <Drawings drawings={[drawing]} /> : null}
    </>
  );
}

function Known({ answer }: { readonly answer: TrialAnswer }) {
  const { supplierValue } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Consignment',
            <ThingLink key="consignment" thing="consignment" id={answer.consignment} />,
          ],
          ['Least fineness', <Figure key="limit" value={answer.finenessLimitPerMille} unit="‰" />],
          ['Method', answer.method.replaceAll('-', ' ')],
          [
            "Supplier's value",
            supplierValue.finenessPerMille === null ? (
              supplierValue.state
            ) : (
              <Figure key="supplier" value={supplierValue.finenessPerMille} decimals={3} unit="‰" />
            ),
          ],
        ]}
      />
      <LineageStrip thing="melt" id={answer.melt} />
    </>
  );
}
