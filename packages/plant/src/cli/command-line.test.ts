import { spawn, spawnSync } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { catalogue } from '@cupel/calculation';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const program = fileURLToPath(new URL('../../bin/cupel.mjs', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'cupel-cli-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Runs the command line as a person would and answers what it said. */
function cupel(
  words: readonly string[],
  input = '',
): { status: number | null; out: string; err: string } {
  const done = spawnSync(process.execPath, ['--no-warnings', program, ...words], {
    input,
    encoding: 'utf8',
  });
  return { status: done.status, out: done.stdout, err: done.stderr };
}

const at = (name: string): string => join(folder, name);
const plant = at('plant');

beforeAll(() => {
  const words = ['init', '--data', plant, '--plant', 'alder-mill', '--title', 'Alder Mill'];
  const more = ['--time-zone', 'Europe/Vienna', '--person', 'odile', '--name', 'Odile Brandt'];
  const { status, out, err } = cupel([...words, ...more]);
  expect(err).toBe('');
  expect(status).toBe(0);
  expect(out).toMatch(/One-time code of Odile Brandt \(sign-in name odile\): \S{8,}/);
});

describe('cupel calc', () => {
  it('lists every calculation of the catalogue', () => {
    const { status, out } = cupel(['calc', 'list']);
    expect(status).toBe(0);
    const ids = out
      .trim()
      .split('\n')
      .map((line) => line.split(' ')[0]);
    expect(ids).toEqual(catalogue.map(({ id }) => id));
  });

  it('describes a calculation with schemas and an example that it can run itself', () => {
    for (const id of ['fine-mass', 'count-by-weight']) {
      const { status, out } = cupel(['calc', 'describe', id]);
      expect(status).toBe(0);
      const described = JSON.parse(out);
      expect(described).toMatchObject({ id, source: expect.any(String) });
      expect(described.input.type ?? described.input.anyOf ?? described.input.oneOf).toBeDefined();
      const ran = cupel(['calc', 'run', id, '-'], JSON.stringify(described.example.input));
      expect(ran.status).toBe(0);
      expect(JSON.parse(ran.out)).toMatchObject({
        outcome: 'computed',
        id,
        output: described.example.output,
      });
    }
  });

  it('runs a calculation on a file', () => {
    const calculation = catalogue[0];
    writeFileSync(at('input.json'), JSON.stringify(calculation?.example));
    const { status, out } = cupel(['calc', 'run', calculation?.id ?? '', at('input.json')]);
    expect(status).toBe(0);
    expect(JSON.parse(out).outcome).toBe('computed');
  });

  it.each<[string, string[], string, RegExp]>([
    [
      'a field that is missing',
      ['fine-mass', '-'],
      '{}',
      /fine-mass refuses this input:\n {2}\S+ is missing; accepted: /,
    ],
    ['what is no JSON', ['fine-mass', '-'], '{', /standard input is not JSON/],
    [
      'a file that is not there',
      ['fine-mass', '/nowhere.json'],
      '',
      /\/nowhere\.json cannot be read/,
    ],
    [
      'an id that is not in the catalogue',
      ['alchemy', '-'],
      '{}',
      /alchemy; accepted: accept-zero-plan/,
    ],
  ])('refuses %s in words on the error stream, with status 1', (_what, words, input, expected) => {
    const { status, out, err } = cupel(['calc', 'run', ...words], input);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toMatch(expected);
    expect(err).not.toMatch(/\n\s+at /);
  });

  it('opens no store: it runs where the store’s engine cannot be loaded', () => {
    const blocked = at('no-engine.mjs');
    writeFileSync(
      blocked,
      `import { registerHooks } from 'node:module';
      registerHooks({
        resolve: (name, context, next) => {
          if (/better-sqlite3|fastify|typst/.test(name)) throw new Error('loaded ' + name);
          return next(name, context);
        },
      });`,
    );
    const run = (words: string[]) =>
      spawnSync(process.execPath, ['--import', blocked, program, ...words], { encoding: 'utf8' });
    expect(run(['calc', 'list']).status).toBe(0);
    // The same block does stop a command that needs the engine.
    expect(run(['journal', 'verify', '--data', plant]).stderr).toContain('loaded ');
  });
});

describe('wrong words', () => {
  it.each([
    [[]],
    [['frobnicate']],
    [['calc']],
    [['calc', 'run', 'fine-mass']],
    [['journal', 'verify']],
    [['journal', 'rebuild', '--data', '/x', '--chek']],
    [['serve', '--data', plant, '--port', 'eighty']],
    [['demo', '--data', '/x', '--day', 'yesterday']],
    [['demo', '--data', '/x', '--seed', '1.5']],
  ])('%j end with status 2 and say what is accepted', (words) => {
    const { status, out, err } = cupel(words);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/Usage|accepted/);
  });

  it('asked for help end with status 0', () => {
    const { status, out } = cupel(['--help']);
    expect(status).toBe(0);
    expect(out).toContain('Usage: cupel');
  });
});

describe('cupel journal', () => {
  it('verifies the journal of a plant', () => {
    const { status, out } = cupel(['journal', 'verify', '--data', plant]);
    expect(status).toBe(0);
    expect(out).toMatch(/^\d+ entries? hold/);
  });

  it('says of a folder without a plant what to do', () => {
    const { status, err } = cupel(['journal', 'verify', '--data', at('empty')]);
    expect(status).toBe(1);
    expect(err).toContain('cupel init');
  });

  it('names the entry that was altered, and leaves with 1', () => {
    const altered = at('altered');
    cpSync(plant, altered, { recursive: true });
    const database = new Database(join(altered, 'plant.sqlite'));
    database.exec(
      "UPDATE journal_line SET text = replace(text, 'Alder Mill', 'Older Mill') WHERE number = 1",
    );
    database.close();
    const { status, err } = cupel(['journal', 'verify', '--data', altered]);
    expect(status).toBe(1);
    expect(err).toContain('Entry 1 is bad: its text does not give its hash.');
  });

  it('holds the books against books made anew, table by table, and puts them right', () => {
    const changed = at('changed');
    cpSync(plant, changed, { recursive: true });
    const check = () => cupel(['journal', 'rebuild', '--check', '--data', changed]);
    const good = check();
    expect(good.status).toBe(0);
    expect(good.out).toMatch(/^equal {3}core_balance \(\d+ records\)$/m);
    expect(good.out).not.toContain('DIFFERS');
    const database = new Database(join(changed, 'plant.sqlite'));
    database.exec('DELETE FROM core_request');
    database.close();
    const bad = check();
    expect(bad.status).toBe(1);
    expect(bad.out).toMatch(/^DIFFERS core_request \(0 records\)$/m);
    expect(bad.err).toContain('core_request differs');
    expect(cupel(['journal', 'rebuild', '--data', changed]).status).toBe(0);
    expect(check().status).toBe(0);
  });
});

describe('cupel backup and restore', () => {
  it('copy a plant while it is served, and give it back as it was', async () => {
    const server = spawn(process.execPath, [
      '--no-warnings',
      program,
      'serve',
      '--data',
      plant,
      '--port',
      '0',
    ]);
    try {
      await new Promise<void>((resolve, reject) => {
        server.stdout.on('data', (text) => String(text).includes('http://') && resolve());
        server.on('close', () => reject(new Error('the server did not start')));
      });
      const second = cupel(['journal', 'rebuild', '--data', plant]);
      expect(second.status).toBe(1);
      expect(second.err).toContain('another process holds this plant open');
      const { status, out } = cupel(['backup', at('copy'), '--data', plant]);
      expect(status).toBe(0);
      expect(out).toMatch(/entries copied to .* and verified/);
    } finally {
      server.kill('SIGTERM');
      await new Promise((resolve) => server.once('close', resolve));
    }
    expect(cupel(['restore', at('copy'), '--data', at('restored')]).status).toBe(0);
    const lastHash = (data: string) =>
      /Last hash (\S+)/.exec(cupel(['journal', 'verify', '--data', data]).out)?.[1];
    expect(lastHash(at('restored'))).toMatch(/^[0-9a-f]{64}$/);
    expect(lastHash(at('restored'))).toBe(lastHash(plant));
    expect(cupel(['journal', 'rebuild', '--check', '--data', at('restored')]).status).toBe(0);
    for (const file of ['plant.json', 'plant-key.pem', 'accounts.sqlite']) {
      expect(existsSync(join(at('restored'), file))).toBe(true);
    }
  });

  it('replace no folder', () => {
    expect(cupel(['backup', plant, '--data', plant]).err).toContain('exists already');
    expect(cupel(['restore', at('copy'), '--data', plant]).err).toContain('exists already');
  });

  it('find a backup that was altered or lost a file, and leave nothing half restored', () => {
    for (const [change, words] of [
      [
        (copy: string) => appendFileSync(join(copy, 'plant.json'), ' '),
        /plant\.json .* not as it was written/,
      ],
      [(copy: string) => rmSync(join(copy, 'accounts.sqlite')), /accounts\.sqlite .* missing/],
      [
        (copy: string) => writeFileSync(join(copy, 'backup.json'), '{"files":{"../x":"1"}}'),
        /not as it was written/,
      ],
      [(copy: string) => rmSync(join(copy, 'backup.json')), /holds no backup/],
    ] as const) {
      const copy = at('altered-copy');
      rmSync(copy, { recursive: true, force: true });
      cpSync(at('copy'), copy, { recursive: true });
      change(copy);
      const { status, err } = cupel(['restore', copy, '--data', at('never')]);
      expect(status).toBe(1);
      expect(err).toMatch(words);
      expect(readdirSync(folder).filter((name) => name.includes('never'))).toEqual([]);
    }
  });

  it('refuse to keep a copy of a journal that does not hold', () => {
    const { status, err } = cupel(['backup', at('bad-copy'), '--data', at('altered')]);
    expect(status).toBe(1);
    expect(err).toContain('entry 1');
    expect(readdirSync(folder).filter((name) => name.includes('bad-copy'))).toEqual([]);
  });
});

describe('cupel init', () => {
  const init = (changes: Record<string, string>) => {
    const options = {
      data: at('second'),
      plant: 'second',
      title: 'Second',
      'time-zone': 'Europe/Vienna',
      person: 'ada',
      name: 'Ada',
      ...changes,
    };
    return cupel([
      'init',
      ...Object.entries(options).flatMap(([name, value]) => [`--${name}`, value]),
    ]);
  };

  it('makes no plant where one is', () => {
    const before = readFileSync(join(plant, 'plant.json'), 'utf8');
    const { status, err } = init({ data: plant });
    expect(status).toBe(1);
    expect(err).toContain('holds a plant already');
    expect(readFileSync(join(plant, 'plant.json'), 'utf8')).toBe(before);
  });

  it('refuses an id and a time zone that are none, and makes nothing', () => {
    expect(init({ plant: 'Second Mill' })).toMatchObject({ status: 2 });
    expect(init({ 'time-zone': 'Middle/Earth' })).toMatchObject({ status: 2 });
    expect(existsSync(at('second'))).toBe(false);
  });
});

describe('cupel verify', () => {
  it('says of a file that is no certificate that it does not hold', () => {
    writeFileSync(at('certificate.json'), '{}');
    const { status } = cupel(['verify', at('certificate.json')]);
    expect(status).toBe(1);
    expect(cupel(['verify', '/nowhere.json']).err).toContain('cannot be read');
  });
});

describe('an older Node', () => {
  it('is told which one is needed, in words', () => {
    const old = at('old-node.mjs');
    writeFileSync(old, "Object.defineProperty(process.versions, 'node', { value: '20.20.2' });");
    const words = ['--import', old, program, 'calc', 'list'];
    const { status, stderr } = spawnSync(process.execPath, words, { encoding: 'utf8' });
    expect(status).toBe(1);
    expect(stderr).toMatch(/needs Node 22\.18 or later; this is 20\.20\.2/);
  });
});
