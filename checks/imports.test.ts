import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { cruise, type ICruiseResult } from 'dependency-cruiser';
import { describe, expect, it } from 'vitest';
import { calculationFolders, forbidden, upstreamStations } from './import-rules.mjs';

const root = join(import.meta.dirname, '..');

async function violationsIn(folders: string[], baseDir: string): Promise<ICruiseResult> {
  const result = await cruise(folders, {
    baseDir,
    ruleSet: { forbidden },
    validate: true,
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.json'],
    },
  } as Parameters<typeof cruise>[1]);
  return result.output as ICruiseResult;
}

const described = (result: ICruiseResult): string[] =>
  result.summary.violations.map(({ rule, from, to }) => `${rule.name}: ${from} → ${to}`);

describe('the one-way import rule', () => {
  it('holds in the whole repository', async () => {
    const result = await violationsIn(['packages/calculation/src', 'packages/plant/src'], root);
    // A cruiser that reads nothing would find nothing.
    expect(result.summary.totalCruised).toBeGreaterThan(100);
    expect(described(result)).toEqual([]);
  });

  it('finds every violation planted in a small tree of the same shape', async () => {
    const planted = join(root, 'checks', 'planted-imports');
    const result = await violationsIn(['packages'], planted);
    expect(described(result).sort()).toEqual(
      [
        'calculation-is-pure: packages/calculation/src/mass/reads-a-file.ts → fs',
        'frames-know-no-station: packages/plant/src/server/names-a-station.ts → packages/plant/src/stations/receiving/index.ts',
        'journal-knows-no-station: packages/plant/src/journal/names-a-station.ts → packages/plant/src/stations/receiving/index.ts',
        'station-account: packages/plant/src/stations/account/reads-receiving.ts → packages/plant/src/stations/receiving/index.ts',
        'station-receiving: packages/plant/src/stations/receiving/reads-downstream.ts → packages/plant/src/stations/put-up/index.ts',
        'station-put-up: packages/plant/src/stations/put-up/reads-inside.ts → packages/plant/src/stations/receiving/books.ts',
        'stations-know-no-frame: packages/plant/src/stations/receiving/rules.ts → packages/plant/src/adapters/clock.ts',
        'tables-know-nobody: packages/plant/src/tables/names-a-station.ts → packages/plant/src/stations/receiving/index.ts',
      ].sort(),
    );
  });

  it('names folders that exist, and every folder that there is', () => {
    const stations = readdirSync(join(root, 'packages/plant/src/stations')).sort();
    expect(stations).toEqual(Object.keys(upstreamStations).sort());
    for (const folder of calculationFolders) {
      expect(existsSync(join(root, 'packages/calculation/src', folder)), folder).toBe(true);
    }
  });
});
