import type { Hands } from './bench-hand.ts';
import { type Found, listOf } from './silver-figures.ts';

/** The fields that belong together under that title. */
const group = (hands: Hands, name: string | RegExp) => hands.page.getByRole('group', { name });

/** Pastes a list into the table of a solution. */
export async function pasteSolution(hands: Hands, title: string, found: Found): Promise<void> {
  const cell = group(hands, title)
    .getByRole('textbox', { name: /^Element/ })
    .first();
  await cell.evaluate((element, text) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text', text);
    const told = { clipboardData, bubbles: true, cancelable: true };
    element.dispatchEvent(new ClipboardEvent('paste', told));
  }, listOf(found));
}

/** A difference run in its worksheet, up to the act that records it. */
export async function fillRun(
  hands: Hands,
  run: {
    readonly assayRun: string;
    readonly solutions: Readonly<Record<string, Found>>;
    readonly reference: Found;
  },
): Promise<void> {
  await hands.fill('Run', run.assayRun);
  for (const [label, found] of Object.entries(run.solutions)) {
    await pasteSolution(hands, `Solution ${label}`, found);
  }
  await hands.fill('Reference material RM1', 'RM-AG-7');
  await hands.fill('Taken, RM1', '500.12');
  await pasteSolution(hands, 'Reference RM1', run.reference);
  await hands.fill('Value, BL1', '0.1');
  await hands.fill('Lot of nitric acid 65 %', 'HNO3-12');
}

/** Every blank of the melt weighed and gauged: alike, and within the limits. */
export async function measureBlanks(hands: Hands, melt: string): Promise<void> {
  await hands.go(`/laboratory/melts/${melt}`);
  await fillMeasurements(hands);
  await hands.sees('to be cut');
}

/** Weighs and gauges the blanks that are not measured yet, alike and within the limits. */
async function fillMeasurements(hands: Hands): Promise<void> {
  for (const [label, text] of [
    ['Mass', '15.050'],
    ['Diameter', '30.001'],
    ['Thickness', '2.050'],
  ] as const) {
    const fields = hands.page.getByLabel(new RegExp(`^${label}( waits)?$`));
    const count = await fields.count();
    for (let index = 0; index < count; index += 1) await fields.nth(index).fill(text);
  }
  await hands.press('Record measurements');
}

/**
 * Further blanks of a melt on their way: asked for by an assayer, drawn, taken from their drums and
 * measured by an inspector.
 */
export async function bringFurtherBlanks(
  of: { readonly assayer: Hands; readonly inspector: Hands },
  asked: { readonly melt: string; readonly pieces: number; readonly pieceGrams: number },
): Promise<void> {
  const { assayer, inspector } = of;
  const { melt, pieces, pieceGrams } = asked;
  await assayer.go(`/laboratory/melts/${melt}`);
  await assayer.press('Ask further blanks');
  await assayer.fill('Further blanks', String(pieces));
  await assayer.fill('Why they are needed', 'Two more determinations decide it.');
  await assayer.sign('Ask for further blanks');
  await assayer.sees('asked for, to be drawn at receiving');
  await inspector.go(`/receiving/melts/${melt}/further`);
  await inspector.press('Draw further blanks');
  await inspector.fill(/Mass of the further blanks/, (pieces * pieceGrams).toFixed(2));
  await inspector.fill('Balance', 'BAL-L2');
  await inspector.fill(/Why picks are not scanned/, 'The blanks of this trial bear no labels.');
  await inspector.press('Take further blanks');
  await inspector.sees(/The trial goes on in the/);
  await inspector.go(`/laboratory/melts/${melt}`);
  await inspector.press('Measure blanks');
  await fillMeasurements(inspector);
  await inspector.sees(/✓ Measure blanks/);
}

/** The blanks that stand on the page of cutting: those that a draw chose for assay. */
export async function blanksOffered(hands: Hands): Promise<readonly string[]> {
  const names = await group(hands, 'Blanks').locator('.thing-link').allTextContents();
  return names.map((name) => name.trim());
}

/** One assayer signs the result of a melt that is open before him, another checks it. */
export async function signAndCheck(signer: Hands, checker: Hands, melt: string): Promise<void> {
  await signer.sign('Sign result');
  await signer.sees('to be checked');
  await checker.go(`/laboratory/melts/${melt}`);
  await checker.sign('Check result');
  await checker.sees('to be ruled');
}

/** The chief assayer rules on the melt that is open before him. */
export async function rule(chief: Hands, ruling: string, reason: string): Promise<void> {
  await chief.choose(ruling);
  await chief.fill('Reason', reason);
  await chief.sign('Rule on melt');
}
