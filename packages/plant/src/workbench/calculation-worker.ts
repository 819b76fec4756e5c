import { answerInSteps, calculationById } from '@cupel/calculation';
import type { WorkerMessage } from './calculate.ts';

/** Between two messages about the progress pass so many milliseconds at least. */
const quietMilliseconds = 80;

const say = (message: WorkerMessage): void => globalThis.postMessage(message);

/** Calculates beside the page, so that it stays alive under the hand and can stop the work. */
globalThis.addEventListener('message', (event: MessageEvent<{ id: string; input: unknown }>) => {
  try {
    const steps = answerInSteps(calculationById(event.data.id), event.data.input);
    let said = performance.now();
    let step = steps.next();
    while (!step.done) {
      if (performance.now() - said > quietMilliseconds) {
        say({ partDone: step.value });
        said = performance.now();
      }
      step = steps.next();
    }
    say({ answer: step.value });
  } catch (error) {
    say({ fault: (error as Error).message });
  }
});
