import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OpenPlant } from '../src/main/plant.ts';
import { Hands, openBrowser } from './bench-hand.ts';
import { serveDemonstration } from './served-demonstration.ts';

// Every desk and the pages behind the docket's papers, on the demonstration plant: WCAG 2.2 AA as
// far as axe can tell, no page wider than its screen, no error of a page.

let address = '';
let plant: OpenPlant;
let browser: Browser;
let close: () => Promise<void>;

beforeAll(async () => {
  const served = await serveDemonstration();
  browser = await openBrowser();
  ({ address, plant } = served);
  close = async () => {
    await browser.close();
    await served.close();
  };
});

afterAll(async () => close());

const pages = [
  '/',
  '/receiving',
  '/receiving/announce',
  '/receiving/consignments/C-0006',
  '/receiving/melts/OS-005',
  '/receiving/differences',
  '/receiving/portions',
  '/laboratory',
  '/laboratory/charts',
  '/laboratory/metal',
  '/laboratory/proficiency',
  '/laboratory/tables',
  '/laboratory/melts/OS-005/hardness',
  '/laboratory/melts/OS-005/structure',
  '/laboratory/melts/OS-005/worksheets',
  '/laboratory/melts/OS-005',
  '/laboratory/melts/OG-001',
  '/press-room',
  '/press-room/runs/RUN-0029',
  '/put-up',
  '/put-up/weigh',
  '/put-up/pack',
  '/put-up/tubes/TS09019',
  '/put-up/boxes/BS0001',
  '/certificate',
  '/certificate/issue',
  '/certificate/certificates/CERT-0001',
  '/certificate/verify',
  '/account',
  '/account/items',
  '/account/places/put-up',
  '/account/racks',
  '/search',
  '/me',
  '/registers',
  '/registers/methods',
  '/registers/reference-materials',
  '/registers/reagents',
  '/registers/instruments/BAL-L1',
  '/registers/instruments/BAL-L1/line',
  '/calculations',
  '/calculations/count-by-weight',
  '/calculations/fault-posterior',
  '/calculations/search-order',
  '/lineage/box/BS0001',
  '/journal',
];

const screens = [
  { name: 'a desk in the light', width: 1280, height: 800, dark: false },
  { name: 'a tablet in the dark', width: 820, height: 1180, dark: true },
];

for (const screen of screens) {
  describe(`the workbench on ${screen.name}`, () => {
    it('breaks no rule of accessibility, fits its screen and reports no error', async () => {
      const orla = await Hands.signIn(browser, address, 'orla', screen);
      const found: string[] = [];
      for (const path of pages) {
        await orla.go(path);
        const width = await orla.page.evaluate(() => document.documentElement.scrollWidth);
        if (width > screen.width) found.push(`${path} is ${width} px wide`);
        const { violations } = await new AxeBuilder({ page: orla.page })
          .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
          .analyze();
        for (const { id, nodes } of violations) {
          found.push(`${path}: ${id} at ${nodes[0]?.target.join(' ')}`);
        }
      }
      expect(found).toEqual([]);
      expect(orla.errors).toEqual([]);
      await orla.leave();
    });
  });
}

describe('another person’s screen', () => {
  it('shows what somebody else has just recorded, without being asked', async () => {
    const jonas = await Hands.signIn(browser, address, 'jonas');
    const bettina = await Hands.signIn(browser, address, 'bettina');
    await jonas.go('/put-up');
    await bettina.go('/put-up');
    await jonas.sees('signed by one side only');
    await bettina.fill('Pieces counted', '118');
    await bettina.sign('Accept delivery');
    await jonas.page.getByText('signed by one side only').waitFor({ state: 'detached' });
    await jonas.leave();
    await bettina.leave();
  });

  it('opens the lineage of a code that is scanned anywhere', async () => {
    const jonas = await Hands.signIn(browser, address, 'jonas');
    await jonas.go('/account');
    // A keyboard wedge types fast and ends with Enter.
    await jonas.page.keyboard.type('BS0001', { delay: 4 });
    await jonas.page.keyboard.press('Enter');
    await jonas.page.getByRole('heading', { name: /box BS0001/i }).waitFor();
    await jonas.leave();
  });

  it('keeps what was typed when the network is lost, and records it once', async () => {
    const jonas = await Hands.signIn(browser, address, 'jonas');
    await jonas.go('/put-up/weigh?melt=FS-010');
    await jonas.fill('Tube', 'T-NET');
    await jonas.fill('Pieces', '10');
    await jonas.fill(/Tare, the empty tube/, '14.20');
    await jonas.fill(/Gross, the closed tube/, '214.80');
    const before = (await plant.store.reader.lastLine())?.number;
    await jonas.page.context().setOffline(true);
    await jonas.press('Record tube');
    await jonas.sees('Nothing typed here is lost.');
    await jonas.page.context().setOffline(false);
    await jonas.press('Send again');
    await jonas.sees(/Recorded as entry/);
    expect((await plant.store.reader.lastLine())?.number).toBe((before ?? 0) + 1);
    await jonas.leave();
  });
});
