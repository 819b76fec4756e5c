import { useQuery } from '@tanstack/react-query';
import { askQuestion, NotSignedIn } from './plant-client.ts';

/** What is known of an answer at this moment. */
export interface Asked<Answer> {
  /** The newest answer; undefined until the first one has come. */
  readonly answer: Answer | undefined;
  readonly isAsking: boolean;
  /** Why there is no newer answer, in words. */
  readonly problem: string | undefined;
}

/**
 * Asks a question of the books and asks again whenever anyone records anything. Give `undefined` as
 * input while it cannot be asked yet.
 */
export function useQuestion<Answer>(question: string, ...given: [input?: unknown]): Asked<Answer> {
  // An input that is not known yet is not the same as a question without one.
  const input = given.length === 0 ? {} : given[0];
  const query = useQuery({
    queryKey: ['question', question, input],
    queryFn: () => askQuestion<Answer>(question, input),
    enabled: input !== undefined,
    retry: (count, error) => !(error instanceof NotSignedIn) && count < 2,
  });
  return {
    answer: query.data,
    isAsking: query.isFetching,
    problem: query.error && !(query.error instanceof NotSignedIn) ? query.error.message : undefined,
  };
}
