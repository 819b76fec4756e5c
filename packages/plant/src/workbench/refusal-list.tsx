import type { Refusal } from '../journal/refusal.ts';

/** Refusals in full sentences, with what to do next: once where the same follows from several. */
export function RefusalList({ refusals }: { readonly refusals: readonly Refusal[] }) {
  if (refusals.length === 0) return null;
  return (
    <div role="alert">
      <ul className="refusals">
        {refusals.map((refusal, index) => (
          <li key={`${refusal.refusal} ${refusal.message}`}>
            <p className="refusal-message">{refusal.message}</p>
            {refusal.nextStep === refusals[index + 1]?.nextStep ? null : (
              <p className="refusal-next">{refusal.nextStep}</p>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}
