import { Link, useNavigate, useRouter } from '@tanstack/react-router';
import type { ReactNode } from 'react';
import { placeTitle } from '../journal/place.ts';

/**
 * A path with its named parts filled in and encoded: `pathTo('/lineage/$thing/$id', { thing: 'blank',
 * id: 'M-1/3' })`. Ids may hold a slash.
 */
export function pathTo(pattern: string, params: Readonly<Record<string, string>> = {}): string {
  return pattern.replace(/\$([A-Za-z]+)/g, (_whole, name: string) => {
    const value = params[name];
    if (value === undefined) throw new RangeError(`${pattern} needs ${name}`);
    return encodeURIComponent(value);
  });
}

/** A link inside the workbench, by its path. */
export function PathLink(props: {
  readonly to: string;
  readonly children: ReactNode;
  readonly className?: string;
}) {
  return (
    <Link to={props.to as string} className={props.className ?? 'link'}>
      {props.children}
    </Link>
  );
}

/** A thing by its id; following it opens the thing's lineage. */
export function ThingLink({ thing, id }: { readonly thing: string; readonly id: string }) {
  return (
    <PathLink to={pathTo('/lineage/$thing/$id', { thing, id })} className="link thing-link">
      {thing === 'place' ? placeTitle(id) : id}
    </PathLink>
  );
}

/** Goes to a path of the workbench. */
export function useGo(): (to: string) => void {
  const navigate = useNavigate();
  return (to) => void navigate({ to });
}

/** Goes back to the page before; to the docket when there is none. */
export function useGoBack(): () => void {
  const router = useRouter();
  return () => {
    if (router.history.canGoBack()) router.history.back();
    else void router.navigate({ to: '/' });
  };
}
