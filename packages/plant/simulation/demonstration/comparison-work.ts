import { dayAfter } from './founding.ts';
import type { Scene } from './state.ts';

const scheme = 'Round of the river laboratories';

/** A round of the invented comparison: days before the demonstration began, and what was found. */
interface Round {
  readonly round: string;
  readonly daysBefore: number;
  readonly assignedPerMille: number;
  readonly ownPerMille: number;
}

/** Rounds of the years before, taken over from the old books. */
export const earlierRounds: readonly Round[] = [
  { round: 'RL-18', daysBefore: 690, assignedPerMille: 585.21, ownPerMille: 585.26 },
  { round: 'RL-19', daysBefore: 510, assignedPerMille: 750.34, ownPerMille: 750.27 },
  { round: 'RL-20', daysBefore: 330, assignedPerMille: 916.82, ownPerMille: 916.91 },
  { round: 'RL-21', daysBefore: 150, assignedPerMille: 750.18, ownPerMille: 750.14 },
];

/** The round whose report comes in the fortnight: the result is questionable. */
export const newRound: Round = {
  round: 'RL-22',
  daysBefore: 0,
  assignedPerMille: 375.42,
  ownPerMille: 375.66,
};

const assessment = { kind: 'given', standardDeviation: 0.1 } as const;

/** Records a round with the results of other laboratories, which lie about the assigned value. */
export async function recordRound(scene: Scene, of: Round): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  const { chance, today } = equipment;
  const others = Array.from({ length: 9 }, (_, index) => ({
    name: `Laboratory ${index + 1}`,
    value: Number(chance.normal(of.assignedPerMille, 0.08).toFixed(2)),
    uncertainty: null,
  }));
  await scene.hand.do({
    by: 'tamsin',
    command: 'record-proficiency-round',
    input: {
      round: of.round,
      scheme,
      item: `Bead of round ${of.round}`,
      characteristic: 'Fineness of gold alloys',
      unit: '‰',
      day: dayAfter(today.date, -of.daysBefore),
      assigned: { kind: 'given', value: of.assignedPerMille, expanded: 0.04, coverageFactor: 2 },
      assessment,
      own: { value: of.ownPerMille, uncertainty: { expanded: 0.3, coverageFactor: 2 } },
      others,
    },
    seconds: 20,
  });
}

/** The chief assayer says what was found about the questionable round. */
export async function answerNewRound(scene: Scene): Promise<void> {
  await scene.hand.do({
    by: 'orla',
    command: 'answer-proficiency-round',
    input: {
      round: newRound.round,
      finding: 'cause removed',
      reason:
        'Copper of the low alloy held silver back in the parting; low alloys now get a second acid.',
    },
    seconds: 600,
  });
}
