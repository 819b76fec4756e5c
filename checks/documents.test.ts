import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { repositoryFiles } from './repository-rules.ts';

const root = join(import.meta.dirname, '..');
const documents = repositoryFiles(root).filter(({ path }) => path.endsWith('.md'));

/** Link targets of a document that lead into the repository. */
function localLinks(text: string): string[] {
  return [...text.matchAll(/\]\(([^)\s]+)\)/g)]
    .map(([, target]) => target as string)
    .filter((target) => !/^[a-z]+:/.test(target));
}

/** Anchors of the headings of a document, as a reader of the repository sees them. */
function anchors(text: string): string[] {
  return [...text.matchAll(/^#+ (.+)$/gm)].map(([, title]) =>
    (title as string)
      .toLowerCase()
      .replace(/[^\p{L}\p{N} _-]/gu, '')
      .trim()
      .replaceAll(' ', '-'),
  );
}

function brokenLinks(path: string, text: string): string[] {
  return localLinks(text).filter((target) => {
    const [file = '', anchor] = target.split('#');
    const full = file === '' ? join(root, path) : join(root, dirname(path), file);
    if (!existsSync(full)) return true;
    return anchor !== undefined && !anchors(readFileSync(full, 'utf8')).includes(anchor);
  });
}

/** Commands of npm that the documents name: `npm start`, `npm test`, `npm run NAME`. */
function namedScripts(text: string): string[] {
  return [...text.matchAll(/(?:`|^)npm (?:run )?([a-z][a-z:-]*)/gm)].map(
    ([, name]) => name as string,
  );
}

describe('the documents', () => {
  it('begin with one title each', () => {
    for (const { path, text } of documents) {
      const titles = text.replace(/```[\s\S]*?```/g, '').match(/^# .+$/gm) ?? [];
      expect({ path, titles: titles.length }).toEqual({ path, titles: 1 });
    }
  });

  it('link only to what exists', () => {
    for (const { path, text } of documents) {
      expect({ path, broken: brokenLinks(path, text) }).toEqual({ path, broken: [] });
    }
  });

  it('would have a broken link found', () => {
    expect(brokenLinks('README.md', '[a](docs/none.md) [b](README.md#no-such-title)')).toEqual([
      'docs/none.md',
      'README.md#no-such-title',
    ]);
  });

  it('name only scripts that exist', () => {
    const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    const known = [...Object.keys(scripts), 'ci', 'install'];
    for (const { path, text } of documents) {
      const unknown = namedScripts(text).filter((name) => !known.includes(name));
      expect({ path, unknown }).toEqual({ path, unknown: [] });
    }
  });
});
