import { boxAgainstTubes, withRealMinus } from '@cupel/calculation';
import { readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { DoubtfulWeighing } from '../laboratory/index.ts';
import type { PieceStandard } from '../registers/index.ts';
import type { BoxCheck } from './bodies.ts';
import type { BoxRow, TubeRow } from './books.ts';
import { type Balance, balanceRefusals, type NamedBalance } from './instrument-check.ts';
import { type MeltInPutUp, meltHeldRefusals } from './melt-in-put-up.ts';
import type { PackBoxInput } from './pack-box.ts';
import { putUpRefusals } from './refusals.ts';

/** What put-up knows of each melt in the box. */
export type MeltHolds = ReadonlyMap<string, MeltInPutUp>;

/** What the rule of a box knows. */
export interface BoxFacts {
  /** A box of that name that is packed already. */
  readonly box: BoxRow | undefined;
  /** The tubes in the order in which they were named. */
  readonly tubes: readonly (TubeRow | undefined)[];
  readonly standard: PieceStandard | undefined;
  readonly isSealUsed: boolean;
  readonly balance: NamedBalance;
  /** The balances that weighed the tubes, by name. */
  readonly tubeBalances: ReadonlyMap<string, NamedBalance>;
  readonly melts: MeltHolds;
  /** Why weighings of a tube prove nothing: their balance failed its next check. By tube. */
  readonly doubts: ReadonlyMap<string, DoubtfulWeighing>;
}

type Name = keyof typeof putUpRefusals;

function no(name: Name, field: string, message: string, figures = {}): Refusal {
  return refuse(putUpRefusals, name, { message, field, figures });
}

/** What is wrong with one tube that was named for the box. */
function tubeRefusals(named: string, tube: TubeRow | undefined, field: string): readonly Refusal[] {
  if (!tube) return [no('TubeUnknown', field, `Tube ${named} has never been weighed.`)];
  const figures = { tube: tube.tube, state: tube.state };
  if (tube.state === 'packed') {
    const message = `Tube ${tube.tube} lies in box ${tube.box}.`;
    return [no('TubeAlreadyPacked', field, message, figures)];
  }
  if (tube.state === 'open') {
    return [no('TubeNotClosed', field, `Tube ${tube.tube} is open.`, figures)];
  }
  if (tube.state === 'proved') return [];
  const message = `The count of tube ${tube.tube} is not proved: ${tube.words}`;
  return [no('TubeNotProved', field, message, figures)];
}

function weighingHeld(
  tube: string,
  doubt: DoubtfulWeighing | undefined,
  field: string,
): readonly Refusal[] {
  if (!doubt) return [];
  const state = doubt.isSetAside ? 'was set aside' : 'is in doubt';
  const message = `A weighing of tube ${tube} ${state}. ${doubt.words}`;
  return [no('TubeWeighingHeld', field, message, { tube, hold: doubt.hold })];
}

/** What is wrong with the tubes that were named, taken together. */
function compositionRefusals(input: PackBoxInput, facts: BoxFacts): readonly Refusal[] {
  const seen = new Set<string>();
  const refusals: Refusal[] = [];
  for (const [index, named] of input.tubes.entries()) {
    const field = `tubes.${index}`;
    if (seen.has(named)) refusals.push(no('TubeRepeated', field, `Tube ${named} is named twice.`));
    seen.add(named);
    refusals.push(...tubeRefusals(named, facts.tubes[index], field));
  }
  if (refusals.length > 0) return refusals;
  const standards = [...new Set(facts.tubes.map((tube) => tube?.pieceStandard))];
  if (standards.length > 1) {
    const message = `The tubes hold pieces of ${standards.join(' and ')}.`;
    return [no('BoxMixesStandards', 'tubes', message)];
  }
  const most = facts.standard?.tubesPerBox ?? 0;
  if (input.tubes.length > most) {
    const message = `${input.tubes.length} tubes are named; a box of ${facts.standard?.title} holds ${most}.`;
    return [no('BoxOverfull', 'tubes', message, { tubes: input.tubes.length, tubesPerBox: most })];
  }
  return [
    ...[...facts.melts].flatMap(([melt, found]) => meltHeldRefusals(melt, found, 'tubes')),
    ...input.tubes.flatMap((tube, index) =>
      weighingHeld(tube, facts.doubts.get(tube), `tubes.${index}`),
    ),
  ];
}

function identityRefusals(input: PackBoxInput, facts: BoxFacts): readonly Refusal[] {
  const { box, seal } = input;
  return [
    ...(facts.box ? [no('BoxAlreadyPacked', 'box', `Box ${box} is packed already.`, { box })] : []),
    ...(facts.isSealUsed
      ? [no('SealAlreadyUsed', 'seal', `Seal ${seal} has been used before.`, { seal })]
      : []),
  ];
}

/** Weighs the closed box against its closed tubes: what left or entered since they were weighed. */
function compareBox(options: {
  input: PackBoxInput;
  standard: PieceStandard;
  tubes: readonly TubeRow[];
  balance: Balance;
  tubeBalances: readonly Balance[];
}): BoxCheck {
  const { input, standard, tubes, balance, tubeBalances } = options;
  const coarsest = (value: (one: Balance) => number) => Math.max(...tubeBalances.map(value));
  const isSameScale = tubeBalances.every(({ instrument }) => instrument === balance.instrument);
  const checked = {
    tubeGrossGrams: tubes.map(({ readings }) => (readings.at(-1)?.grossMicrograms ?? 0) / 1e6),
    boxGrossGrams: readingMicrograms(input.gross) / 1e6,
    boxTareGrams: input.tare ? readingMicrograms(input.tare) / 1e6 : standard.boxTareGrams,
    pieceMassGrams: standard.massDeclaredMilligrams / 1000,
    weighing: {
      tubeRepeatabilityGrams: coarsest((one) => one.repeatabilityGrams),
      tubeDivisionGrams: coarsest((one) => one.divisionGrams),
      boxTareStandardDeviationGrams: input.tare
        ? balance.repeatabilityGrams
        : standard.boxTareStandardDeviationGrams,
      boxRepeatabilityGrams: balance.repeatabilityGrams,
      boxDivisionGrams: balance.divisionGrams,
      // One scale for tubes and box: its span error cancels.
      gainRelativeEachScale: isSameScale
        ? 0
        : Math.max(
            balance.gainRelative,
            coarsest((one) => one.gainRelative),
          ),
    },
  };
  return { input: checked, output: boxAgainstTubes(checked) };
}

function weightRefusals(check: BoxCheck): readonly Refusal[] {
  const { differenceGrams, standardUncertaintyGrams, verdict } = check.output;
  const figures = { differenceGrams, standardUncertaintyGrams };
  const shown = `${withRealMinus(differenceGrams.toFixed(2))} g (standard uncertainty ${standardUncertaintyGrams.toFixed(2)} g)`;
  if (verdict === 'cannot-prove') {
    const message = `With a standard uncertainty of ${standardUncertaintyGrams.toFixed(2)} g one piece of ${check.input.pieceMassGrams} g could leave unseen.`;
    return [no('BoxNotProvable', 'gross', message, figures)];
  }
  if (verdict === 'unchanged') return [];
  return [
    no('BoxDiffersFromTubes', 'gross', `The box differs from its tubes by ${shown}.`, figures),
  ];
}

/** Everything that must hold before a box is sealed; the weight check when it does. */
export function checkBox(
  input: PackBoxInput,
  facts: BoxFacts,
): { standard: PieceStandard; check: BoxCheck } | { refusals: readonly Refusal[] } {
  const refusals = [
    ...identityRefusals(input, facts),
    ...compositionRefusals(input, facts),
    ...balanceRefusals(facts.balance),
  ];
  const { standard } = facts;
  const { balance } = facts.balance;
  const tubes = facts.tubes.filter((tube) => tube !== undefined);
  if (refusals.length > 0 || !standard || !balance) return { refusals };
  const tubeBalances = [...facts.tubeBalances.values()].flatMap((found) => found.balance ?? []);
  const check = compareBox({ input, standard, tubes, balance, tubeBalances });
  const onWeight = weightRefusals(check);
  return onWeight.length > 0 ? { refusals: onWeight } : { standard, check };
}
