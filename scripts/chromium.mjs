// Finds the Chromium that the browser tests drive, or installs Debian's where that is allowed.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { stop } from './prepare.mjs';

const places = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

function found() {
  return [process.env.CUPEL_CHROMIUM, ...places].find((path) => path && existsSync(path));
}

/** Path of a Chromium; ends the command with what to install when there is none. */
export function chromiumPath() {
  const path = found();
  if (path) return path;
  const isRoot = process.getuid?.() === 0;
  if (isRoot && existsSync('/usr/bin/apt-get')) {
    console.log('Installing Chromium from Debian …');
    const options = { stdio: ['ignore', 'ignore', 'inherit'] };
    spawnSync('apt-get', ['update', '-qq'], options);
    spawnSync('apt-get', ['install', '-y', '-qq', 'chromium'], options);
  }
  return (
    found() ??
    stop(
      'The browser tests need Chromium. Install it (Debian: apt-get install chromium) or name one with CUPEL_CHROMIUM=/path/to/chromium.',
    )
  );
}
