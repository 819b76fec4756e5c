import { describe, expect, it } from 'vitest';
import type { Calculate, Command } from './station.ts';
import { makeTrial } from './trial.ts';
import { trialMove, trialStation } from './trial-station.ts';

const [move] = trialStation.commands;

/** The trial station with a command that prepares, by a promise that the test ends. */
async function slowTrial() {
  const waits = Promise.withResolvers<string>();
  const prepared: unknown[] = [];
  const given: (Calculate | undefined)[] = [];
  const slow: Command = {
    ...(move as Command),
    command: 'trial-move-slowly',
    prepare: (_books, _input, calculate) => {
      given.push(calculate);
      return waits.promise;
    },
    facts: (books, input, circumstances, worked) => {
      prepared.push(worked);
      return (move as Command).facts(books, input, circumstances);
    },
  };
  const station = { ...trialStation, commands: [...trialStation.commands, slow] };
  return { trial: await makeTrial([station]), waits, prepared, given };
}

describe('a command that prepares', () => {
  it('lets others be recorded meanwhile, and takes into its facts what it worked out', async () => {
    const { trial, waits, prepared } = await slowTrial();
    const input = { moves: [trialMove()] };
    const slow = trial.do('trial-move-slowly', input, 'custodian');
    const quick = await trial.do('trial-move-pieces', input, 'storeman');
    expect(quick).toMatchObject({ outcome: 'recorded', entries: [{ number: 1 }] });
    expect(prepared).toEqual([]);
    waits.resolve('worked out');
    await trial.recorder.idle();
    expect(await slow).toMatchObject({ outcome: 'recorded', entries: [{ number: 2 }] });
    expect(prepared).toEqual(['worked out']);
  });

  it('fails alone when its preparation fails', async () => {
    const { trial, waits } = await slowTrial();
    const input = { moves: [trialMove()] };
    const slow = trial.do('trial-move-slowly', input, 'custodian');
    waits.reject(new Error('stopped'));
    await expect(slow).rejects.toThrow('stopped');
    await trial.recorder.idle();
    expect(await trial.do('trial-move-pieces', input, 'custodian')).toMatchObject({
      outcome: 'recorded',
    });
  });

  it('prepares nothing for an input that is not good', async () => {
    const { trial, given } = await slowTrial();
    const outcome = await trial.do('trial-move-slowly', { moves: 'many' }, 'custodian');
    expect(outcome).toMatchObject({ refusals: [{ refusal: 'InputNotAccepted' }] });
    expect(given).toEqual([]);
  });
});
