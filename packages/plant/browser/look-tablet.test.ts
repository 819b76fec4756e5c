import { expect, it } from 'vitest';
import { expectCleanPages } from './pages.ts';
import { demonstrationInBrowser } from './served-demonstration.ts';

const served = demonstrationInBrowser();

it('breaks no rule of accessibility on a tablet in the dark, fits its screen and reports no error', async () => {
  expect.hasAssertions();
  await expectCleanPages(served.browser, served.address, { width: 820, height: 1180, dark: true });
});
