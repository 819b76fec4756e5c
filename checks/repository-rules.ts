import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** A breach of one of the repository's own rules: where, what, and what to do instead. */
export interface Breach {
  readonly place: string;
  readonly what: string;
  readonly instead: string;
}

/** A text file of the repository. */
export interface TextFile {
  readonly path: string;
  readonly text: string;
}

const textEndings = /\.(ts|tsx|mjs|md|css|html|json|csv|typ|yml)$/;

/** Every text file that the repository keeps or would keep, but for the lock file. */
export function repositoryFiles(root: string): readonly TextFile[] {
  const listed = execFileSync('git', ['ls-files', '-co', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  });
  return listed
    .split('\n')
    .filter((path) => textEndings.test(path) && path !== 'package-lock.json')
    .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }));
}

/** Lines of a file that match, as breaches. */
function matching(file: TextFile, pattern: RegExp, what: string, instead: string): Breach[] {
  return file.text.split('\n').flatMap((line, index) =>
    pattern.test(line)
      ? [
          {
            place: `${file.path}:${index + 1}`,
            what: `${what}: ${line.trim().slice(0, 80)}`,
            instead,
          },
        ]
      : [],
  );
}

const isCode = (path: string): boolean => /\.(ts|tsx|mjs)$/.test(path);
const isTest = (path: string): boolean => /\.(test|contract)\.tsx?$/.test(path);

/** Code in which time, chance and the outside world are arguments. */
const pureCode = [
  /^packages\/calculation\/src\//,
  /^packages\/plant\/src\/stations\/[^/]+\/(rules|entries|postings|read-model|books)[^/]*\.ts$/,
  /^packages\/plant\/src\/stations\/[^/]+\/(rules|entries)\//,
];

/** Names that pure code must not use. Built of parts so that this file does not match itself. */
const impure = new RegExp(
  [
    '\\bDate\\.now\\b',
    '\\bnew Date\\(\\)',
    '\\bMath\\.random\\b',
    '\\bfetch\\(',
    '\\bsetTimeout\\b',
    '\\bprocess\\.(env|argv|exit|stdout|stderr|cwd|hrtime|nextTick|on)\\b',
  ].join('|'),
);

const leftovers = new RegExp(
  ['TO' + 'DO', 'FIX' + 'ME', 'XX' + 'X', 'HA' + 'CK'].map((word) => `\\b${word}\\b`).join('|'),
);
const machinePaths = new RegExp(
  ['/wo' + 'rk/', '/ro' + 'ot/', '/ho' + 'me/[a-z]', 'file:' + '//'].join('|'),
);
const skippedTests = /\b(it|test|describe)\.(skip|only|todo)\b/;
const vagueNames = /(^|\/)(utils?|helpers?|common|misc|manager)(\.|\/|-)/;

/** Longest file, in lines; a longer one has to be cut, data apart. */
const longestFile = 500;

/** Every breach in one file. */
export function breachesOf(file: TextFile): readonly Breach[] {
  const breaches: Breach[] = [];
  const { path, text } = file;
  if (vagueNames.test(path)) {
    breaches.push({ place: path, what: 'vague file name', instead: 'name what the file holds' });
  }
  breaches.push(
    ...matching(file, machinePaths, 'path of a machine', 'a path relative to the repository'),
  );
  if (!isCode(path)) return breaches;
  breaches.push(...matching(file, leftovers, 'leftover mark', 'do it, or write an issue'));
  const lines = text.split('\n').length;
  if (lines > longestFile && !/-(table|data)\.ts$/.test(path)) {
    breaches.push({ place: path, what: `${lines} lines`, instead: `at most ${longestFile}` });
  }
  if (isTest(path)) {
    breaches.push(...matching(file, skippedTests, 'test that does not run', 'a test that runs'));
  } else if (pureCode.some((pattern) => pattern.test(path))) {
    breaches.push(...matching(file, impure, 'clock, chance or outside world', 'an argument'));
  }
  return breaches;
}
