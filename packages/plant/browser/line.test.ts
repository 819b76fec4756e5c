import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { strikePhotograph } from '../simulation/demonstration/photographs.ts';
import { bookReader } from '../src/journal/books.ts';
import { balanceOfPlace } from '../src/journal/core-books.ts';
import { verifyCertificate } from '../src/stations/certificate/verify-certificate.ts';
import { Hands, openBrowser } from './bench-hand.ts';
import { type BrowserPlant, servePlant } from './browser-plant.ts';

// One consignment of gold blanks goes through the whole plant, in the hands of eight people at
// screens of their own, from the supplier's packing list to a certificate that is verified.

const melt = 'OM-77';
const pieces = 60;
/** Every piece weighs this, to the balance's last digit. */
const pieceGrams = 12.02;

const packingList = [
  'Fass;Schmelze;Stück;Brutto kg;Tara kg;Plombe;Feingehalt',
  `${melt}-F1;${melt};${pieces};2,1712;1,4500;PL-4411;751,9`,
  '',
].join('\n');

let served: BrowserPlant;
let browser: Browser;
const people = new Map<string, Hands>();
const at = (person: string): Hands => {
  const hands = people.get(person);
  if (!hands) throw new Error(`${person} has not signed in`);
  return hands;
};

beforeAll(async () => {
  served = await servePlant();
  browser = await openBrowser();
  for (const person of ['bettina', 'wren', 'tamsin', 'idris', 'orla', 'milo', 'jonas']) {
    people.set(person, await Hands.signIn(browser, served.address, person));
  }
});

afterAll(async () => {
  await browser.close();
  await served.close();
});

const piecesAt = async (place: Parameters<typeof balanceOfPlace>[1]): Promise<number> => {
  const rows = await balanceOfPlace(bookReader(served.plant.store.reader), place);
  return rows.reduce((sum, row) => sum + row.pieces, 0);
};

const grams = (count: number): string => (count * pieceGrams).toFixed(2);

