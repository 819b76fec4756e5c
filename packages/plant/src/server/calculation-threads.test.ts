import { calculationById } from '@cupel/calculation';
import { afterAll, describe, expect, it } from 'vitest';
import { CalculationStopped, CalculationThreads } from './calculation-threads.ts';

const threads = new CalculationThreads();
afterAll(() => threads.close());

const example = calculationById('monte-carlo').example as Record<string, unknown>;
const long = { ...example, trials: { kind: 'fixed', trials: 10_000_000 } };

describe('calculations beside the server', () => {
  it('answer as the library does', async () => {
    const answer = await threads.run('fine-mass', {}, new AbortController().signal);
    expect(answer).toMatchObject({ outcome: 'refused', id: 'fine-mass' });
  });

  it('stop when nobody waits for them any more, and leave room for the next', async () => {
    const left = new AbortController();
    const stopped = threads.run('monte-carlo', long, left.signal);
    setTimeout(() => left.abort(), 300);
    await expect(stopped).rejects.toBeInstanceOf(CalculationStopped);
    const next = await threads.run('monte-carlo', example, new AbortController().signal);
    expect(next.outcome).toBe('computed');
  });

  it('are not begun when nobody waits for them', async () => {
    const left = new AbortController();
    left.abort();
    const never = threads.run('fine-mass', {}, left.signal);
    await expect(never).rejects.toBeInstanceOf(CalculationStopped);
  });

  it('wait their turn when all threads are busy', async () => {
    const signal = new AbortController().signal;
    const answers = await Promise.all(
      Array.from({ length: 5 }, () => threads.run('fine-mass', {}, signal)),
    );
    expect(answers.map(({ outcome }) => outcome)).toEqual(Array(5).fill('refused'));
  });
});
