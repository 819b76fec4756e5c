import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { breachesOf, repositoryFiles } from './repository-rules.ts';

const root = join(import.meta.dirname, '..');
const whatsIn = (path: string, text: string): string[] =>
  breachesOf({ path, text }).map(({ what }) => what.split(':')[0] as string);

describe('the rules of the repository', () => {
  it('hold in every file', () => {
    const files = repositoryFiles(root);
    expect(files.length).toBeGreaterThan(100);
    expect(files.flatMap(breachesOf)).toEqual([]);
  });

  it('find a planted breach of each rule', () => {
    const rules = 'packages/plant/src/stations/receiving/rules.ts';
    expect(whatsIn(rules, 'const now = Date' + '.now();')).toEqual([
      'clock, chance or outside world',
    ]);
    expect(whatsIn(rules, 'const x = Math' + '.random();')).toEqual([
      'clock, chance or outside world',
    ]);
    expect(whatsIn('packages/plant/src/x.ts', `// TO${'DO'} later`)).toEqual(['leftover mark']);
    expect(whatsIn('docs/a.md', `see /wo${'rk'}/x`)).toEqual(['path of a machine']);
    expect(whatsIn('packages/plant/src/x.test.ts', `it.${'skip'}('a', f)`)).toEqual([
      'test that does not run',
    ]);
    expect(whatsIn('packages/plant/src/utils.ts', '')).toEqual(['vague file name']);
    expect(whatsIn('packages/plant/src/x.ts', '\n'.repeat(500))).toEqual(['501 lines']);
  });

  it('leave lawful lines alone', () => {
    expect(whatsIn('packages/plant/src/server/x.ts', 'const now = Date' + '.now();')).toEqual([]);
    expect(whatsIn('packages/calculation/src/mass/x.ts', 'const day = new Date(0);')).toEqual([]);
  });
});
