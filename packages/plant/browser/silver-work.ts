import type { Hands } from './bench-hand.ts';

/** What one solution is found to hold: element with its content and standard uncertainty, in mg/kg. */
export type Found = Readonly<Record<string, readonly [content: number, uncertainty: number]>>;

const detectionLimits: Readonly<Record<string, number>> = { Cu: 0.5, Pb: 0.4, Bi: 0.5, Fe: 0.2 };

/** The list of a solution as the program of a spectrometer copies it. */
export function listOf(found: Found): string {
  return Object.entries(found)
    .map(([element, [content, uncertainty]]) =>
      [element, content, uncertainty, detectionLimits[element]].join('\t'),
    )
    .join('\n');
}

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
  await hands.sees('to be cut');
}

/** The blanks that stand on the page of cutting, by the draw or as further ones. */
export async function blanksOffered(hands: Hands): Promise<readonly string[]> {
  const names = await group(hands, 'Blanks').locator('.thing-link').allTextContents();
  return names.map((name) => name.trim());
}

const rows = (label: string, values: readonly (readonly number[])[]): readonly string[] =>
  values.map((row, index) => {
    const figures = row.map((one) => one.toFixed(2).replace('.', ','));
    return [`${label} (${index + 1})`, ...figures].join(';');
  });

/**
 * The result file of a spectrometer over one sequence: blanks of reagents, standards, drift before
 * and after, two solutions of the melt and one of the reference material, each read twice.
 */
export function resultFile(blanks: readonly [string, string]): string {
  return [
    'Messung 2207-B;;;;',
    'Feinsilber, in Salpetersäure gelöst;;;;',
    ';;;;',
    'Probe;Cu 324,754;Pb 220,353;Bi 223,061;Fe 259,940',
    ';mg/kg;mg/kg;mg/kg;mg/kg',
    ...rows('Blindwert', [
      [0.11, 0.05, 0.08, 0.04],
      [0.15, 0.07, 0.05, 0.02],
    ]),
    'Std 0;0,02;0,01;0,02;0,00',
    'Std 1;499,10;249,70;100,20;50,10',
    'Std 2;1001,20;500,60;199,80;99,90',
    'Drift (1);500,40;250,10;100,10;50,00',
    ...rows(blanks[0], [
      [842, 291, 88, 21],
      [839, 292.5, 87.4, 21.3],
    ]),
    ...rows(blanks[1], [
      [848, 295, 88.6, 21.1],
      [845, 293.8, 89, 20.8],
    ]),
    ...rows('RM-AG-7', [
      [301.5, 99.2, 40.3, 10.1],
      [299.8, 100.4, 39.9, 9.9],
    ]),
    'Drift (2);503,10;251,30;100,60;50,20',
    'NWG;0,50;0,40;0,50;0,20',
    '',
  ].join('\n');
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
