import { useState } from 'react';
import { Page, Part, State } from '../../../workbench/index.ts';
import type { CertificateVerification } from '../verify-certificate.ts';

/** Checks a certificate's record in the browser: nothing is sent, so it works without the plant. */
export function VerifyPage() {
  const [found, setFound] = useState<CertificateVerification | undefined>(undefined);
  const [state, setState] = useState('');
  const check = async (file: File | undefined) => {
    if (!file) return;
    setState(`Checking ${file.name} …`);
    setFound(undefined);
    // Loaded only here: every calculation of the catalogue comes with it.
    const { verifyCertificate } = await import('../verify-certificate.ts');
    setFound(await verifyCertificate(await file.text()));
    setState('');
  };
  return (
    <Page
      title="Verify a certificate"
      about="Signatures, proofs and every figure are checked here in the browser; the file is sent nowhere."
    >
      <div className="field">
        <label htmlFor="certificate-file">Record of the certificate (signed JSON)</label>
        <input
          id="certificate-file"
          type="file"
          accept=".json,application/json,application/jose+json"
          onChange={(event) => void check(event.target.files?.[0])}
        />
      </div>
      <p role="status">{state}</p>
      {found ? <Found found={found} /> : null}
    </Page>
  );
}

function Found({ found }: { readonly found: CertificateVerification }) {
  const failures = found.checks.filter((check) => !check.holds);
  const shown = found.holds ? found.checks : failures;
  return (
    <Part
      title={
        found.holds
          ? `Certificate ${found.certificate} holds.`
          : `The certificate does not hold: ${failures.length} of ${found.checks.length} checks fail.`
      }
    >
      <ul className="plain-list">
        {shown.map((check) => (
          <li key={`${check.check} ${check.words}`}>
            <State
              word={check.holds ? 'holds' : 'does not hold'}
              tone={check.holds ? 'done' : 'stopped'}
            />{' '}
            {check.words}
          </li>
        ))}
      </ul>
      {found.publicKey ? (
        <p className="faint">
          Signed with the key <code>{found.publicKey}</code>; hold it against the plant’s.
        </p>
      ) : null}
    </Part>
  );
}
