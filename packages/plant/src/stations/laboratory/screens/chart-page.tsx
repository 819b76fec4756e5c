import {
  Empty,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import { AnswerSignal } from './answer-signal.tsx';
import type { ChartAnswer } from './chart-answer.ts';
import { ChartFrame } from './chart-frame.tsx';

/** One control chart: its drawing, its signals, and the run behind every point. */
export function ChartPage({ params }: ScreenProps) {
  const chart = params['chart'] ?? '';
  const { answer, problem } = useQuestion<ChartAnswer | null>('control-chart', { chart });
  const may = useMay('answer-chart-signal');
  if (answer === null) {
    return (
      <Page title={`Chart ${chart}`}>
        <Empty
          what="There is no control chart of this name."
          how={<PathLink to="/laboratory/charts">All control charts</PathLink>}
        />
      </Page>
    );
  }
  if (!answer) {
    return (
      <Page title={`Chart ${chart}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  return answer.open.length > 0 && may ? (
    <AnswerSignal answer={answer} />
  ) : (
    <ChartFrame answer={answer} />
  );
}
