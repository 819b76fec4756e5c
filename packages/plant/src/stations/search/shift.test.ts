import { describe, expect, it } from 'vitest';
import { searchDocket } from './docket.ts';
import { opened, searchTrial, tallied } from './search-trial.ts';

const shiftHours = 8;

describe('the shift of a search', () => {
  it('is the open one whose tallies differ, also when it is begun in a later one', async () => {
    const trial = await searchTrial(19);
    const desk = (await trial.ask('balance-desk', {}, 'chief')) as { openShifts: string[] };
    await tallied(trial, 'put-up', 46);
    trial.now += shiftHours * 3_600_000;
    const search = await opened(trial);
    const answer = (await trial.ask('search', { search }, 'chief')) as { search: object };
    const { shift } = (await trial.ask('balance-desk', {}, 'chief')) as { shift: string };
    expect(answer.search).toMatchObject({ shift: desk.openShifts[0] });
    expect(shift).not.toBe(desk.openShifts[0]);
  });
});

describe('the docket', () => {
  it('calls whoever opened a search by the full name', async () => {
    const trial = await searchTrial(19);
    // The trial enrols its chief under this name.
    await tallied(trial, 'put-up', 46);
    await opened(trial);
    const [paper] = await searchDocket(trial.books);
    expect(paper?.why).toMatch(/^Opened by Chief, entry \d+/);
    const again = await trial.do('open-search', { pieceStandard: 'lark-8' }, 'chief');
    expect(JSON.stringify(again)).toContain('Chief has opened search');
  });
});
