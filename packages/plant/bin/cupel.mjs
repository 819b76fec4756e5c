#!/usr/bin/env node
// The command line. Plain JavaScript, so that an old Node can still say what is needed.
const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 22 || (major === 22 && minor < 18)) {
  console.error(
    `Cupel needs Node 22.18 or later; this is ${process.versions.node}. In the repository, npm start and npm run cupel bring their own.`,
  );
  process.exit(1);
}
// Keeps what the engine has compiled for the next call, which then starts in about half the time.
(await import('node:module')).enableCompileCache?.();
const { runCommandLine } = await import('../src/cli/command-line.ts');
await runCommandLine(process.argv);
