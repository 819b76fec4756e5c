import { Empty, Page } from '../page.tsx';
import { PathLink } from '../path-link.tsx';

/** The page of an address that leads nowhere. */
export function NotFoundPage() {
  return (
    <Page title="Nothing is kept at this address">
      <Empty
        what="The address leads to no page of this plant."
        how={
          <>
            Go to <PathLink to="/">the docket</PathLink>, choose a station on the line above, or
            scan a code.
          </>
        }
      />
    </Page>
  );
}

/** The page that stands where a page broke. What was typed is kept. */
export function BrokenPage({ error }: { readonly error: unknown }) {
  return (
    <Page title="This page broke">
      <div className="refusals" role="alert">
        <p className="refusal-message">
          The page could not be shown: {error instanceof Error ? error.message : String(error)}
        </p>
        <p className="refusal-next">
          Nothing recorded is touched, and what you typed is kept. Load the page again; if it breaks
          again, tell who looks after the plant’s computer.
        </p>
      </div>
      <button type="button" className="quiet-button" onClick={() => location.reload()}>
        Load again
      </button>
    </Page>
  );
}
