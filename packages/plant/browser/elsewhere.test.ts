import { describe, expect, it } from 'vitest';
import { Hands } from './bench-hand.ts';
import { demonstrationInBrowser } from './served-demonstration.ts';

const served = demonstrationInBrowser();

describe('another person’s screen', () => {
  it('shows what somebody else has just recorded, without being asked', async () => {
    const jonas = await Hands.signIn(served.browser, served.address, 'jonas');
    const bettina = await Hands.signIn(served.browser, served.address, 'bettina');
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
    const jonas = await Hands.signIn(served.browser, served.address, 'jonas');
    await jonas.go('/account');
    // A keyboard wedge types without waiting for anybody, and ends with Enter.
    const keys = [...'BS0001', 'Enter'];
    await Promise.all(keys.map((key) => jonas.page.keyboard.press(key)));
    await jonas.page.getByRole('heading', { name: /box BS0001/i }).waitFor();
    await jonas.leave();
  });

  it('keeps what was typed when the network is lost, and records it once', async () => {
    const jonas = await Hands.signIn(served.browser, served.address, 'jonas');
    await jonas.go('/put-up/weigh?melt=FS-010');
    await jonas.fill('Tube', 'T-NET');
    await jonas.fill('Pieces', '10');
    await jonas.fill(/Tare, the empty tube/, '14.20');
    await jonas.fill(/Gross, the closed tube/, '214.80');
    const before = (await served.plant.store.reader.lastLine())?.number;
    await jonas.page.context().setOffline(true);
    await jonas.press('Record tube');
    await jonas.sees('Nothing typed here is lost.');
    await jonas.page.context().setOffline(false);
    await jonas.press('Send again');
    await jonas.sees(/Recorded as entry/);
    expect((await served.plant.store.reader.lastLine())?.number).toBe((before ?? 0) + 1);
    await jonas.leave();
  });
});
