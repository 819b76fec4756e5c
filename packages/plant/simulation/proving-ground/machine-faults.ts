import type { Ground } from './ground.ts';
import type { MachineFault } from './mortal-store.ts';

/** Minutes by which somebody sets the server's clock wrong. */
const steps = [-50, -20, -3, 5, 25, 55] as const;

/** What happens to the machine before people go on. */
export function plantMachineFaults(ground: Ground): void {
  const { ledger, plant, chance } = ground;
  const arm = (fault: MachineFault): void => plant.mortal.arm(fault);
  const note = (kind: Parameters<typeof ledger.plant>[0], words: string): void => {
    ledger.plant(kind, { words, seenAt: ['machine'] });
  };
  if (ledger.happens('clock stepped')) {
    const minutes = plant.clock.isWrong() ? 0 : chance.one(steps);
    plant.clock.step(minutes);
    note(
      'clock stepped',
      minutes === 0 ? 'the clock set right' : `the clock set ${minutes} minutes wrong`,
    );
  }
  if (plant.mortal.isArmed) return;
  if (ledger.happens('process killed before the commit')) {
    arm('killed before commit');
    note('process killed before the commit', 'the process killed before a commit');
  } else if (ledger.happens('process killed after the commit')) {
    arm('killed after commit');
    note('process killed after the commit', 'the process killed between commit and answer');
  } else if (ledger.happens('disk full')) {
    const fault = chance.one(['disk full at an append', 'disk full at the commit'] as const);
    arm(fault);
    note('disk full', fault);
  }
}
