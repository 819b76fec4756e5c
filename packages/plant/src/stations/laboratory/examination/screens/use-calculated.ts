import { useEffect, useState } from 'react';
import { calculate } from '../../../../workbench/calculate.ts';

/** What a calculation found, while it works, or why it found nothing. */
export type CalculatedHere<Output> =
  | { readonly state: 'none' }
  | { readonly state: 'working' }
  | { readonly state: 'found'; readonly output: Output }
  | { readonly state: 'refused'; readonly words: string };

/** Pauses in typing that are shorter begin no calculation. */
const pauseMilliseconds = 250;

/** A calculation of the catalogue, done beside the page while its input is typed. */
export function useCalculated<Output extends object>(
  id: string,
  input: object | undefined,
  /** Whether what was found last stays while the next is looked for, so that nothing flickers. */
  whileWorking: 'last' | 'nothing' = 'last',
): CalculatedHere<Output> {
  const [found, setFound] = useState<CalculatedHere<Output>>({ state: 'none' });
  const text = input ? JSON.stringify(input) : '';
  useEffect(() => {
    if (text === '') {
      setFound({ state: 'none' });
      return;
    }
    let isCurrent = true;
    let stop: (() => void) | undefined;
    setFound((before) =>
      whileWorking === 'last' && before.state === 'found' ? before : { state: 'working' },
    );
    const pause = setTimeout(() => {
      const work = calculate(id, JSON.parse(text), () => undefined);
      stop = work.stop;
      work.answer.then(
        (answer) => {
          if (isCurrent) setFound(foundIn<Output>(answer));
        },
        (error: Error) => {
          if (isCurrent) setFound({ state: 'refused', words: error.message });
        },
      );
    }, pauseMilliseconds);
    return () => {
      isCurrent = false;
      clearTimeout(pause);
      stop?.();
    };
  }, [id, text, whileWorking]);
  return found;
}

function foundIn<Output>(
  answer: Awaited<ReturnType<typeof calculate>['answer']>,
): CalculatedHere<Output> {
  if (answer.outcome === 'computed') {
    return { state: 'found', output: answer.output as unknown as Output };
  }
  const words = answer.problems
    .map(({ value, accepted }) => `It is ${String(value)}; accepted is ${accepted}.`)
    .join(' ');
  return { state: 'refused', words };
}
