// npm run bench: measures speed and size beside the same work done bare, in the same run.
import { buildWorkbench, install, projectNode, run } from './prepare.mjs';

install();
buildWorkbench();
const rows = process.argv.slice(2);
// `npm run bench -- calculations [row …]` times the calculations alone, `-- plant` the plant alone.
const [part] = rows;
const statuses = [
  part === 'plant'
    ? 0
    : run(projectNode, ['packages/calculation/bench/bench.ts', ...rows.slice(1)]),
  part === 'calculations' ? 0 : run(projectNode, ['packages/plant/bench/bench.ts']),
];
process.exit(Math.max(...statuses));
