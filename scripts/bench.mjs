// npm run bench: measures speed and size beside the same work done bare, in the same run.
import { buildWorkbench, install, projectNode, run } from './prepare.mjs';

install();
buildWorkbench();
process.exit(run(projectNode, ['packages/plant/bench/bench.ts', ...process.argv.slice(2)]));
