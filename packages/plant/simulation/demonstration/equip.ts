import { dayAfter } from './founding.ts';
import type { Hand } from './hand.ts';
import {
  acidOpened,
  numberSeries,
  racks,
  reagentLots,
  referenceMassReceived,
  referenceMaterials,
  screeningSpectrometer,
} from './laboratory-stock.ts';
import { cupellationOfGold, differenceOfSilver, oneReference } from './stated-methods.ts';

/** How long a bottle lasts once it is open; long enough for a newcomer's own runs. */
const openedDays = 80;

/** Fills the registers that a plant can also do without: methods, reference materials, stores. */
export async function equip(hand: Hand, firstDay: string): Promise<void> {
  const chief = (command: string, input: object) =>
    hand.do({ by: 'orla', command, input, seconds: 20 });
  for (const method of [cupellationOfGold, differenceOfSilver(1, oneReference)]) {
    await chief('state-method', method);
  }
  await chief('register-instrument', {
    ...screeningSpectrometer,
    calibrationDue: dayAfter(firstDay, 120),
  });
  await stockLaboratory(hand, firstDay);
  for (const { rack, title } of Object.values(racks)) {
    const input = { rack, place: 'strong-room', title };
    await hand.do({ by: 'sorrel', command: 'open-rack', input, seconds: 20 });
  }
  for (const series of numberSeries) {
    const input = { ...series, first: 1, document: `Delivery note of ${series.series}` };
    await hand.do({ by: 'jonas', command: 'receive-numbers', input, seconds: 20 });
  }
}

async function stockLaboratory(hand: Hand, firstDay: string): Promise<void> {
  for (const material of referenceMaterials) {
    await hand.do({
      by: 'tamsin',
      command: 'receive-reference-material',
      input: {
        ...material,
        received: referenceMassReceived,
        validUntil: dayAfter(firstDay, 500),
      },
      seconds: 20,
    });
  }
  for (const { lastsDays, ...lot } of reagentLots) {
    const expires = dayAfter(firstDay, lastsDays);
    const input = { ...lot, expires };
    await hand.do({ by: 'tamsin', command: 'receive-reagent-lot', input, seconds: 20 });
    const openedOn = lot.lot in acidOpened ? acidOpened[lot.lot as keyof typeof acidOpened] : 0;
    if (openedOn === 0) await openLot(hand, lot.lot, firstDay);
  }
}

/** Opens a bottle or a bundle on that day. */
export async function openLot(hand: Hand, lot: string, day: string): Promise<void> {
  const input = { lot, expires: dayAfter(day, openedDays) };
  await hand.do({ by: 'tamsin', command: 'open-reagent-lot', input, seconds: 20 });
}
