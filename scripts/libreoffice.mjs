// Finds the LibreOffice by which the tests open what the plant hands out as tables, or installs
// Debian's calculating part of it where that is allowed.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { stop } from './prepare.mjs';

const debianPackage = 'libreoffice-calc-nogui';

const places = [
  '/usr/bin/soffice',
  '/usr/bin/libreoffice',
  '/usr/lib/libreoffice/program/soffice',
  '/Applications/LibreOffice.app/Contents/MacOS/soffice',
];

function found() {
  return [process.env.CUPEL_LIBREOFFICE, ...places].find((path) => path && existsSync(path));
}

/** Path of a LibreOffice; ends the command with what to install when there is none. */
export function libreofficePath() {
  const path = found();
  if (path) return path;
  const isRoot = process.getuid?.() === 0;
  if (isRoot && existsSync('/usr/bin/apt-get')) {
    console.log('Installing LibreOffice Calc from Debian …');
    const options = { stdio: ['ignore', 'ignore', 'inherit'] };
    spawnSync('apt-get', ['update', '-qq'], options);
    const install = ['install', '-y', '-qq', '--no-install-recommends', debianPackage];
    spawnSync('apt-get', install, options);
  }
  return (
    found() ??
    stop(
      `The tests of tables need LibreOffice Calc. Install it (Debian: apt-get install --no-install-recommends ${debianPackage}) or name one with CUPEL_LIBREOFFICE=/path/to/soffice.`,
    )
  );
}
