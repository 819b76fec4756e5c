import { useEffect } from 'react';
import { Empty, Page, Pending } from '../page.tsx';
import { PathLink, pathTo, useGo } from '../path-link.tsx';
import type { ScreenProps } from '../screen.ts';
import { useQuestion } from '../use-question.ts';

interface FindAnswer {
  readonly code: string;
  readonly things: readonly {
    readonly thing: string;
    readonly id: string;
    readonly entries: number;
  }[];
}

/** Where a code leads: straight to the lineage of the one thing that bears it, else to a choice. */
export function FindPage({ params }: ScreenProps) {
  const code = params.code ?? '';
  const { answer, problem } = useQuestion<FindAnswer>('find-code', { code });
  const go = useGo();
  const only = answer?.things.length === 1 ? answer.things[0] : undefined;
  useEffect(() => {
    if (only) go(pathTo('/lineage/$thing/$id', { thing: only.thing, id: only.id }));
  }, [only, go]);
  if (!answer || only) {
    return (
      <Page title={code}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer.things.length === 0) {
    return (
      <Page title={code}>
        <Empty
          what={`Nothing in this plant bears the code ${code}.`}
          how="Look at the label once more, or scan it again. A thing is known from the first entry that speaks of it."
        />
      </Page>
    );
  }
  return (
    <Page title={code} about={`${answer.things.length} things bear this code`}>
      <ul className="choices">
        {answer.things.map(({ thing, id }) => (
          <li key={thing}>
            <PathLink to={pathTo('/lineage/$thing/$id', { thing, id })}>
              {thing} {id}
            </PathLink>
          </li>
        ))}
      </ul>
    </Page>
  );
}
