import { heron, lantern, people, purchasers, suppliers } from '../demonstration/cast.ts';
import { dayAfter, found } from '../demonstration/founding.ts';
import { instruments } from '../demonstration/instruments.ts';
import type { Ground } from './ground.ts';
import type { Press } from './press-work.ts';
import type { Bench } from './tube-acts.ts';

/** The presses of the plant: the second strikes gold, and every third after it. */
export function pressesOf(ground: Ground): readonly Press[] {
  return Array.from({ length: ground.size.presses }, (_, at): Press => {
    const isGold = at % 3 === 1;
    const letter = isGold ? 'L' : 'H';
    const dieOf = (part: string) => `${letter}-${part}-P${at + 1}`;
    return {
      press: `PRESS-P${at + 1}`,
      pieceStandard: (isGold ? lantern : heron).pieceStandard,
      inspector: `striker-${at + 1}`,
      dies: { obverse: dieOf('O'), reverse: dieOf('R'), collar: dieOf('C') },
    };
  });
}

/** The benches of put-up. */
export function benchesOf(ground: Ground): readonly Bench[] {
  return Array.from({ length: ground.size.benches }, (_, at) => ({ custodian: `bench-${at + 1}` }));
}

/** Founds the plant of the demonstration and adds presses and people for the work of this one. */
export async function foundGround(ground: Ground, firstDay: string): Promise<void> {
  const { hand } = ground;
  await found(hand, firstDay, ground.standards);
  const chief = (command: string, input: object) => hand.do({ by: 'orla', command, input });
  for (const { press, inspector, dies, pieceStandard } of pressesOf(ground)) {
    await chief('enrol-person', {
      person: inspector,
      name: `Striker at ${press}`,
      roles: ['inspector'],
      methods: [],
    });
    await chief('register-instrument', {
      instrument: press,
      title: `Press ${press}`,
      kind: 'press',
      place: 'press-room',
      divisionGrams: null,
      repeatabilityGrams: null,
      gainRelative: null,
      calibrationDue: dayAfter(firstDay, 360),
    });
    for (const [part, die] of Object.entries(dies)) {
      const input = { die, part, pieceStandard };
      await hand.do({ by: 'petra', with: 'wren', command: 'receive-die', input });
    }
  }
  for (const { custodian } of benchesOf(ground)) {
    const name = `Custodian at ${custodian}`;
    await chief('enrol-person', { person: custodian, name, roles: ['custodian'], methods: [] });
  }
}

/** Calibrates every instrument of the plant, as it has to be done before the shortest term runs out. */
export async function calibrate(ground: Ground, day: string): Promise<void> {
  for (const registered of instruments) {
    const { instrument, divisionGrams, repeatabilityGrams, gainRelative } = registered;
    const figures = { divisionGrams, repeatabilityGrams, gainRelative };
    await ground.hand.do({
      by: 'orla',
      command: 'record-calibration',
      input: {
        instrument,
        calibrationDue: dayAfter(day, 60),
        document: `Check of ${instrument} on ${day}`,
        ...figures,
      },
    });
  }
}

/** Renews what a long run would outlive: approvals of suppliers and purchasers, and what people may do. */
export async function renew(ground: Ground, day: string): Promise<void> {
  const chief = (command: string, input: object) => ground.hand.do({ by: 'orla', command, input });
  const approvedUntil = dayAfter(day, 300);
  for (const { supplier, name } of suppliers) {
    await chief('change-supplier', { supplier, name, approvedUntil });
  }
  for (const { purchaser, name } of purchasers) {
    await chief('change-purchaser', { purchaser, name, approvedUntil });
  }
  for (const { person, name, roles, methods } of people) {
    if (methods.length === 0) continue;
    const held = methods.map((method) => ({ method, until: approvedUntil }));
    await chief('change-person', { person, name, roles, methods: held, active: true });
  }
}

/** The witness of a shift's close and of signed differences. */
export const witness = 'jonas';
