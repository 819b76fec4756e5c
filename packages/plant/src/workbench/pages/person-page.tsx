import { type SubmitEvent, useState } from 'react';
import type { Refusal } from '../../journal/refusal.ts';
import { BenchChoice } from '../bench-instruments.tsx';
import { TextField } from '../field.tsx';
import { Facts, Page, Part } from '../page.tsx';
import { changePassword } from '../plant-client.ts';
import { RefusalList } from '../refusal-list.tsx';
import { useSession } from '../session.tsx';
import { ThemeButton } from '../theme.tsx';

/** The page of whoever is signed in: roles, look, password, leaving. */
export function PersonPage() {
  const { session, leave } = useSession();
  return (
    <Page
      title={session?.person.name ?? ''}
      about={session?.person.roles.join(', ')}
      known={
        <Facts
          facts={[
            ['Sign-in name', session?.person.person],
            ['Plant', session?.plantTitle],
          ]}
        />
      }
    >
      <Part title="This place">
        <p className="button-row">
          <ThemeButton />
          <button type="button" className="act-button" onClick={() => void leave()}>
            Sign out
          </button>
        </p>
      </Part>
      <Part title="Instruments at this bench">
        <BenchChoice />
      </Part>
      <Part title="Password">
        <PasswordForm />
      </Part>
    </Page>
  );
}

function PasswordForm() {
  const [password, setPassword] = useState('');
  const [next, setNext] = useState('');
  const [refusals, setRefusals] = useState<readonly Refusal[]>([]);
  const [isChanged, setIsChanged] = useState(false);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const found = await changePassword(password, next);
    setRefusals(found);
    setIsChanged(found.length === 0);
    if (found.length === 0) {
      setPassword('');
      setNext('');
    }
  };
  return (
    <form className="narrow" onSubmit={(event) => void submit(event)} data-own-enter>
      <TextField
        label="Present password"
        kind="password"
        value={password}
        onChange={setPassword}
        autoComplete="current-password"
      />
      <TextField
        label="New password"
        kind="password"
        hint="At least 12 characters. Other sessions of yours end."
        value={next}
        onChange={setNext}
        autoComplete="new-password"
      />
      <RefusalList refusals={refusals} />
      <p role="status">{isChanged ? '✓ The password is changed.' : ''}</p>
      <button type="submit" className="quiet-button" disabled={!password || !next}>
        Change password
      </button>
    </form>
  );
}
