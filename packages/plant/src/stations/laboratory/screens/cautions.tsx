/** The usual cautions of a method that can hurt, where it is done. */
export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <aside className="cautions" aria-label="Cautions">
      <h3>Before you begin</h3>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </aside>
  );
}
