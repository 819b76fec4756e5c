import {
  type DemonstrationStandard,
  dies,
  heron,
  lantern,
  people,
  plantTimeZone,
  plantTitle,
  purchasers,
  suppliers,
} from './cast.ts';
import type { Hand } from './hand.ts';
import { instruments } from './instruments.ts';

/** The day that many days after another, as `2026-11-25`. */
export function dayAfter(day: string, days: number): string {
  const date = new Date(`${day}T12:00:00Z`);
  date.setUTCDate(date.getUTCDate() + days);
  return date.toISOString().slice(0, 10);
}

/** Founds the plant and fills its registers. */
export async function found(
  hand: Hand,
  firstDay: string,
  standards: readonly DemonstrationStandard[] = [heron, lantern],
): Promise<void> {
  const [first, ...others] = people;
  await hand.do({
    by: 'plant',
    command: 'found-plant',
    input: {
      title: plantTitle,
      timeZone: plantTimeZone,
      firstPerson: { person: first.person, name: first.name },
    },
  });
  const chief = (command: string, input: object) => hand.do({ by: first.person, command, input });
  for (const { person, name, roles, methods } of others) {
    const until = dayAfter(firstDay, 330);
    const held = methods.map((method) => ({ method, until }));
    await chief('enrol-person', { person, name, roles, methods: held });
  }
  for (const standard of standards) await chief('register-piece-standard', standard);
  for (const { supplier, name } of suppliers) {
    await chief('register-supplier', { supplier, name, approvedUntil: dayAfter(firstDay, 300) });
  }
  for (const { purchaser, name, approvedForDays } of purchasers) {
    const approvedUntil = dayAfter(firstDay, approvedForDays);
    await chief('approve-purchaser', { purchaser, name, approvedUntil });
  }
  for (const { dueInDays, ...instrument } of instruments) {
    const calibrationDue = dayAfter(firstDay, dueInDays);
    await chief('register-instrument', { ...instrument, calibrationDue });
  }
  for (const die of dies) {
    await hand.do({ by: 'petra', with: 'wren', command: 'receive-die', input: die });
  }
}
