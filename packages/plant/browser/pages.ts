import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { expect } from 'vitest';
import { Hands } from './bench-hand.ts';

/** Every desk and the pages behind the docket's papers, in the demonstration plant. */
const pages = [
  '/',
  '/receiving',
  '/receiving/announce',
  '/receiving/consignments/C-0006',
  '/receiving/melts/OS-005',
  '/receiving/differences',
  '/receiving/melts/FS-005/exchange',
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

/** A screen of a size, by day or by night. */
export interface Screen {
  readonly width: number;
  readonly height: number;
  readonly dark: boolean;
}

/** What axe finds against WCAG 2.2 AA on the page that is open. */
async function faultsOf(orla: Hands, path: string): Promise<string[]> {
  // A page has no frames: what is found need not be gathered in a tab of its own.
  const { violations } = await new AxeBuilder({ page: orla.page })
    .setLegacyMode(true)
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  return violations.map(({ id, nodes }) => `${path}: ${id} at ${nodes[0]?.target.join(' ')}`);
}

/** Opens every page on a screen: no fault that axe can tell, none wider than its screen, no error. */
export async function expectCleanPages(
  browser: Browser,
  address: string,
  screen: Screen,
): Promise<void> {
  const orla = await Hands.signIn(browser, address, 'orla', screen);
  const found: string[] = [];
  for (const path of pages) {
    await orla.go(path);
    const width = await orla.page.evaluate(() => document.documentElement.scrollWidth);
    if (width > screen.width) found.push(`${path} is ${width} px wide`);
    found.push(...(await faultsOf(orla, path)));
  }
  expect(found).toEqual([]);
  expect(orla.errors).toEqual([]);
  await orla.leave();
}
