import { parentPort } from 'node:worker_threads';
import { answerInSteps, calculationById } from '@cupel/calculation';

/** A thread of its own for calculations, so that a long one keeps nobody from recording. */
parentPort?.on('message', ({ id, input }: { id: string; input: unknown }) => {
  try {
    const steps = answerInSteps(calculationById(id), input);
    let step = steps.next();
    while (!step.done) step = steps.next();
    parentPort?.postMessage({ answer: step.value });
  } catch (error) {
    parentPort?.postMessage({ fault: (error as Error).message });
  }
});
