import { useQuery, useQueryClient } from '@tanstack/react-query';
import { createContext, type ReactNode, useCallback, useContext, useMemo, useState } from 'react';
import { fetchSession, NotSignedIn, type Session, signOut } from './plant-client.ts';
import { forgetDrafts } from './use-draft.ts';

interface SessionState {
  /** The session, also while it has ended and the page still shows what was typed. */
  readonly session: Session | undefined;
  /** True when the person has to sign in, for the first time or again. */
  readonly mustSignIn: boolean;
  readonly isLoading: boolean;
  readonly plantTitle: string;
  /** Why the server did not say who is signed in, when it did not. */
  readonly problem: string | undefined;
  /** Notes that the server no longer knows the session. */
  sessionEnded(): void;
  /** Reads the session anew, after signing in. */
  renew(): Promise<void>;
  leave(): Promise<void>;
}

const SessionContext = createContext<SessionState | undefined>(undefined);

/** Who is signed in. */
export function useSession(): SessionState {
  const state = useContext(SessionContext);
  if (!state) throw new Error('useSession stands outside of SessionProvider');
  return state;
}

/** Whether the person who is signed in may ask for a command. */
export function useMay(command: string): boolean {
  return useSession().session?.commands[command]?.allowed ?? false;
}

/** Keeps the session for all pages. */
export function SessionProvider({ children }: { readonly children: ReactNode }) {
  const client = useQueryClient();
  const [hasEnded, setHasEnded] = useState(false);
  const query = useQuery({
    queryKey: ['session'],
    queryFn: fetchSession,
    retry: (count, error) => !(error instanceof NotSignedIn) && count < 3,
    staleTime: 60_000,
  });
  const sessionEnded = useCallback(() => setHasEnded(true), []);
  const renew = useCallback(async () => {
    const before = client.getQueryData<Session>(['session'])?.person.person;
    await client.refetchQueries({ queryKey: ['session'] });
    const now = client.getQueryData<Session>(['session'])?.person.person;
    if (before !== undefined && before !== now) forgetDrafts();
    setHasEnded(false);
    await client.invalidateQueries({ queryKey: ['question'] });
  }, [client]);
  const leave = useCallback(async () => {
    await signOut();
    forgetDrafts();
    client.clear();
    location.assign('/');
  }, [client]);
  const isNotSignedIn = query.error instanceof NotSignedIn;
  const state = useMemo<SessionState>(
    () => ({
      session: query.data,
      mustSignIn: hasEnded || isNotSignedIn,
      isLoading: query.isPending,
      plantTitle:
        query.data?.plantTitle ??
        (query.error instanceof NotSignedIn ? query.error.plantTitle : ''),
      problem: query.error && !isNotSignedIn ? query.error.message : undefined,
      sessionEnded,
      renew,
      leave,
    }),
    [query.data, query.error, query.isPending, hasEnded, isNotSignedIn, sessionEnded, renew, leave],
  );
  return <SessionContext value={state}>{children}</SessionContext>;
}
