import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { type ChartState, chartsOf } from './chart-queries.ts';
import { namesOfChart } from './chart-subjects.ts';

/** Since when a chart signals: the newest point of the signal that was complete first. */
function sinceOf({ open, points, row }: ChartState): string {
  const ends = open.map((signal) => Math.max(...signal.points));
  const first = points.find((point) => point.number === Math.min(...ends));
  return first?.instant ?? row.newestInstant;
}

function signalPaper(state: ChartState): DocketPaper {
  const { row, open, reading } = state;
  const { title } = namesOfChart(row);
  const words = `${title.slice(0, 1).toLowerCase()}${title.slice(1)}`;
  const of = row.of ? words : `${words} for ${row.pieceStandard}`;
  const isProvisional = reading.state === 'judged' && reading.limits.isProvisional;
  const limits = isProvisional
    ? ` The limits are provisional: they rest on ${reading.limits.points} points so far.`
    : '';
  const rules = [...new Set(open.map((signal) => signal.rule))].join(', ');
  return {
    paper: `laboratory/chart/${row.chart}`,
    station: 'laboratory',
    what: `The chart of the ${of} signals: ${rules}.`,
    why: `${open.map((signal) => signal.words).join(' ')}${limits}`,
    holdsUp: 'Nothing; the next runs may carry the same fault.',
    act: 'Answer signal',
    path: `/laboratory/charts/${encodeURIComponent(row.chart)}`,
    since: sinceOf(state),
    weight: 'look',
  };
}

/** The charts whose signals wait for somebody to look into them. */
export async function chartDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const states = await chartsOf(books);
  return states.filter((state) => state.open.length > 0).map(signalPaper);
}
