import { expect, it } from 'vitest';
import { balances, shiftMovements } from '../../journal/core-books.ts';
import { type AccountTrial, accountTrial, close, found, tally } from './account-trial.ts';
import { accountDocket } from './docket.ts';
import { overviewOf } from './overview.ts';
import { needsTally, openShifts, periodOf } from './period.ts';

/** The overview is counted while entries are recorded; the period reads every posting anew. */
async function expectSame(trial: AccountTrial): Promise<void> {
  const [overview, period] = [await overviewOf(trial.books), await periodOf(trial.books)];
  expect(overview.openShifts.map(({ shift }) => shift)).toEqual(openShifts(period));
  for (const { shift, lastEntry } of overview.openShifts) {
    const moved = period.movements.filter((movement) => movement.shift === shift);
    expect(lastEntry).toBe(moved.at(-1)?.entry);
  }
  for (const [index, place] of overview.places.entries()) {
    const read = period.places[index];
    expect(place.lastMoved).toBe(read?.movements.at(-1)?.entry ?? null);
    expect([...place.standardsMoved]).toEqual([
      ...new Set(read?.movements.map(({ pieceStandard }) => pieceStandard)),
    ]);
    expect(needsTally({ ...place, hasMoved: place.lastMoved !== null })).toBe(
      read && needsTally(read),
    );
  }
}

it('counts what reading every posting finds, before a close and after it', async () => {
  const trial = await accountTrial();
  await expectSame(trial);
  await trial.move({ pieces: 100, from: 'with-supplier', to: 'receiving' });
  await trial.move({ pieces: 40, from: 'receiving', to: 'put-up' });
  await expectSame(trial);
  trial.now = Date.parse('2026-03-02T15:00:00Z');
  await trial.move({ pieces: 10, from: 'receiving', to: 'put-up' });
  await expectSame(trial);
  await tally(trial, 'receiving', [found(50, null)]);
  await tally(trial, 'put-up', [found(50, null)]);
  await close(trial, '2026-03-02-early');
  await expectSame(trial);
  await trial.move({ pieces: 50, from: 'put-up', to: 'strong-room' });
  await expectSame(trial);
});

it('leaves no record of what does not lie at a place any more', async () => {
  const trial = await accountTrial();
  await trial.move({ pieces: 100, from: 'with-supplier', to: 'receiving' });
  await trial.move({ pieces: 100, from: 'receiving', to: 'put-up' });
  expect(await trial.books.select(balances, { prefix: ['receiving'] })).toEqual([]);
  expect(await trial.books.select(balances, { prefix: ['put-up'] })).toMatchObject([
    { pieces: 100 },
  ]);
  const shift = '2026-03-02-early';
  expect(await trial.books.get(shiftMovements, '', shift)).toMatchObject({ movements: 2 });
  expect(await trial.books.get(shiftMovements, 'put-up', shift)).toMatchObject({ movements: 1 });
});

it('puts the oldest shifts of a plant that closes none on the docket, and says how many more wait', async () => {
  const trial = await accountTrial();
  for (let day = 2; day < 8; day += 1) {
    trial.now = Date.parse(`2026-03-0${day}T07:00:00Z`);
    await trial.move({ pieces: 10, from: 'with-supplier', to: 'receiving' });
  }
  trial.now = Date.parse('2026-03-08T07:00:00Z');
  const papers = await accountDocket(trial.books, new Date(trial.now).toISOString());
  expect(papers.map(({ paper }) => paper)).toEqual([
    'account/open-shift/2026-03-02-early',
    'account/open-shift/2026-03-03-early',
    'account/open-shift/2026-03-04-early',
  ]);
  expect(papers.at(-1)?.what).toContain('metal moved in it 1 times. 3 later ones wait too.');
});