describe('a consignment in the browser', () => {
  it('is announced by the custodian from the supplier’s own packing list', async () => {
    const bettina = at('bettina');
    await bettina.go('/receiving/announce');
    await bettina.fill('Consignment', 'C-77');
    await bettina.fill('Document', 'Lieferschein 4411');
    await bettina.choose('Osterhof Blanking Company');
    await bettina.choose(/Lantern/);
    await bettina.fill(/Or paste it/, packingList);
    await bettina.choose('comma');
    await bettina.press('Confirm columns');
    await bettina.sees('Read: 1 drums, 1 melts, 60 pieces');
    await bettina.press('Announce consignment');
    await bettina.page.getByRole('heading', { name: 'Consignment C-77' }).waitFor();
  });

  it('stops at a seal that is not the one of the list, and is weighed in at the right one', async () => {
    const bettina = at('bettina');
    await bettina.fill('Drum', `${melt}-F1`);
    await bettina.fill('Seal found', 'PL-9999');
    await bettina.fill(/Gross, the full drum/, '2171.2');
    await bettina.fill(/Tare, the empty drum/, '1450.0');
    await bettina.press('Record drum');
    await bettina.sees(/PL-9999/);
    await bettina.fill('Seal found', 'PL-4411');
    await bettina.press('Record drum');
    await bettina.sees('Order the samples of');
    expect(await piecesAt('receiving')).toBe(pieces);
  });

  it('is sampled by a draw that nobody could choose', async () => {
    const wren = at('wren');
    await wren.go('/receiving/consignments/C-77');
    await wren.press('Order samples');
    await wren.page.getByRole('link', { name: new RegExp(`pick list of ${melt}`) }).click();
    await wren.page.getByRole('heading', { name: `Pick list of melt ${melt}` }).waitFor();
    const drawn = await wren.page.getByText(/\d+ blanks: 2 for assay/).textContent();
    const count = Number(/(\d+) blanks/.exec(drawn ?? '')?.[1]);
    // A head line, and a row for each blank.
    expect(await wren.page.getByRole('row').count()).toBe(count + 1);
    await wren.fill(/Mass of the sample/, grams(count));
    await wren.fill('Balance', 'BAL-L2');
    await wren.fill(/Why picks are not scanned/, 'The blanks of this trial bear no labels.');
    await wren.press('Record draw');
    await wren.sees(/The trial goes on in the/);
    expect(await piecesAt('laboratory')).toBe(count);
  });

  it('is measured by the inspector, blank for blank', async () => {
    const wren = at('wren');
    await wren.go(`/laboratory/melts/${melt}`);
    for (const [label, text] of [
      ['Mass', '12.020'],
      ['Diameter', '26.001'],
      ['Thickness', '1.520'],
    ] as const) {
      const fields = wren.page.getByLabel(new RegExp(`^${label}( waits)?$`));
      for (let index = 0; index < (await fields.count()); index += 1) {
        await fields.nth(index).fill(text);
      }
    }
    await wren.press('Record measurements');
    await wren.sees('to be cut');
  });

  it('is cut and cupelled by the assayer, who sees no value of the supplier', async () => {
    const tamsin = at('tamsin');
    await tamsin.go(`/laboratory/melts/${melt}`);
    await tamsin.sees('hidden until the result is signed');
    await tamsin.press('Cut blanks');
    await tamsin.sees('Before you begin');
    await tamsin.fill('Run', 'CU-77');
    for (const [label, text] of [
      ['Gold taken, P1', '187.50'],
      ['Cornet, P1', '187.58'],
      ['Gold taken, P2', '187.46'],
      ['Cornet, P2', '187.55'],
      ['Portion, A1', '250.04'],
      ['Cornet, A1', '188.06'],
      ['Portion, A2', '250.11'],
      ['Cornet, A2', '188.12'],
    ] as const) {
      await tamsin.fill(label, text);
    }
    await tamsin.page.getByLabel(/extraction/).check();
    await tamsin.press('Record run');
    await tamsin.sees('if it were signed now');
    await tamsin.sign('Sign result');
    await tamsin.sees('to be checked');
    await tamsin.page
      .getByText(/751\.9/)
      .first()
      .waitFor();
  });

  it('is checked by another assayer and released by the chief assayer', async () => {
    const idris = at('idris');
    await idris.go(`/laboratory/melts/${melt}`);
    await idris.sign('Check result');
    await idris.sees('to be ruled');
    const orla = at('orla');
    await orla.go('/');
    await orla.sees(new RegExp(`Melt ${melt}`));
    await orla.go(`/laboratory/melts/${melt}`);
    await orla.choose('release');
    await orla.fill('Reason', 'The result lies above its acceptance limit.');
    await orla.sign('Rule on melt');
    await orla.sees('released');
  });

  it('is struck with examined strikes and photographs, and sent to put-up', async () => {
    const milo = at('milo');
    await strikeAtThePress(milo);
    expect(await piecesAt('in-transit')).toBe(40);
  });

  it('is put up by weight: a tube with nineteen is stopped, the others are sealed in a box', async () => {
    const jonas = at('jonas');
    await jonas.go('/put-up');
    await jonas.fill('Pieces counted', '39');
    await jonas.sign('Accept delivery');
    await jonas.sees(/39 pieces are counted; milo signed that 40 were sent/);
    await jonas.fill('Pieces counted', '40');
    await jonas.sign('Accept delivery');
    await jonas.sees(/fill a tube/);
    await weighTube(jonas, { tube: 'T-1', netPieces: 20 });
    await jonas.sees('proved');
    await weighTube(jonas, { tube: 'T-2', netPieces: 19 });
    await weighTube(jonas, { tube: 'T-2', netPieces: 19 });
    await jonas.sees('stopped');
    await jonas.go('/put-up/tubes/T-2');
    await jonas.fill('Pieces found', '20');
    await jonas.sign(/Open tube/, 'milo');
    await jonas.sees('open');
    await weighTube(jonas, { tube: 'T-2', netPieces: 20 });
    await packBox(jonas);
    expect(await piecesAt('strong-room')).toBe(40);
  });

  it('is certified, and the record is verified in the browser without the plant', async () => {
    const orla = at('orla');
    await orla.go('/certificate/issue');
    await orla.fill('Certificate number', 'CERT-77');
    await orla.page.getByRole('checkbox', { name: /B-1/ }).check();
    await orla.sign('Issue certificate');
    await orla.sees(/Recorded as entry/);
    const record = await orla.page.request.get(
      `${served.address}/api/papers/certificate-record/CERT-77`,
    );
    const text = await record.text();
    expect((await verifyCertificate(text)).holds).toBe(true);
    const paper = await orla.page.request.get(`${served.address}/api/papers/certificate/CERT-77`);
    expect((await paper.body()).subarray(0, 5).toString()).toBe('%PDF-');
    await orla.go('/certificate/verify');
    const file = { name: 'CERT-77.json', mimeType: 'application/json' };
    const chooser = orla.page.locator('#certificate-file');
    await chooser.setInputFiles({ ...file, buffer: Buffer.from(text) });
    await orla.sees('Certificate CERT-77 holds.');
    // One digit of one cornet in the readable part.
    const altered = text.replace('188.06', '188.07');
    expect(altered).not.toBe(text);
    await chooser.setInputFiles({ ...file, buffer: Buffer.from(altered) });
    await orla.sees(/does not hold: /);
    await orla.sees(/188\.07/);
  });

  it('goes to an approved purchaser only, signed by two people', async () => {
    const jonas = at('jonas');
    await jonas.go('/certificate/dispatch');
    await jonas.fill('Dispatch number', 'SH-77');
    await jonas.fill('Document', 'Delivery note 77');
    await jonas.page.getByRole('checkbox', { name: /B-1/ }).check();
    await jonas.choose(/Old Mill Brokers/);
    await jonas.sign(/Dispatch boxes/, 'milo');
    await jonas.sees(/approval of Old Mill Brokers ended/);
    await jonas.choose(/Calder House/);
    await jonas.sign(/Dispatch boxes/, 'milo');
    await jonas.sees(/Recorded as entry/);
    expect(await piecesAt('with-purchaser')).toBe(40);
  });

  it('can be told both ways from any of its things', async () => {
    const orla = at('orla');
    await orla.go('/lineage/box/B-1');
    for (const id of [melt, 'C-77', 'RUN-77', 'T-1', 'L-O-01', 'CERT-77']) await orla.sees(id);
    await orla.go(`/lineage/melt/${melt}`);
    await orla.sees('B-1');
  });

  it('left no error on anybody’s page', () => {
    for (const hands of people.values()) expect(hands.errors, hands.person).toEqual([]);
  });
});

