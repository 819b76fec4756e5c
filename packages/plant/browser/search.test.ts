import { expect, it } from 'vitest';
import { Hands } from './bench-hand.ts';
import { demonstrationInBrowser } from './served-demonstration.ts';

// The demonstration ends with a piece missing in put-up and a tube that weighs nineteen. Three people
// walk from the tally to the piece: the accountant opens the search, two look on tablets of their own.

const served = demonstrationInBrowser();

const tablet = { width: 820, height: 1180, dark: true } as const;
const tube = 'TS09019';

it('walks from a tally that differs to the piece that is found', async () => {
  const sorrel = await Hands.signIn(served.browser, served.address, 'sorrel');
  const jonas = await Hands.signIn(served.browser, served.address, 'jonas', tablet);
  const wren = await Hands.signIn(served.browser, served.address, 'wren', tablet);

  await sorrel.go('/account/places/put-up');
  await sorrel.sees(/missing/);
  await sorrel.go('/search');
  await sorrel.sees('heron-20: 1 piece missing in put-up');
  await sorrel.press('Open search');
  await sorrel.sees(`tube ${tube} holds 19, not 20, and the piece lies nowhere else`);
  const path = new URL(sorrel.page.url()).pathname;

  // Those who look see where, and not what should lie there.
  await jonas.go(path);
  await wren.go(path);
  const first = jonas.page.locator('.search-looks > li').first();
  await first.getByText(`Weigh tube ${tube} once more, then open it as two`).waitFor();
  await first.getByText(/19 fit 0\.9\d+, a bad weighing 0\.0\d+: weigh again first/).waitFor();
  expect(await jonas.page.getByText('1 piece missing').count()).toBe(0);

  // One looks in vain at the wrong place; the other sees it at once, without doing anything.
  await wren.press('Record: Let another person count put-up');
  await wren.fill('What was seen', 'All the loose ones counted twice.');
  await wren.press('Nothing found');
  await jonas.sees('All the loose ones counted twice.');
  await jonas.sees(/looked at once in vain/);

  await jonas.press(`Record: Weigh tube ${tube}`);
  await jonas.fill('What was seen', 'Nineteen in it; the twentieth lay under the chute.');
  await jonas.press(/^Found/);
  await wren.sees('Nineteen in it; the twentieth lay under the chute.');

  await sorrel.press('End this search');
  await sorrel.fill('Proof', 'Opened by jonas and wren: nineteen; the piece lay under the chute.');
  await sorrel.sign('End search', 'jonas');
  await sorrel.sees('cause confirmed');
  await sorrel.go('/search');
  await sorrel.sees(`tube ${tube}`);
  const learned = sorrel.page.getByRole('row', { name: /^tube miscounted/ });
  await learned.getByRole('cell', { name: '1', exact: true }).waitFor();

  for (const hands of [sorrel, jonas, wren]) {
    expect(hands.errors).toEqual([]);
    await hands.leave();
  }
});
