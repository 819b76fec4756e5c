import { type SubmitEvent, useEffect, useRef, useState } from 'react';
import { TextField } from './field.tsx';
import type { CommandDescription, Signing } from './plant-client.ts';
import { useSession } from './session.tsx';

/**
 * Asks for the secrets that sign an act: the author's own password and, where two are needed, the
 * second person with his own. Nothing typed here is kept.
 */
export function SignDialog(props: {
  readonly description: Pick<CommandDescription, 'signature' | 'witnessRoles'>;
  /** The act that is signed, by verb and object. */
  readonly act: string;
  readonly onSign: (signing: Signing) => void;
  readonly onClose: () => void;
}) {
  const { session } = useSession();
  const dialog = useRef<HTMLDialogElement>(null);
  const [password, setPassword] = useState('');
  const [witness, setWitness] = useState({ person: '', password: '' });
  const needsWitness = props.description.signature === 'author and witness';
  const { witnessRoles } = props.description;
  useEffect(() => dialog.current?.showModal(), []);

  const isWhole = password !== '' && (!needsWitness || (witness.person && witness.password));
  const sign = (event: SubmitEvent) => {
    event.preventDefault();
    if (!isWhole) return;
    props.onSign(needsWitness ? { signature: { password }, witness } : { signature: { password } });
  };
  return (
    <dialog ref={dialog} className="dialog" onClose={props.onClose} aria-label={props.act}>
      <form method="dialog" onSubmit={sign}>
        <h2>{props.act}</h2>
        <p className="dialog-person">{session?.person.name} signs</p>
        <TextField
          label="Your password"
          kind="password"
          value={password}
          onChange={setPassword}
          autoComplete="current-password"
          autoFocus
        />
        {needsWitness ? (
          <>
            <p className="dialog-person">
              The second person signs
              {witnessRoles.length > 0 ? (
                <span className="faint"> ({witnessRoles.join(' or ')})</span>
              ) : null}
            </p>
            <TextField
              label="Sign-in name of the second person"
              kind="text"
              value={witness.person}
              onChange={(person) => setWitness({ ...witness, person })}
            />
            <TextField
              label="Password of the second person"
              kind="password"
              value={witness.password}
              onChange={(text) => setWitness({ ...witness, password: text })}
            />
          </>
        ) : null}
        <div className="dialog-acts">
          <button type="button" className="quiet-button" onClick={() => dialog.current?.close()}>
            Go back
          </button>
          <button type="submit" className="act-button" disabled={!isWhole}>
            {props.act}
          </button>
        </div>
      </form>
    </dialog>
  );
}
