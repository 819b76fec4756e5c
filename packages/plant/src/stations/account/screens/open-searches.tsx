import { PathLink, pathTo, useQuestion } from '../../../workbench/index.ts';

/** What the list of searches says of one, as far as a link needs it. */
interface ListedSearch {
  readonly search: string;
  readonly state: string;
  readonly pieceStandard: string;
}

/** The searches that are open, of one piece standard or of all. */
function useOpenSearches(pieceStandard?: string): readonly ListedSearch[] {
  const { answer } = useQuestion<{ readonly searches: readonly ListedSearch[] }>('searches');
  return (answer?.searches ?? []).filter(
    (one) =>
      one.state === 'open' && (pieceStandard === undefined || one.pieceStandard === pieceStandard),
  );
}

const SearchLink = ({ search }: { readonly search: string }) => (
  <PathLink to={pathTo('/search/$search', { search })}>Search {search}</PathLink>
);

/** On the balance desk: the searches that go on, for everybody who looks. */
export function OpenSearches() {
  const open = useOpenSearches();
  if (open.length === 0) return null;
  return (
    <div>
      <h3>Open searches</h3>
      <ul className="plain-list">
        {open.map(({ search, pieceStandard }) => (
          <li key={search}>
            <SearchLink search={search} /> <span className="faint">{pieceStandard}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Where pieces differ: the search for them, or where one is begun. */
export function SearchForThem({ pieceStandard }: { readonly pieceStandard: string }) {
  const [open] = useOpenSearches(pieceStandard);
  return (
    <p>
      {open ? (
        <>
          <SearchLink search={open.search} /> says where to look first.
        </>
      ) : (
        <PathLink to="/search">Open a search: it says where to look first.</PathLink>
      )}
    </p>
  );
}
