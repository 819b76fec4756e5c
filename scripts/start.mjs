// npm start: installs, builds, makes the demonstration plant when there is none, and serves it.

import { spawn } from 'node:child_process';
import { existsSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import {
  buildWorkbench,
  install,
  projectEnvironment,
  projectNode,
  root,
  run,
  stop,
} from './prepare.mjs';

const usage = `npm start -- [--data DIR] [--port N] [--fresh]
  --data DIR   folder of the plant; "data" in the repository when left out
  --port N     port on the loopback address; 4600 when left out
  --fresh      makes the demonstration plant anew; what the folder held is deleted`;

function readOptions() {
  try {
    return parseArgs({
      options: {
        data: { type: 'string', default: join(root, 'data') },
        port: { type: 'string', default: '4600' },
        fresh: { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    }).values;
  } catch (error) {
    return stop(`${error.message}\n\n${usage}`);
  }
}

const options = readOptions();
if (options.help) {
  console.log(usage);
  process.exit(0);
}
const port = Number(options.port);
if (!Number.isInteger(port) || port < 1 || port > 65535) {
  stop(`--port is ${options.port}; accepted: a whole number from 1 to 65535`);
}

install();
buildWorkbench();

const data = resolve(options.data);
const cupel = join(root, 'packages', 'plant', 'bin', 'cupel.mjs');
const isDemonstration = existsSync(join(data, 'demonstration.json'));
if (options.fresh && existsSync(data)) {
  if (!isDemonstration) {
    stop(`${data} does not hold a demonstration plant; --fresh deletes only demonstrations.`);
  }
  rmSync(data, { recursive: true });
}
if (!existsSync(join(data, 'plant.sqlite'))) {
  console.log('Making the demonstration plant …');
  const status = run(projectNode, [cupel, 'demo', '--data', data]);
  if (status !== 0) {
    rmSync(join(data, 'plant.sqlite'), { force: true });
    stop('The demonstration plant could not be made: see the message above.');
  }
}

const server = spawn(projectNode, [cupel, 'serve', '--data', data, '--port', String(port)], {
  cwd: root,
  stdio: 'inherit',
  env: projectEnvironment,
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal));
server.on('exit', (code) => process.exit(code ?? 0));
