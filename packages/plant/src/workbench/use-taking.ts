import { useCallback, useRef, useState } from 'react';
import { type SentReading, takeReading } from './plant-client.ts';

/** Asking an instrument for a stable reading, from a field. */
export interface Taking {
  readonly isAsking: boolean;
  /** Why no reading came, in a sentence with the next step. */
  readonly problem: string | undefined;
  take(): void;
  /** Forgets why no reading came. */
  forget(): void;
}

/** Asks an instrument; what it sends goes to `onSent`. */
export function useTaking(
  instrument: string | undefined,
  onSent: (sent: SentReading) => void,
): Taking {
  const [isAsking, setIsAsking] = useState(false);
  const [problem, setProblem] = useState<string | undefined>(undefined);
  const asking = useRef(false);
  const sent = useRef(onSent);
  sent.current = onSent;
  const take = useCallback(() => {
    if (instrument === undefined || asking.current) return;
    asking.current = true;
    setIsAsking(true);
    setProblem(undefined);
    takeReading(instrument)
      .then((answer) => {
        if ('refusals' in answer) {
          const [first] = answer.refusals;
          setProblem(first ? `${first.message} ${first.nextStep}` : undefined);
        } else {
          sent.current(answer);
        }
      })
      .catch((error: Error) => setProblem(error.message))
      .finally(() => {
        asking.current = false;
        setIsAsking(false);
      });
  }, [instrument]);
  const forget = useCallback(() => setProblem(undefined), []);
  return { isAsking, problem, take, forget };
}
