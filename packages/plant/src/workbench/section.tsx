import { type ReactNode, useEffect, useRef, useState } from 'react';
import { hashOf, isNamedByHash } from './section-hash.ts';

/** Calls when the address names that place, at first and whenever its part behind # changes. */
function useNamed(id: string, onNamed: () => void): void {
  const latest = useRef(onNamed);
  latest.current = onNamed;
  useEffect(() => {
    const go = () => {
      if (isNamedByHash(window.location.hash, id)) latest.current();
    };
    go();
    window.addEventListener('hashchange', go);
    return () => window.removeEventListener('hashchange', go);
  }, [id]);
}

/** A place on a long page with an address of its own behind #, for what is no section itself. */
export function SectionPlace(props: { readonly id: string; readonly children: ReactNode }) {
  const place = useRef<HTMLDivElement>(null);
  useNamed(props.id, () => place.current?.scrollIntoView({ block: 'start' }));
  return (
    <div ref={place} id={props.id} className="section-place">
      {props.children}
    </div>
  );
}

/**
 * A section of a long page, with an address of its own behind #. One whose work is finished is
 * folded to a line that says what came of it.
 */
export function Section(props: {
  readonly id: string;
  readonly title: string;
  readonly isFinished: boolean;
  /** What came of it, in one line. */
  readonly result: ReactNode;
  readonly aside?: ReactNode;
  readonly children: ReactNode;
}) {
  const { id, title, result, aside, children } = props;
  // What a person or an address said; until then it is open while its work goes on.
  const [said, say] = useState<boolean | undefined>(undefined);
  const isOpen = said ?? !props.isFinished;
  const place = useRef<HTMLDetailsElement>(null);
  useNamed(id, () => {
    say(true);
    place.current?.scrollIntoView({ block: 'start' });
  });
  return (
    <details
      ref={place}
      id={id}
      className="section"
      open={isOpen}
      onToggle={({ currentTarget }) => currentTarget.open !== isOpen && say(currentTarget.open)}
    >
      <summary>
        <h2>{title}</h2>
        {isOpen ? null : <span className="section-result">{result}</span>}
      </summary>
      <div className="section-work">
        {aside ? <div className="section-aside">{aside}</div> : null}
        {children}
      </div>
    </details>
  );
}

/** The sections of a long page as links, above them. */
export function PageContents(props: {
  readonly sections: readonly { readonly id: string; readonly title: string }[];
}) {
  const { sections } = props;
  if (sections.length < 2) return null;
  return (
    <nav className="page-contents" aria-label="On this page">
      <ul>
        {sections.map(({ id, title }) => (
          <li key={id}>
            <a className="link" href={hashOf(id)}>
              {title}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}
