import type { Refusal } from '../journal/refusal.ts';

/** Refusals in full sentences, each with what to do next. */
export function RefusalList({ refusals }: { readonly refusals: readonly Refusal[] }) {
  if (refusals.length === 0) return null;
  return (
    <div role="alert">
      <ul className="refusals">
        {refusals.map((refusal) => (
          <li key={`${refusal.refusal} ${refusal.message}`}>
            <p className="refusal-message">{refusal.message}</p>
            <p className="refusal-next">{refusal.nextStep}</p>
          </li>
        ))}
      </ul>
    </div>
  );
}
