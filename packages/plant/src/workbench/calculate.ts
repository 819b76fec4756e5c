import type { CalculationAnswer } from '@cupel/calculation';

export type WorkerMessage =
  | { readonly partDone: number }
  | { readonly answer: CalculationAnswer }
  | { readonly fault: string };

/** A calculation that was begun in the browser. */
export interface Calculating {
  readonly answer: Promise<CalculationAnswer>;
  /** Ends the work at once; the answer then never comes. */
  readonly stop: () => void;
}

/** Runs a calculation of the catalogue beside the page; `onProgress` hears the part done, 0 to 1. */
export function calculate(
  id: string,
  input: unknown,
  onProgress: (partDone: number) => void,
): Calculating {
  const worker = new Worker(new URL('./calculation-worker.ts', import.meta.url), {
    type: 'module',
  });
  const answer = new Promise<CalculationAnswer>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<WorkerMessage>) => {
      if ('partDone' in data) return onProgress(data.partDone);
      worker.terminate();
      if ('answer' in data) resolve(data.answer);
      else reject(new Error(data.fault));
    };
    worker.onerror = () => reject(new Error('The calculation could not be run in this browser.'));
    worker.postMessage({ id, input });
  });
  return { answer, stop: () => worker.terminate() };
}
