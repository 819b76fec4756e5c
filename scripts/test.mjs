// npm test: installs, builds and runs every kind of test; the last line counts them.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromiumPath } from './chromium.mjs';
import { libreofficePath } from './libreoffice.mjs';
import { buildWorkbench, install, projectEnvironment, projectNode, root, run } from './prepare.mjs';
import { socatPath } from './socat.mjs';

const started = Date.now();
const tally = { passed: 0, failed: 0, skipped: 0 };
const binary = (...parts) => join(root, 'node_modules', ...parts);

/** A check that either holds or does not: one test of the sum. */
function check(title, program, args) {
  console.log(`\n— ${title}`);
  const status = run(program, args);
  tally[status === 0 ? 'passed' : 'failed'] += 1;
}

/** A project of the test runner; adds its counts to the sum. */
function tests(title, project, environment = {}) {
  console.log(`\n— ${title}`);
  const folder = mkdtempSync(join(tmpdir(), 'cupel-tests-'));
  const file = join(folder, 'result.json');
  const status = run(
    projectNode,
    [
      binary('vitest', 'vitest.mjs'),
      'run',
      '--project',
      project,
      '--reporter=dot',
      '--reporter=json',
      `--outputFile.json=${file}`,
    ],
    { env: { ...projectEnvironment, ...environment } },
  );
  try {
    const result = JSON.parse(readFileSync(file, 'utf8'));
    tally.passed += result.numPassedTests;
    tally.failed += result.numFailedTests;
    tally.skipped += result.numPendingTests + result.numTodoTests;
    // A file that does not load fails without a test of its own.
    if (status !== 0 && result.numFailedTests === 0) tally.failed += 1;
    if (result.numTotalTests === 0) tally.failed += 1;
  } catch {
    tally.failed += 1;
  }
  rmSync(folder, { recursive: true });
}

install();
const chromium = chromiumPath();
const socat = { CUPEL_SOCAT: socatPath() };
const libreoffice = libreofficePath();
const tsc = binary('typescript', 'bin', 'tsc');
check('types: calculation, pure', projectNode, [tsc, '-p', 'packages/calculation']);
check('types: calculation with its tests', projectNode, [
  tsc,
  '-p',
  'packages/calculation/tsconfig.test.json',
]);
check('types: plant', projectNode, [tsc, '-p', 'packages/plant']);
check('format and lint', projectNode, [
  binary('@biomejs', 'biome', 'bin', 'biome'),
  'ci',
  '--error-on-warnings',
]);
buildWorkbench();
tests('calculations', 'calculation');
tests('stations, journal, server, repository', 'unit', {
  CUPEL_LIBREOFFICE: libreoffice,
  ...socat,
});
tests('injected faults', 'faults');
tests('the workbench in Chromium', 'browser', { CUPEL_CHROMIUM: chromium, ...socat });

const seconds = Math.round((Date.now() - started) / 1000);
console.log(`\nAll of it took ${seconds} s.`);
console.log(`${tally.passed} passed, ${tally.failed} failed, ${tally.skipped} skipped`);
process.exit(tally.failed === 0 && tally.passed > 0 ? 0 : 1);
