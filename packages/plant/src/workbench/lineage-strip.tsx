import { PathLink, pathTo } from './path-link.tsx';
import { useQuestion } from './use-question.ts';

/** One thing of a lineage, with how many steps lie between it and the thing asked for. */
export interface Relative {
  readonly thing: string;
  readonly id: string;
  readonly depth: number;
}

/** What the question `lineage` answers. */
export interface Lineage {
  readonly thing: string;
  readonly id: string;
  readonly isKnown: boolean;
  readonly ancestors: readonly Relative[];
  readonly descendants: readonly Relative[];
  readonly descents: readonly {
    readonly parent: { readonly thing: string; readonly id: string };
    readonly child: { readonly thing: string; readonly id: string };
    readonly entry: number;
  }[];
  readonly isCut: boolean;
  readonly entries: readonly {
    readonly number: number;
    readonly kind: string;
    readonly instant: string;
    readonly shift: string;
    readonly station: string;
    readonly author: string;
    readonly witness: string | null;
    readonly corrects: number | null;
    readonly reason: string | null;
    readonly meaning: string;
  }[];
}

/** A thing's lineage in short, for the known third: what it came out of and what came out of it. */
export function LineageStrip({ thing, id }: { readonly thing: string; readonly id: string }) {
  const { answer } = useQuestion<Lineage>('lineage', { thing, id });
  if (!answer?.isKnown) return null;
  const shown = 4;
  const before = answer.ancestors.toSorted((a, b) => b.depth - a.depth).slice(-shown);
  const after = answer.descendants.slice(0, shown);
  const more = answer.descendants.length - after.length;
  const link = (relative: { thing: string; id: string }) => (
    <PathLink to={pathTo('/lineage/$thing/$id', { thing: relative.thing, id: relative.id })}>
      <span className="faint">{relative.thing.replaceAll('-', ' ')}</span> {relative.id}
    </PathLink>
  );
  return (
    <ol className="lineage-strip" aria-label={`Lineage of ${thing} ${id}`}>
      {before.map((relative) => (
        <li key={`${relative.thing} ${relative.id}`}>{link(relative)}</li>
      ))}
      <li className="lineage-own" aria-current="true">
        {link({ thing, id })}
      </li>
      {after.map((relative) => (
        <li key={`${relative.thing} ${relative.id}`}>{link(relative)}</li>
      ))}
      {more > 0 ? <li className="faint">and {more} more</li> : null}
    </ol>
  );
}
