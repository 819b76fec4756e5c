import { writeSync } from 'node:fs';
import { openTrialPlant, stream } from './trial-stream.ts';

/*
 * A process that opens the trial plant and records a stream of commands, saying on standard output
 * what it was told of each, at once: `recorded KEY` or `refused KEY NAME`.
 */

const [path = '', name = '', commands = '0', atOnce = '1'] = process.argv.slice(2);

const say = (line: string): void => {
  writeSync(1, `${line}\n`);
};

const plant = await openTrialPlant(path).catch((error: Error) => {
  say(`unopened ${error.name}`);
  process.exit(3);
});
say('opened');
await stream(
  plant.recorder,
  { name, commands: Number(commands), atOnce: Number(atOnce) },
  (key, outcome) => {
    const refusal = outcome.outcome === 'refused' ? ` ${outcome.refusals[0]?.refusal}` : '';
    say(`${outcome.outcome} ${key}${refusal}`);
  },
);
await plant.store.close();
say('closed');
