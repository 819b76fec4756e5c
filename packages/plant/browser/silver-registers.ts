import type { Hands } from './bench-hand.ts';
import { certified } from './silver-figures.ts';

/** A day that lies after all others here. */
export const later = new Date(Date.now() + 200 * 86_400_000).toISOString().slice(0, 10);

async function addRow(hands: Hands, title: string): Promise<void> {
  const group = hands.page.getByRole('group', { name: title });
  await group.getByRole('button', { name: 'Add a row' }).click();
}

/** States a method that asks for a reference material, a blank and a reagent in every run. */
export async function stateMethod(chief: Hands): Promise<void> {
  await chief.go('/registers/state-method');
  await chief.fill('Method', 'AG-DIFF');
  await chief.fill('Title', 'Fine silver by difference');
  await chief.choose('fineness-by-difference');
  await chief.fill('Calculation', 'fineness-by-difference');
  await chief.choose('silver');
  await chief.fill('Least fineness', '998');
  await chief.fill('Greatest fineness', '999.99');
  await addRow(chief, 'Reference materials asked');
  await chief.page.getByLabel('Named by, row 1').selectOption('kind');
  await chief.fill('Kind or id, row 1', 'fine silver');
  await chief.fill('Determinations in a run, row 1', '1');
  await addRow(chief, 'Blanks asked');
  await chief.fill('Quantity, row 1', 'Cu');
  await chief.fill('Unit, row 1', 'mg/kg');
  await chief.fill('Greatest value, row 1', '1');
  await addRow(chief, 'Reagents asked');
  await chief.fill('Reagent, row 1', 'nitric acid 65 %');
  await addRow(chief, 'Cautions');
  await chief.fill(
    'Caution, row 1',
    'Nitric acid attacks skin, eyes and lungs: fume cupboard, gloves, face protection.',
  );
  await chief.sign('State method');
}

/** Receives a bottle of the reference material with the values of its certificate. */
export async function receiveMaterial(assayer: Hands): Promise<void> {
  await assayer.go('/registers/receive-reference-material');
  await assayer.fill('Reference material', 'RM-AG-7');
  await assayer.fill('Kind', 'fine silver');
  await assayer.fill('Title', 'Fine silver seven');
  await assayer.choose('silver');
  await assayer.fill('Certificate', 'Certificate 7 of Marl Reference Metals');
  for (const [index, [quantity, value, unit, uncertainty]] of certified.entries()) {
    if (index > 0) await addRow(assayer, 'Certified values');
    await assayer.fill(`Quantity, row ${index + 1}`, quantity);
    await assayer.fill(`Certified value, row ${index + 1}`, value);
    await assayer.page.getByLabel(`Unit, row ${index + 1}`).selectOption(unit);
    await assayer.fill(`Standard uncertainty, row ${index + 1}`, uncertainty);
  }
  await assayer.fill('Mass received', '5.000');
  await assayer.fill('Valid until', later);
  await assayer.sign('Receive reference material');
}

/** Receives a lot of the reagent and opens it. */
export async function receiveLot(assayer: Hands): Promise<void> {
  await assayer.go('/registers/receive-reagent-lot');
  await assayer.fill('Lot', 'HNO3-12');
  await assayer.fill('Reagent', 'nitric acid 65 %');
  await assayer.fill('Supplier', 'Marl Reagents');
  await assayer.fill("Supplier's lot", 'Z-881');
  await assayer.fill('Expires', later);
  await assayer.press('Receive reagent lot');
  await assayer.page.getByRole('link', { name: 'HNO3-12' }).click();
  await assayer.press('Open reagent lot');
}
