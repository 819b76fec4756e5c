import { readFileSync } from 'node:fs';
import {
  type Calculation,
  calculationById,
  catalogue,
  DomainError,
  runCalculation,
} from '@cupel/calculation';
import { z } from 'zod';
import { Unfit } from './unfit.ts';

const print = (value: unknown): void => console.log(JSON.stringify(value, null, 2));

/** Prints every calculation, one a line. */
export function listCalculations(): void {
  const width = Math.max(...catalogue.map(({ id }) => id.length));
  for (const { id, topic, title } of catalogue) {
    console.log(`${id.padEnd(width)}  ${topic.padEnd(10)}  ${title}`);
  }
}

function find(id: string): Calculation {
  try {
    return calculationById(id);
  } catch (error) {
    if (error instanceof DomainError) throw new Unfit(error.message);
    throw error;
  }
}

/** Prints everything that the catalogue says of a calculation. */
export function describe(id: string): void {
  const calculation = find(id);
  const { version, topic, title, purpose, source, cautions = [], example } = calculation;
  print({
    id,
    version,
    topic,
    title,
    purpose,
    source,
    cautions,
    input: z.toJSONSchema(calculation.input, { io: 'input', unrepresentable: 'any' }),
    output: z.toJSONSchema(calculation.output, { io: 'output', unrepresentable: 'any' }),
    example: { input: example, output: calculation.compute(example) },
  });
}

function readInput(file: string): unknown {
  let text: string;
  try {
    text = readFileSync(file === '-' ? 0 : file, 'utf8');
  } catch {
    throw new Unfit(`${file} cannot be read.`);
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Unfit(
      `${file === '-' ? 'The standard input' : file} is not JSON: ${(error as Error).message}`,
    );
  }
}

/** Runs a calculation and prints its result; prints every problem of a bad input. */
export function run(id: string, file: string): void {
  const calculation = find(id);
  const result = runCalculation(calculation, readInput(file));
  if (result.outcome === 'computed') {
    print(result);
    return;
  }
  const lines = result.problems.map(({ field, value, accepted }) => {
    const shown = value === undefined ? 'missing' : JSON.stringify(value);
    return `  ${field || 'input'} is ${shown}; accepted: ${accepted}`;
  });
  throw new Unfit(`${id} refuses this input:\n${lines.join('\n')}`);
}
