import { CommandForm } from '../../../workbench/index.ts';
import type { ConsignmentAnswer } from './desk-answer.ts';

const acts = [
  ['stop-drum', 'Stop a drum'],
  ['tally-drum', 'Tally a drum by hand'],
  ['return-drum', 'Send a drum back'],
] as const;

/** Acts on a drum that may be needed at any time before the samples are ordered. */
export function OtherActs(props: {
  readonly answer: ConsignmentAnswer;
  /** The drum in hand. */
  readonly drum?: string | undefined;
  /** The act that the page asks for itself. */
  readonly without?: (typeof acts)[number][0];
}) {
  const { answer, drum = '' } = props;
  if (answer.state !== 'announced' || answer.next.command === null) return null;
  return (
    <div>
      {acts
        .filter(([command]) => command !== props.without)
        .map(([command, label]) => (
          <details className="act-fold" key={command}>
            <summary>{label}</summary>
            <CommandForm key={drum} command={command} initial={{ drum }} />
          </details>
        ))}
    </div>
  );
}
