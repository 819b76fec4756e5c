import { useEffect, useRef } from 'react';
import {
  ChoiceField,
  MainAct,
  Part,
  printNumber,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { faultKindNames, faultKinds } from '../fault-kinds.ts';
import type { Ranking } from '../ranking.ts';

const otherCause = 'another cause';

interface EndDraft {
  readonly end: string;
  readonly cause: string;
  readonly kind: string;
  readonly proof: string;
}

/** Says how a search ended: with a cause that is proved, or without one. */
export function EndSearch(props: { readonly search: string; readonly ranking: Ranking }) {
  const { search, ranking } = props;
  const [draft, change, clear] = useDraft<EndDraft>(`end ${search}`, {
    end: 'cause confirmed',
    // The most probable one: what somebody saw is in the ranking.
    cause: ranking.faults[0]?.name ?? otherCause,
    kind: 'something else',
    proof: '',
  });
  const command = useCommand('end-search', { onRecorded: clear });
  const form = useRef<HTMLDivElement>(null);
  useEffect(() => {
    form.current?.scrollIntoView({ block: 'start' });
  }, []);
  const isConfirmed = draft.end === 'cause confirmed';
  const isOther = draft.cause === otherCause;
  const causes = [
    ...ranking.faults.slice(0, 12).map(({ name, words, probability }) => ({
      value: name,
      label: `${words} (${printNumber(Number((100 * probability).toPrecision(3)))} %)`,
    })),
    { value: otherCause, label: otherCause },
  ];
  return (
    <div ref={form}>
      <Part title="End this search">
        <ChoiceField
          label="End"
          value={draft.end}
          choices={[
            { value: 'cause confirmed', label: 'cause confirmed' },
            { value: 'left unresolved', label: 'left unresolved' },
          ]}
          onChange={(end) => change({ end })}
          refusal={command.refusalAt('end')}
        />
        {isConfirmed ? (
          <ChoiceField
            label="Cause"
            value={draft.cause}
            choices={causes}
            onChange={(cause) => change({ cause })}
            refusal={command.refusalAt('cause')}
          />
        ) : null}
        {isConfirmed && isOther ? (
          <ChoiceField
            label="Kind of fault"
            value={draft.kind}
            choices={faultKindNames.map((kind) => ({ value: kind, label: faultKinds[kind].title }))}
            onChange={(kind) => change({ kind })}
            refusal={command.refusalAt('kind')}
          />
        ) : null}
        <TextField
          label="Proof"
          kind="long"
          value={draft.proof}
          onChange={(proof) => change({ proof })}
          hint="What was found, where, and by whom. The correcting entry is one of its own."
          refusal={command.refusalAt('proof')}
        />
        <MainAct
          label="End search"
          command={command}
          notYet={draft.proof.trim() === '' ? 'Say what was found and how it is known.' : undefined}
          input={() => ({
            search,
            end: draft.end,
            cause: isConfirmed && !isOther ? draft.cause : null,
            kind: isConfirmed && isOther ? draft.kind : null,
            proof: draft.proof,
          })}
        />
      </Part>
    </div>
  );
}
