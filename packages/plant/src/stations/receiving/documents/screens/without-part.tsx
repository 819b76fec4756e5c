import {
  CommandForm,
  Part,
  PathLink,
  printInstant,
  State,
  useMay,
} from '../../../../workbench/index.ts';
import type { CertificatesAnswer } from './certified-melts.tsx';

/** Melts for which a certificate is waited, and those that go without one. */
export function WithoutPart({ answer }: { readonly answer: CertificatesAnswer }) {
  const { consignment, awaited, forgone } = answer;
  const may = useMay('go-without-certificate');
  if (awaited.length === 0 && forgone.length === 0) return null;
  return (
    <Part title="Without a certificate">
      {awaited.length > 0 ? (
        <p>
          <State word={`Waited for: ${awaited.join(', ')}`} tone="waits" />
        </p>
      ) : null}
      {forgone.length > 0 ? (
        <ul className="plain-list">
          {forgone.map(({ melt, reason, entry, instant }) => (
            <li key={melt}>
              {melt} goes without,{' '}
              <PathLink to={`/journal/${entry}`}>{printInstant(instant)}</PathLink>
              <p className="faint">{reason}</p>
            </li>
          ))}
        </ul>
      ) : null}
      {may && awaited.length > 0 ? (
        <details className="act-fold">
          <summary>Go without</summary>
          <CommandForm
            key={awaited.join(' ')}
            command="go-without-certificate"
            label="Go without certificate"
            given={{ consignment }}
            initial={{ melts: [...awaited] }}
          />
        </details>
      ) : null}
    </Part>
  );
}
