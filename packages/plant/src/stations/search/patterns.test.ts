import { describe, expect, it } from 'vitest';
import { reading, recorded } from '../laboratory/laboratory-trial.ts';
import { grossOf } from '../press-room/press-room-trial.ts';
import { numberOf } from '../put-up/put-up-trial.ts';
import type { Ranking } from './ranking.ts';
import { opened, searchTrial, tallied } from './search-trial.ts';

type Asking = Awaited<ReturnType<typeof searchTrial>>;

async function ranked(trial: Asking): Promise<Ranking> {
  const search = await opened(trial);
  const answer = (await trial.ask('search', { search }, 'chief')) as unknown as {
    ranking: Ranking;
  };
  return answer.ranking;
}

/** Puts loose pieces from put-up into the archive; answers the number of the entry. */
async function setAside(trial: Asking, pieces: number): Promise<number> {
  const input = { melt: 'M-1', pieces, gross: grossOf(pieces), instrument: 'T-1' };
  const outcome = await trial.do('set-aside-pieces', input, 'custodian', 'inspector');
  recorded(outcome);
  return numberOf(outcome);
}

/** Tallies put-up with a mass as well. */
async function weighedTally(trial: Asking, pieces: number, grams: string): Promise<void> {
  const line = { pieceStandard: 'lark-8', pieces, gross: reading(grams, 'g'), instrument: 'T-1' };
  recorded(await trial.do('tally-place', { place: 'put-up', lines: [line] }, 'storeman'));
}

const probabilityOf = ({ faults }: Ranking, name: string): number =>
  faults
    .filter((fault) => fault.name === name)
    .reduce((sum, { probability }) => sum + probability, 0);

describe('patterns in the journal of a shift', () => {
  it('an entry that was written after the tallies and done before them', async () => {
    const trial = await searchTrial();
    // Two pieces lie in the archive already when both places are counted; the entry comes last.
    await tallied(trial, 'put-up', 45);
    await tallied(trial, 'archive', 2);
    const entry = await setAside(trial, 2);
    const ranking = await ranked(trial);
    expect(ranking.faults[0]).toMatchObject({ name: `entry ${entry} at the wrong time` });
    expect(ranking.faults[0]?.words).toContain('written after it');
    expect(ranking.looks[0]?.look).toBe(`time/${entry}`);
  });

  it('an entry that was written before a tally and done after it', async () => {
    const trial = await searchTrial();
    const entry = await setAside(trial, 3);
    await tallied(trial, 'put-up', 47);
    await tallied(trial, 'archive', 0);
    const ranking = await ranked(trial);
    expect(
      ranking.faults.find(({ name }) => name === `entry ${entry} at the wrong time`)?.words,
    ).toBe(
      `entry ${entry} was done after the tally of put-up and of the archive and written before it`,
    );
    expect(probabilityOf(ranking, `entry ${entry} at the wrong time`)).toBeGreaterThan(0.5);
  });

  it('a piece for the archive that nobody has written', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    await tallied(trial, 'archive', 1);
    const ranking = await ranked(trial);
    expect(ranking.faults[0]).toMatchObject({ name: 'archive piece from put-up not written' });
    expect(ranking.looks[0]?.look).toBe('archive');
  });

  it('a piece of put-up that went to the scrap unwritten', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    await tallied(trial, 'scrap', 1);
    const ranking = await ranked(trial);
    expect(ranking.faults[0]).toMatchObject({ name: 'scrap of put-up not written' });
  });

  it('a sample of put-up that went to the laboratory unwritten', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const before = await ranked(trial);
    expect(probabilityOf(before, 'sample from put-up not written')).toBeGreaterThan(0.1);
  });

  it('two entries of one sheet that were written and never done', async () => {
    const trial = await searchTrial();
    const numbers: number[] = [];
    for (const pieces of [1, 2, 2]) numbers.push(await setAside(trial, pieces));
    // The first two, three pieces, lie in put-up still.
    await tallied(trial, 'put-up', 45);
    await tallied(trial, 'archive', 2);
    const ranking = await ranked(trial);
    const [one, two] = numbers;
    const sheet = ranking.faults.find(
      ({ name }) => name === 'several entries from put-up to archive',
    );
    expect(sheet?.value).toBe(3);
    expect(sheet?.words).toContain(
      `entries ${one}, ${two} from put-up to the archive, 3 pieces together`,
    );
    expect(sheet?.words).toContain('1 other set fits as well');
  });

  it('the mass of a tally with the decimal sign in the wrong place', async () => {
    const trial = await searchTrial();
    // All 47 pieces lie there, 376.47 g; somebody counts 46 and writes 37.647 g.
    await weighedTally(trial, 46, '37.647');
    const ranking = await ranked(trial);
    expect(probabilityOf(ranking, 'mass of tally of put-up')).toBeGreaterThan(0.99);
    const gone = ranking.faults.find(({ name }) => name === 'gone from put-up');
    expect(gone?.evidence).toContain('338.82 g of them a slip in writing');
    // The grams that seem to be missing must not make a thief of it.
    expect(probabilityOf(ranking, 'tally of put-up')).toBeGreaterThan(
      10 * probabilityOf(ranking, 'gone from put-up'),
    );
  });

  it('a tare that was not taken off, which spares the opening of the tube', async () => {
    // The tube of 20 g itself is still in the reading: as if it held two and a half pieces more.
    const trial = await searchTrial(20 + 20 / 8.01);
    await tallied(trial, 'put-up', 47);
    const ranking = await ranked(trial);
    const tare = ranking.faults.find(({ name }) => name === 'tare of tube T-102');
    expect(tare?.probability ?? 0).toBeGreaterThan(0.5);
    expect(tare?.evidence).toContain('a wrong tare');
    expect(ranking.looks.map(({ look }) => look)).toContain('tare/T-102');
    expect(probabilityOf(ranking, 'tube T-102')).toBeLessThan(0.01);
  });
});
