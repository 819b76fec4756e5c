import { Part, printNumber, TextField } from '../../../workbench/index.ts';
import type { SetAside } from '../list/list-result.ts';

/** The lines of the list that are not taken, each with the reason, which goes into the record. */
export function LinesSetAside(props: {
  readonly setAside: readonly SetAside[];
  readonly change: (setAside: readonly SetAside[]) => void;
}) {
  const { setAside, change } = props;
  if (setAside.length === 0) return null;
  return (
    <Part title={`Set aside: ${printNumber(setAside.length)} of its lines`}>
      {setAside.map(({ line, reason }) => (
        <div key={line} className="line-set-aside">
          <TextField
            label={`Why line ${line} is not taken`}
            value={reason}
            onChange={(text) =>
              change(setAside.map((one) => (one.line === line ? { line, reason: text } : one)))
            }
          />
          <button
            type="button"
            className="row-remove"
            aria-label={`Take line ${line} again`}
            onClick={() => change(setAside.filter((one) => one.line !== line))}
          >
            take it again
          </button>
        </div>
      ))}
    </Part>
  );
}