async function weighTube(
  jonas: Hands,
  options: { tube: string; netPieces: number },
): Promise<void> {
  await jonas.go(`/put-up/weigh?melt=${melt}`);
  await jonas.fill('Tube', options.tube);
  await jonas.fill(/Tare, the empty tube/, '9.10');
  await jonas.fill(/Gross, the closed tube/, (9.1 + options.netPieces * pieceGrams).toFixed(2));
  await jonas.press('Record tube');
  await jonas.sees(/Recorded as entry/);
}

async function packBox(jonas: Hands): Promise<void> {
  await jonas.go('/put-up/pack');
  await jonas.fill('Box', 'B-1');
  for (const tube of ['T-1', 'T-2']) {
    await jonas.fill('Next tube', tube);
    await jonas.page.keyboard.press('Enter');
  }
  await jonas.fill(/Tare, the empty box/, '284.0');
  await jonas.fill(/Gross, the closed box/, (284 + 2 * 9.1 + 40 * pieceGrams).toFixed(1));
  await jonas.fill('Seal', 'K-77');
  await jonas.sign(/Seal box/, 'milo');
  await jonas.sees(/Recorded as entry/);
}

/** From taking the blanks to sending the pieces, with the first and the last strike examined. */
async function strikeAtThePress(milo: Hands): Promise<void> {
  await milo.go('/press-room/take-blanks');
  await milo.fill('Melt', melt);
  await milo.fill('Pieces', '40');
  await milo.fill('Mass of the blanks, container tared off', (40 * pieceGrams).toFixed(1));
  await milo.sign(/Take blanks/, 'bettina');
  await milo.sees(/Recorded as entry/);
  await milo.go('/press-room/open-run');
  await milo.fill('Run', 'RUN-77');
  await milo.fill('Press', 'PRESS-2');
  await milo.fill('Melt', melt);
  await milo.fill('Obverse die', 'L-O-01');
  await milo.fill('Reverse die', 'L-R-01');
  await milo.fill('Collar', 'L-C-01');
  await milo.fill('Counter of the press now', '7000');
  await milo.sign(/Open run/, 'bettina');
  await milo.page.getByRole('heading', { name: 'Examine the first strike' }).waitFor();
  await examine(milo, { counter: '7001', strikeNumber: 1 });
  await milo.page.getByRole('heading', { name: 'Examine a strike' }).waitFor();
  await milo.choose('Last');
  await examine(milo, { counter: '7040', strikeNumber: 40 });
  await milo.page.getByRole('heading', { name: 'Close the run' }).waitFor();
  await milo.fill('Counter of the press now', '7040');
  await milo.sign(/Close run/, 'bettina');
  await milo.page.getByRole('heading', { name: 'Send pieces to put-up' }).waitFor();
  await milo.fill('Pieces', '40');
  await milo.fill('Mass of the pieces, container tared off', (40 * pieceGrams).toFixed(1));
  await milo.sign(/Send pieces/);
  await milo.sees(/all judged pieces have left|Recorded as entry/);
}

async function examine(
  milo: Hands,
  strike: { counter: string; strikeNumber: number },
): Promise<void> {
  await milo.fill('Counter of the press now', strike.counter);
  const readings = milo.page.locator('.reading-entry');
  for (const [index, text] of ['12.0', '26.001', '1.520'].entries()) {
    await readings.nth(index).fill(text);
  }
  const { strikeNumber } = strike;
  for (const [label, face] of [
    ['Obverse', 'obverse'],
    ['Reverse', 'reverse'],
    ['Edge', 'edge'],
  ] as const) {
    const buffer = Buffer.from(strikePhotograph({ face, strikeNumber, cracked: false }));
    const file = { name: `${face}.png`, mimeType: 'image/png', buffer };
    await milo.page.getByLabel(label, { exact: true }).setInputFiles(file);
  }
  await milo.page.getByAltText('Edge', { exact: true }).waitFor();
  await milo.choose('Approved');
  await milo.press('Record strike');
}
