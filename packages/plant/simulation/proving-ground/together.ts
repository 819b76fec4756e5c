import type { Proof } from './prove.ts';
import { Timings } from './timings.ts';

const addedUp = [
  'days',
  'shifts',
  'pieces',
  'commands',
  'entries',
  'restarts',
  'rebuilds',
  'stolen',
  'workSeconds',
  'checkSeconds',
  'processorSeconds',
  'checkProcessorSeconds',
] as const;

/** Runs of several seeds, told as one. */
export function together(proofs: readonly [Proof, ...Proof[]]): Proof {
  const [first] = proofs;
  const sums = Object.fromEntries(
    addedUp.map((field) => [field, proofs.reduce((sum, proof) => sum + proof[field], 0)]),
  ) as Pick<Proof, (typeof addedUp)[number]>;
  const refusals = new Map<string, number>();
  for (const proof of proofs) {
    for (const [name, count] of proof.refusals) {
      refusals.set(name, (refusals.get(name) ?? 0) + count);
    }
  }
  return {
    ...sums,
    refusals,
    seed: first.seed,
    lastHash: first.lastHash,
    pace: proofs.length === 1 ? first.pace : [],
    planted: proofs.flatMap(({ planted }) => planted),
    falseAlarms: proofs.flatMap(({ falseAlarms }) => falseAlarms),
    searches: proofs.flatMap(({ searches }) => searches),
    obstacles: proofs.flatMap(({ obstacles }) => obstacles),
    breaches: proofs.flatMap(({ seed, breaches }) =>
      breaches.map((breach) => ({ ...breach, shift: `seed ${seed}, ${breach.shift}` })),
    ),
    timings: {
      commands: Timings.together(proofs.map(({ timings }) => timings.commands)),
      questions: Timings.together(proofs.map(({ timings }) => timings.questions)),
    },
  };
}
