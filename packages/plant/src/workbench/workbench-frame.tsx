import { Outlet } from '@tanstack/react-router';
import { type SubmitEvent, useEffect, useRef, useState } from 'react';
import { BenchReadings } from './bench-instruments.tsx';
import { Line, type LineAnswer, type LineStation } from './line.tsx';
import { LiveUpdates, useIsInTouch } from './live-updates.tsx';
import { SessionAgain, SignInPage } from './pages/sign-in-page.tsx';
import { PathLink, pathTo, useGo } from './path-link.tsx';
import { ScanCatcher } from './scan-catcher.tsx';
import { useSession } from './session.tsx';
import { useQuestion } from './use-question.ts';

/** A page that is reached from the head of every page, beside the line. */
export interface Desk {
  readonly title: string;
  readonly path: string;
}

interface FrameProps {
  readonly stations: readonly LineStation[];
  readonly aside: readonly LineStation[];
  readonly desks: readonly Desk[];
}

/** What stands around every page: who is here, the desks, the line. */
export function WorkbenchFrame(props: FrameProps) {
  const { session, mustSignIn, problem } = useSession();
  if (!session) {
    if (mustSignIn) return <SignInPage />;
    return <p className="pending pending-page">{problem ?? 'Asking the plant who is here …'}</p>;
  }
  return (
    <LiveUpdates>
      <SignedInFrame {...props} />
      {mustSignIn ? <SessionAgain /> : null}
    </LiveUpdates>
  );
}

function SignedInFrame({ stations, aside, desks }: FrameProps) {
  const go = useGo();
  return (
    <ScanCatcher onCode={(code) => go(pathTo('/find/$code', { code }))}>
      <a className="skip-link" href="#work">
        To the work
      </a>
      <header className="head">
        <div className="head-bar">
          <Mark />
          <Desks desks={desks} />
          <CodeField />
          <PersonLink />
        </div>
        <Line stations={stations} aside={aside} />
        <OutOfTouch />
        <BenchReadings />
      </header>
      <main id="work" tabIndex={-1}>
        <Outlet />
      </main>
    </ScanCatcher>
  );
}

function Mark() {
  const { plantTitle } = useSession();
  return (
    <PathLink to="/" className="mark">
      <span className="mark-name">Cupel</span>
      <span className="mark-plant">{plantTitle}</span>
    </PathLink>
  );
}

function Desks({ desks }: { readonly desks: readonly Desk[] }) {
  const { answer } = useQuestion<LineAnswer>('line');
  const waiting = answer?.waiting ?? 0;
  return (
    <nav className="desks" aria-label="Desks">
      <PathLink to="/" className="desk-link">
        Docket{waiting > 0 ? <span className="desk-count"> {waiting}</span> : null}
      </PathLink>
      {desks.map((desk) => (
        <PathLink key={desk.path} to={desk.path} className="desk-link">
          {desk.title}
        </PathLink>
      ))}
    </nav>
  );
}

/** A code typed by hand, where no scanner is at hand; Control and K lead to it. */
function CodeField() {
  const go = useGo();
  const [code, setCode] = useState('');
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'k' || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      input.current?.focus();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
  const find = (event: SubmitEvent) => {
    event.preventDefault();
    if (code.trim() === '') return;
    go(pathTo('/find/$code', { code: code.trim() }));
    setCode('');
  };
  return (
    <search>
      <form className="code-form" onSubmit={find}>
        <input
          ref={input}
          value={code}
          onChange={(event) => setCode(event.target.value)}
          aria-label="Code of a thing"
          aria-keyshortcuts="Control+K"
          placeholder="Scan or type a code"
          spellCheck={false}
          autoComplete="off"
        />
      </form>
    </search>
  );
}

function PersonLink() {
  const { session } = useSession();
  return (
    <PathLink to="/me" className="person-link">
      <span>{session?.person.name}</span>
      <span className="faint">{session?.person.roles.join(', ')}</span>
    </PathLink>
  );
}

function OutOfTouch() {
  const isInTouch = useIsInTouch();
  if (isInTouch) return null;
  return (
    <p className="out-of-touch" role="status">
      △ Out of touch with the plant’s server: figures may be old. What you type stays here.
    </p>
  );
}
