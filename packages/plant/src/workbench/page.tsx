import { type KeyboardEvent, type ReactNode, useEffect } from 'react';
import { goOn } from './form-order.ts';
import { useGoBack } from './path-link.tsx';

interface PageProps {
  readonly title: string;
  /** One line under the title: the state, the standard, whose. */
  readonly about?: ReactNode;
  /** The work: left two thirds. */
  readonly children: ReactNode;
  /** The page's one `MainAct`. */
  readonly act?: ReactNode;
  /** What is known about the thing in hand: right third, below on narrow screens. */
  readonly known?: ReactNode;
}

function onEnter(event: KeyboardEvent<HTMLElement>): void {
  const { target } = event;
  if (event.key !== 'Enter' || event.defaultPrevented) return;
  if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement)) return;
  if (target.closest('dialog, [data-own-enter]')) return;
  event.preventDefault();
  goOn(target);
}

/** A page: the work in two thirds, what is known in the third beside it, the main act bottom right. */
export function Page({ title, about, children, act, known }: PageProps) {
  const goBack = useGoBack();
  useEffect(() => {
    document.title = `${title} · Cupel`;
  }, [title]);
  useEffect(() => {
    const onEscape = (event: globalThis.KeyboardEvent) => {
      if (event.key !== 'Escape' || event.defaultPrevented) return;
      if (document.querySelector('dialog[open]')) return;
      goBack();
    };
    window.addEventListener('keydown', onEscape);
    return () => window.removeEventListener('keydown', onEscape);
  });
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter is heard as it comes up from the fields
    <div className={`page${known ? ' page-with-known' : ''}`} onKeyDown={onEnter}>
      <div className="work">
        <header className="page-head">
          <h1>{title}</h1>
          {about ? <div className="page-about">{about}</div> : null}
        </header>
        {children}
        {act}
      </div>
      {known ? (
        <aside className="known" aria-label="What is known">
          <details open>
            <summary>What is known</summary>
            {known}
          </details>
        </aside>
      ) : null}
    </div>
  );
}

/** A part of the work under its own heading. */
export function Part(props: {
  readonly title: string;
  readonly aside?: ReactNode;
  readonly children: ReactNode;
}) {
  return (
    <section className="part">
      <div className="part-head">
        <h2>{props.title}</h2>
        {props.aside}
      </div>
      {props.children}
    </section>
  );
}

/** Short facts, each with its name: for the known third and the heads of pages. */
export function Facts({ facts }: { readonly facts: readonly (readonly [string, ReactNode])[] }) {
  return (
    <dl className="facts">
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** What stands where nothing is yet: what will be here and how to bring the first one. */
export function Empty(props: { readonly what: string; readonly how: ReactNode }) {
  return (
    <div className="empty">
      <p className="empty-what">{props.what}</p>
      <p className="empty-how">{props.how}</p>
    </div>
  );
}

/** What stands while an answer is on its way, or when it does not come. */
export function Pending({ problem }: { readonly problem?: string | undefined }) {
  if (problem === undefined) return <p className="pending">Reading the books …</p>;
  return (
    <div className="refusals" role="alert">
      <p className="refusal-message">{problem}</p>
      <p className="refusal-next">The page asks again by itself as soon as it can.</p>
    </div>
  );
}
