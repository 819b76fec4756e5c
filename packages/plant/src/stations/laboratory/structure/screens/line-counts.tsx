import { Figure, printNumber } from '../../../../workbench/index.ts';
import {
  countOf,
  type Mark,
  markCounts,
  micrometresPerPixel,
  pixelsOf,
  type Scale,
  type TestLine,
} from '../picture-marks.ts';

const countWords = { 1: 'crossed or touched', 0.5: 'the line ends on it', 1.5: 'triple point' };

/** The next of the counts that a mark may have. */
function nextCount({ counts }: Mark): Mark['counts'] {
  const at = markCounts.indexOf(counts);
  return markCounts[(at + 1) % markCounts.length] ?? 1;
}

/** What was counted on each test line, mark by mark; by keyboard too. */
export function LineCounts(props: {
  readonly lines: readonly TestLine[];
  readonly scale: Scale | undefined;
  /** Nothing where they are only looked at. */
  readonly onLines?: (lines: readonly TestLine[]) => void;
  readonly refusalAt?: (index: number) => string | undefined;
}) {
  const { lines, scale, onLines, refusalAt } = props;
  if (lines.length === 0) return null;
  const put = (at: number, line: TestLine) =>
    onLines?.(lines.map((one, index) => (index === at ? line : one)));
  return (
    <div className="table-scroll">
      <table className="entry-table line-counts">
        <thead>
          <tr>
            <th scope="col">Line</th>
            <th scope="col">
              Length<span className="column-unit"> µm</span>
            </th>
            <th scope="col">Counted</th>
            <th scope="col">Marks</th>
            {onLines ? (
              <th scope="col">
                <span className="unseen">Take away</span>
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {lines.map((line, index) => (
            <tr key={line.label}>
              <th scope="row">{line.label}</th>
              <td className="number">
                {scale ? (
                  <Figure value={pixelsOf(line) * micrometresPerPixel(scale)} decimals={0} />
                ) : (
                  '–'
                )}
              </td>
              <td className="number">{printNumber(countOf(line))}</td>
              <td>
                <LineMarks line={line} onLine={onLines ? (one) => put(index, one) : undefined} />
                {refusalAt?.(index) ? <p className="field-refusal">{refusalAt(index)}</p> : null}
              </td>
              {onLines ? (
                <td>
                  <button
                    type="button"
                    className="row-remove"
                    aria-label={`Take line ${line.label} away`}
                    onClick={() => onLines(lines.filter((_one, at) => at !== index))}
                  >
                    Take away
                  </button>
                </td>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The marks of a line; each can be given another count. */
function LineMarks(props: {
  readonly line: TestLine;
  readonly onLine: ((line: TestLine) => void) | undefined;
}) {
  const { line, onLine } = props;
  if (!onLine) {
    const other = line.marks.filter(({ counts }) => counts !== 1);
    return other.map(({ at, counts }) => <span key={at}>{countWords[counts]} </span>);
  }
  return (
    <span className="line-marks">
      {line.marks.map((mark, index) => (
        <button
          key={mark.at}
          type="button"
          className="mark-button"
          title={countWords[mark.counts]}
          aria-label={`Mark ${index + 1} of ${line.label}, ${countWords[mark.counts]}; change`}
          onClick={() =>
            onLine({
              ...line,
              marks: line.marks.map((one) =>
                one === mark ? { ...one, counts: nextCount(one) } : one,
              ),
            })
          }
        >
          {mark.counts === 1 ? '1' : mark.counts === 0.5 ? '½' : '1½'}
        </button>
      ))}
    </span>
  );
}
