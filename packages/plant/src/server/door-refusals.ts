import { type Refusal, type RefusalMeanings, refuse } from '../journal/refusal.ts';
import type { Proof } from '../ports/accounts.ts';

/** What the door of the plant refuses before a command reaches any station. */
const doorRefusals = {
  SignInNotGood: {
    meaning: 'The sign-in name and the password do not belong together.',
    nextStep: 'Type both again; the chief assayer can give you a new one-time code.',
  },
  SignatureNotGood: {
    meaning: 'The password does not prove the person who signs.',
    nextStep: 'Type your own password again.',
  },
  WitnessNotGood: {
    meaning: 'The password does not prove the second person.',
    nextStep: 'Let the second person type his own name and password again.',
  },
  TooManyAttempts: {
    meaning: 'Too many wrong passwords were tried.',
    nextStep: 'Wait as long as it says, then try again.',
  },
  PasswordTooWeak: {
    meaning: 'The new password is too easy to guess.',
    nextStep: 'Choose a longer one, of several words.',
  },
  FileNotAccepted: {
    meaning: 'The file is of a kind or a size that is not kept.',
    nextStep: 'Choose another file.',
  },
  SheetTooLarge: {
    meaning: 'The half-filled sheet is larger than what the server keeps.',
    nextStep: 'Record what is complete; the rest stays in this browser.',
  },
} satisfies RefusalMeanings;

type DoorRefusal = keyof typeof doorRefusals;

/** A refusal of the door. */
export function refuseAtDoor(
  name: DoorRefusal,
  message: string,
  more: { readonly field?: string } = {},
): Refusal {
  return refuse(doorRefusals, name, { message, ...more });
}

/** Why a proof is not good; nothing when it is. */
export function refusalOfProof(
  proof: Proof,
  wrong: { readonly name: DoorRefusal; readonly message: string; readonly field: string },
): Refusal | undefined {
  if (proof.proof === 'good') return undefined;
  const { field } = wrong;
  if (proof.proof === 'wrong') return refuseAtDoor(wrong.name, wrong.message, { field });
  const message = `Too many wrong passwords: the next attempt counts in ${proof.seconds} s.`;
  return refuseAtDoor('TooManyAttempts', message, { field });
}
