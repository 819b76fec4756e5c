import { makeDemonstration } from '../../simulation/make-demonstration.ts';
import { Unfit } from './unfit.ts';

const dayForm = /^\d{4}-\d{2}-\d{2}$/;

function yesterday(): string {
  return new Date(Date.now() - 24 * 3_600_000).toISOString().slice(0, 10);
}

/** Makes a demonstration plant in a new folder. */
export async function demo(options: {
  folder: string;
  seed: string;
  day: string | undefined;
}): Promise<void> {
  const seed = Number(options.seed);
  if (!Number.isInteger(seed) || seed < 0 || seed > 2 ** 31 - 1) {
    throw new Unfit(`--seed is ${options.seed}; accepted: a whole number from 0 to 2147483647`, 2);
  }
  const lastDay = options.day ?? yesterday();
  if (!dayForm.test(lastDay) || Number.isNaN(Date.parse(lastDay))) {
    throw new Unfit(`--day is ${lastDay}; accepted: a day as 2026-11-24`, 2);
  }
  const shifts: string[] = [];
  const made = await makeDemonstration({
    folder: options.folder,
    seed,
    lastDay,
    onShift: (shift) => {
      shifts.push(shift);
      if (process.stdout.isTTY) process.stdout.write(`\r${shifts.length} of 40 shifts closed`);
    },
  });
  if (process.stdout.isTTY) process.stdout.write('\n');
  console.log(`${made.entries} entries; last hash ${made.headHash}`);
}
