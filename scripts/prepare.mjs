// Steps that both commands need before anything else. Plain JavaScript without dependencies, since
// it runs on whatever Node the machine has, before anything is installed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The root of the repository. */
export const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** The Node that the project runs on, whichever one the machine has. */
export const projectNode = join(root, 'node_modules', 'node', 'bin', 'node');

/** The environment in which the project's own Node comes first. */
export const projectEnvironment = {
  ...process.env,
  PATH: `${join(root, 'node_modules', '.bin')}:${process.env.PATH ?? ''}`,
};

/** Ends the command with a message that says what to do. */
export function stop(message) {
  console.error(`\n${message}\n`);
  process.exit(1);
}

/** Runs a program to its end in the root folder; answers its exit status. */
export function run(program, args, options = {}) {
  const done = spawnSync(program, args, {
    cwd: root,
    stdio: 'inherit',
    env: projectEnvironment,
    ...options,
  });
  if (done.error) stop(`${program} could not be started: ${done.error.message}`);
  return done.status ?? 1;
}

function hashOf(text) {
  return createHash('sha256').update(text).digest('hex');
}

/** True when the stamp file holds that text. */
function isStamped(file, text) {
  return existsSync(file) && readFileSync(file, 'utf8') === text;
}

/** Installs the packages of the lock file unless they are there already. */
export function install() {
  const [major] = process.versions.node.split('.').map(Number);
  if (major < 20) stop(`Node 20 or later is needed to begin; this is ${process.versions.node}.`);
  const lock = hashOf(readFileSync(join(root, 'package-lock.json')));
  const stamp = join(root, 'node_modules', '.cupel-installed');
  if (isStamped(stamp, lock) && existsSync(projectNode)) return;
  console.log('Installing packages …');
  const status = run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error']);
  if (status !== 0) stop('The packages could not be installed: see the message of npm above.');
  if (!existsSync(projectNode)) {
    stop('The package "node" did not bring its program: run npm ci with install scripts allowed.');
  }
  writeFileSync(stamp, lock);
}

/** Every file below a folder, in order. */
function filesBelow(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .filter((item) => item.name !== 'node_modules' && item.name !== 'dist')
    .flatMap((item) => {
      const path = join(folder, item.name);
      return item.isDirectory() ? filesBelow(path) : [path];
    })
    .sort();
}

/** The workbench's built files. */
const workbenchFolder = join(root, 'packages', 'plant', 'dist', 'workbench');

/** Builds the workbench unless its sources are those of the last build. */
export function buildWorkbench() {
  const sources = ['packages/calculation/src', 'packages/plant/src'].flatMap((folder) =>
    filesBelow(join(root, folder)),
  );
  sources.push(join(root, 'package-lock.json'), join(root, 'packages/plant/vite.config.ts'));
  const state = hashOf(
    sources.map((file) => `${file} ${statSync(file).size} ${statSync(file).mtimeMs}`).join('\n'),
  );
  const stamp = join(root, 'packages', 'plant', 'dist', '.built');
  if (isStamped(stamp, state) && existsSync(join(workbenchFolder, 'index.html'))) return;
  console.log('Building the workbench …');
  const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js');
  const status = run(projectNode, [vite, 'build', '--logLevel', 'warn'], {
    cwd: join(root, 'packages', 'plant'),
  });
  if (status !== 0) stop('The workbench could not be built: see the message above.');
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, state);
}
