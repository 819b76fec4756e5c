// npm run picture: makes the README's picture from the running product.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromiumPath } from './chromium.mjs';
import { buildWorkbench, install, projectEnvironment, projectNode, root } from './prepare.mjs';

install();
buildWorkbench();
const { chromium } = await import('playwright-core');
const folder = mkdtempSync(join(tmpdir(), 'cupel-picture-'));
const data = join(folder, 'plant');
const cupel = join(root, 'packages', 'plant', 'bin', 'cupel.mjs');
const port = 24_619;
const address = `http://127.0.0.1:${port}`;
const options = { cwd: root, env: projectEnvironment, stdio: 'inherit' };

spawnSync(projectNode, [cupel, 'demo', '--data', data], options);
const server = spawn(
  projectNode,
  [cupel, 'serve', '--data', data, '--port', String(port)],
  options,
);
const browser = await chromium.launch({
  executablePath: chromiumPath(),
  args: ['--no-sandbox', '--disable-gpu'],
});
try {
  const page = await browser.newPage({
    viewport: { width: 1280, height: 800 },
    locale: 'en-GB',
    deviceScaleFactor: 1,
  });
  for (let attempt = 0; attempt < 40; attempt += 1) {
    if (await page.goto(address).catch(() => undefined)) break;
    await page.waitForTimeout(250);
  }
  await page.getByLabel('Sign-in name').fill('orla');
  await page.getByLabel('Password').fill('orla-at-the-weir');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Docket' }).waitFor();
  await page.waitForTimeout(800);
  await page.screenshot({ path: join(root, 'docs', 'pictures', 'docket.png') });
} finally {
  await browser.close();
  server.kill('SIGTERM');
  rmSync(folder, { recursive: true });
}
