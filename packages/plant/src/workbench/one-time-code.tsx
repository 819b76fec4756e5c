import { type SubmitEvent, useState } from 'react';
import type { Refusal } from '../journal/refusal.ts';
import { TextField } from './field.tsx';
import { printInstant } from './number-text.ts';
import { makeOneTimeCode } from './plant-client.ts';
import { RefusalList } from './refusal-list.tsx';
import { useSession } from './session.tsx';

/** Gives an enrolled person the code for the first sign-in. Only the chief assayer is offered it. */
export function OneTimeCode({ person, name }: { readonly person: string; readonly name: string }) {
  const { session } = useSession();
  const [password, setPassword] = useState('');
  const [made, setMade] = useState<{ code: string; until: string } | undefined>(undefined);
  const [refusals, setRefusals] = useState<readonly Refusal[]>([]);
  if (!session?.person.roles.includes('chief assayer')) return null;
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    try {
      const answer = await makeOneTimeCode(person, password);
      setRefusals('refusals' in answer ? answer.refusals : []);
      setMade('refusals' in answer ? undefined : answer);
      setPassword('');
    } catch (error) {
      const { message } = error as Error;
      setRefusals([{ refusal: 'NotAnswered', message, nextStep: 'Try again.', figures: {} }]);
    }
  };
  if (made) {
    return (
      <div role="status">
        <p>
          {name} signs in once with this code, until {printInstant(made.until)}. It is not shown
          again.
        </p>
        <p className="one-time-code">{made.code}</p>
      </div>
    );
  }
  return (
    <form className="narrow" onSubmit={(event) => void submit(event)} data-own-enter>
      <TextField
        label="Your password"
        kind="password"
        hint={`Signs that ${name} may set a new password.`}
        value={password}
        onChange={setPassword}
        autoComplete="current-password"
      />
      <RefusalList refusals={refusals} />
      <button type="submit" className="quiet-button" disabled={!password}>
        Give a one-time code
      </button>
    </form>
  );
}
