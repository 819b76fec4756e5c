import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Hands, openBrowser } from './bench-hand.ts';
import { type BrowserPlant, servePlant } from './browser-plant.ts';

let browser: Browser;
let served: BrowserPlant;

beforeAll(async () => {
  served = await servePlant();
  browser = await openBrowser();
});

afterAll(async () => {
  await browser.close();
  await served.close();
});

it('runs a calculation in the browser, shows how far it is, and stops it', async () => {
  const orla = await Hands.signIn(browser, served.address, 'orla');
  await orla.go('/calculations/monte-carlo');
  await orla.press('Fill in the worked example');
  await orla.sees(/From .* trials/);
  const trials = orla.page
    .getByLabel(/^Trials/)
    .filter({ visible: true })
    .last();
  await trials.fill('10000000');
  await orla.press('Calculate');
  await orla.page.getByRole('progressbar').waitFor();
  await orla.press('Stop');
  await orla.sees('Stopped. Nothing typed here is lost.');
  expect(await trials.inputValue()).toBe('10000000');
  await trials.fill('20000');
  await orla.press('Calculate');
  await orla.sees(/From 20.?000 trials/);
  expect(orla.errors).toEqual([]);
  await orla.leave();
});
