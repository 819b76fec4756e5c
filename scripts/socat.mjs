// Finds the socat that makes pseudo-terminals for the tests of instrument lines, or installs Debian's
// where that is allowed.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { stop } from './prepare.mjs';

const places = ['/usr/bin/socat', '/usr/local/bin/socat', '/opt/homebrew/bin/socat'];

function found() {
  return [process.env.CUPEL_SOCAT, ...places].find((path) => path && existsSync(path));
}

/** Path of socat; ends the command with what to install when there is none. */
export function socatPath() {
  const path = found();
  if (path) return path;
  const isRoot = process.getuid?.() === 0;
  if (isRoot && existsSync('/usr/bin/apt-get')) {
    console.log('Installing socat from Debian …');
    const options = { stdio: ['ignore', 'ignore', 'inherit'] };
    spawnSync('apt-get', ['update', '-qq'], options);
    spawnSync('apt-get', ['install', '-y', '-qq', 'socat'], options);
  }
  return (
    found() ??
    stop(
      'The tests of instrument lines need socat. Install it (Debian: apt-get install socat) or name one with CUPEL_SOCAT=/path/to/socat.',
    )
  );
}
