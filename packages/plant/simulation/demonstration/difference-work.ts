import type { RaisedDifference } from './equipment.ts';
import { bodyOf } from './hand.ts';
import type { Scene } from './state.ts';

/** What a claim is about: drums or melts of a consignment. */
interface Claim {
  readonly name: string;
  readonly consignment: string;
  readonly thing: 'drum' | 'melt';
  readonly id: string;
}

/** Raises a difference with a supplier. */
export async function raiseDifference(scene: Scene, claim: Claim): Promise<void> {
  const { name, consignment, thing, id } = claim;
  const recorded = await scene.hand.do({
    by: 'bettina',
    with: 'wren',
    command: 'raise-difference',
    input: {
      consignment,
      lines: [{ thing, id }],
      claimWithinDays: 14,
      answerWithinDays: 5,
      dayKind: 'business',
    },
    seconds: 300,
  });
  const body = bodyOf(recorded, 'DifferenceRaised');
  scene.equipment?.differences.set(name, body as unknown as RaisedDifference);
}

function raisedAs(scene: Scene, name: string): RaisedDifference {
  const raised = scene.equipment?.differences.get(name);
  if (!raised) throw new Error(`no difference ${name} was raised`);
  return raised;
}

/** Records what the supplier answers. */
export async function recordAnswer(
  scene: Scene,
  answer: {
    readonly name: string;
    readonly answer: 'accepted' | 'disputed';
    readonly document: string;
    readonly words: string;
  },
): Promise<void> {
  const { name, ...input } = answer;
  const { difference } = raisedAs(scene, name);
  await scene.hand.do({
    by: 'bettina',
    command: 'record-answer',
    input: { difference, ...input, file: null },
    seconds: 120,
  });
}

/** Settles a difference that the supplier has accepted, by a credit for all of it. */
export async function settleByCredit(
  scene: Scene,
  settlement: { readonly name: string; readonly document: string; readonly words: string },
): Promise<void> {
  const { name, document, words } = settlement;
  const { difference, lines } = raisedAs(scene, name);
  await scene.hand.do({
    by: 'orla',
    with: 'bettina',
    command: 'settle-difference',
    input: {
      difference,
      lines: lines.map(({ thing, id, differencePieces, differenceMicrograms }) => ({
        thing,
        id,
        agreedPieces: differencePieces,
        agreedMicrograms: differenceMicrograms,
        how: 'credit',
      })),
      document,
      words,
    },
    seconds: 300,
  });
}
