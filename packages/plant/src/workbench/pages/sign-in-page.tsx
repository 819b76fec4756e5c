import { type SubmitEvent, useEffect, useRef, useState } from 'react';
import type { Refusal } from '../../journal/refusal.ts';
import { TextField } from '../field.tsx';
import { signIn, signInFirst } from '../plant-client.ts';
import { RefusalList } from '../refusal-list.tsx';
import { useSession } from '../session.tsx';

const unreachable = (error: unknown): Refusal => ({
  refusal: 'Unreachable',
  message: (error as Error).message,
  nextStep: 'Try again when the network is back.',
  figures: {},
});

function useSigningIn(act: () => Promise<readonly Refusal[]>) {
  const { renew } = useSession();
  const [refusals, setRefusals] = useState<readonly Refusal[]>([]);
  const [isBusy, setIsBusy] = useState(false);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    setIsBusy(true);
    const found = await act().catch((error: unknown) => [unreachable(error)]);
    setRefusals(found);
    if (found.length === 0) await renew();
    setIsBusy(false);
  };
  return { refusals, isBusy, submit };
}

function SignInForm({ known }: { readonly known?: string | undefined }) {
  const [person, setPerson] = useState(known ?? '');
  const [password, setPassword] = useState('');
  const { refusals, isBusy, submit } = useSigningIn(() => signIn(person.trim(), password));
  return (
    <form onSubmit={(event) => void submit(event)} data-own-enter>
      <TextField
        label="Sign-in name"
        value={person}
        onChange={setPerson}
        autoComplete="username"
        autoFocus={!known}
      />
      <TextField
        label="Password"
        kind="password"
        value={password}
        onChange={setPassword}
        autoComplete="current-password"
        autoFocus={Boolean(known)}
      />
      <RefusalList refusals={refusals} />
      <button type="submit" className="act-button" disabled={isBusy || !person || !password}>
        Sign in
      </button>
    </form>
  );
}

function FirstSignInForm() {
  const [input, setInput] = useState({ person: '', code: '', password: '', again: '' });
  const change = (part: Partial<typeof input>) => setInput({ ...input, ...part });
  const { person, code, password, again } = input;
  const { refusals, isBusy, submit } = useSigningIn(() =>
    signInFirst({ person: person.trim(), code: code.trim(), password }),
  );
  const differs = again !== '' && again !== password ? 'The two passwords differ.' : undefined;
  return (
    <form onSubmit={(event) => void submit(event)} data-own-enter>
      <TextField
        label="Sign-in name"
        value={person}
        onChange={(text) => change({ person: text })}
        autoFocus
      />
      <TextField label="One-time code" value={code} onChange={(text) => change({ code: text })} />
      <TextField
        label="New password"
        kind="password"
        hint="At least 12 characters; a few words that belong to no sentence do well."
        value={password}
        onChange={(text) => change({ password: text })}
        autoComplete="new-password"
      />
      <TextField
        label="New password once more"
        kind="password"
        value={again}
        onChange={(text) => change({ again: text })}
        autoComplete="new-password"
        refusal={differs}
      />
      <RefusalList refusals={refusals} />
      <button
        type="submit"
        className="act-button"
        disabled={isBusy || !person || !code || !password || password !== again}
      >
        Set password and sign in
      </button>
    </form>
  );
}

/** The page on which a person signs in. */
export function SignInPage() {
  const { plantTitle } = useSession();
  const [isFirst, setIsFirst] = useState(false);
  useEffect(() => {
    document.title = 'Sign in · Cupel';
  }, []);
  return (
    <main className="sign-in">
      <div className="sign-in-sheet">
        <p className="sign-in-mark">Cupel</p>
        <h1>{plantTitle || 'Sign in'}</h1>
        {isFirst ? <FirstSignInForm /> : <SignInForm />}
        <p>
          <button type="button" className="link-button" onClick={() => setIsFirst(!isFirst)}>
            {isFirst ? 'I have a password' : 'First sign-in, with a one-time code'}
          </button>
        </p>
      </div>
    </main>
  );
}

/** Asks the person to sign in again over the page, so that nothing typed there is lost. */
export function SessionAgain() {
  const { session } = useSession();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
    dialog.current?.querySelector<HTMLInputElement>('input[type="password"]')?.focus();
  }, []);
  return (
    <dialog
      ref={dialog}
      className="dialog"
      aria-label="Sign in again"
      onCancel={(event) => event.preventDefault()}
    >
      <h2>Sign in again</h2>
      <p className="dialog-person">
        The session has ended. What you typed stays on the page behind.
      </p>
      <SignInForm known={session?.person.person} />
    </dialog>
  );
}
