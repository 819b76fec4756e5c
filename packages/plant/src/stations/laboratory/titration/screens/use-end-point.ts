import type { EndPointInput, EndPointOutput } from '@cupel/calculation';
import { useEffect, useState } from 'react';
import { calculate } from '../../../../workbench/calculate.ts';
import type { CurvePoint } from '../read-curve.ts';

/** What the calculation found on a curve, while it works, or why it found nothing. */
export type FoundEndPoint =
  | { readonly state: 'none' }
  | { readonly state: 'working' }
  | { readonly state: 'found'; readonly output: EndPointOutput }
  | { readonly state: 'refused'; readonly words: string };

/** Limits are stated at this level, as the record states them. */
const confidencePercent = 95;

/** Pauses in typing that are shorter begin no calculation. */
const pauseMilliseconds = 250;

/** The end point of a curve, found beside the page while it is typed. */
export function useEndPoint(
  points: readonly CurvePoint[] | undefined,
  method: EndPointInput['method'] | undefined,
  buretteUncertainty: number,
): FoundEndPoint {
  const [found, setFound] = useState<FoundEndPoint>({ state: 'none' });
  const text =
    points && method
      ? JSON.stringify({
          curve: points,
          method,
          volumeStandardUncertaintyMillilitres: buretteUncertainty,
          confidencePercent,
        })
      : '';
  useEffect(() => {
    if (text === '') {
      setFound({ state: 'none' });
      return;
    }
    let isCurrent = true;
    let stop: (() => void) | undefined;
    setFound({ state: 'working' });
    const pause = setTimeout(() => {
      const work = calculate('end-point', JSON.parse(text), () => undefined);
      stop = work.stop;
      work.answer.then(
        (answer) => {
          if (isCurrent) setFound(foundIn(answer));
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
  }, [text]);
  return found;
}

function foundIn(answer: Awaited<ReturnType<typeof calculate>['answer']>): FoundEndPoint {
  if (answer.outcome === 'computed') {
    return { state: 'found', output: answer.output as unknown as EndPointOutput };
  }
  const words = answer.problems
    .map(({ value, accepted }) => `It is ${String(value)}; accepted is ${accepted}.`)
    .join(' ');
  return { state: 'refused', words };
}
