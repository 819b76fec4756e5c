import type { Refusal } from '../../journal/refusal.ts';
import { makeTrial, type Trial } from '../../journal/trial.ts';
import { registersStation } from './station.ts';

/** A trial of the registers alone, with shorthands for what was recorded and what was refused. */
export interface RegistersTrial extends Trial {
  /** Kinds and bodies of what the command recorded; the chief assayer asks unless another is named. */
  recorded(
    command: string,
    input: unknown,
    author?: string,
    witness?: string,
  ): Promise<readonly { kind: string; body: unknown }[]>;
  refused(
    command: string,
    input: unknown,
    author?: string,
    witness?: string,
  ): Promise<readonly Refusal[]>;
}

export async function trialOfRegisters(): Promise<RegistersTrial> {
  const trial = await makeTrial([registersStation]);
  const recorded: RegistersTrial['recorded'] = async (command, input, author, witness) => {
    const outcome = await trial.do(command, input, author ?? 'chief', witness);
    if (outcome.outcome === 'refused') throw new Error(JSON.stringify(outcome.refusals));
    return outcome.entries.map(({ kind, body }) => ({ kind, body }));
  };
  const refused: RegistersTrial['refused'] = async (command, input, author, witness) => {
    const outcome = await trial.do(command, input, author ?? 'chief', witness);
    if (outcome.outcome === 'recorded') throw new Error(`${command} was recorded`);
    return outcome.refusals;
  };
  return Object.assign(trial, { recorded, refused });
}
