import { calculationById, type ProficiencyScoresOutput, runCalculation } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { calculate } from '../../../journal/calculated.ts';
import { invariant } from '../../../journal/fault.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import { roundShape } from './bodies.ts';
import { proficiencyRounds, type RoundRow } from './books.ts';
import { ProficiencyRoundRecorded } from './entries.ts';
import { proficiencyRefusals } from './refusals.ts';

const calculation = 'proficiency-scores';
const own = 'Own laboratory';
/** Results that a value drawn from them rests on at least; ISO 13528 finds fewer than about 12 weak. */
const fewestForRobust = 3;

const roundInput = z.strictObject(roundShape);
type RoundInput = z.infer<typeof roundInput>;

interface RoundFacts {
  readonly earlier: RoundRow | undefined;
  /** The newest round of the same characteristic. */
  readonly before: RoundRow | undefined;
}

async function roundFacts(books: BookReader, input: RoundInput): Promise<RoundFacts> {
  const [before] = await books.select(proficiencyRounds, {
    by: 'byCharacteristic',
    prefix: [input.characteristic],
    descending: true,
    limit: 1,
  });
  return { earlier: await books.get(proficiencyRounds, input.round), before };
}

type Stated = RoundInput['own']['uncertainty'];

const participant = (name: string, value: number, uncertainty: Stated) => ({
  name,
  value,
  ...(uncertainty ? { uncertainty: { ...uncertainty } } : {}),
});

/**
 * The input of the calculation. Where the report names nobody else, the assigned value itself stands
 * beside the own result, as that of the laboratory that assigned it: it changes no score.
 */
function scoresInput(input: RoundInput) {
  const { assigned, assessment, others } = input;
  const beside =
    others.length === 0 && assigned.kind === 'given'
      ? [participant('Assigned value', assigned.value, assigned)]
      : others.map((one) => participant(one.name, one.value, one.uncertainty));
  return {
    characteristic: input.characteristic,
    unit: input.unit,
    participants: [
      participant(own, input.own.value, input.own.uncertainty),
      ...beside.map((one) =>
        'uncertainty' in one
          ? {
              ...one,
              uncertainty: {
                expanded: one.uncertainty.expanded,
                coverageFactor: one.uncertainty.coverageFactor,
              },
            }
          : one,
      ),
    ],
    assignedValue:
      assigned.kind === 'given'
        ? {
            kind: 'given',
            value: assigned.value,
            expandedUncertainty: assigned.expanded,
            coverageFactor: assigned.coverageFactor,
          }
        : { kind: 'robust', method: assigned.method },
    assessment: { ...assessment },
  };
}

function strange(
  input: RoundInput,
  { earlier, before }: RoundFacts,
  today: string,
): readonly Refusal[] {
  const refusals: Refusal[] = [];
  if (input.day > today) {
    refusals.push(
      refuse(proficiencyRefusals, 'RoundNotYetReported', {
        message: `The report is said to be of ${input.day}; today is ${today} at the latest.`,
        field: 'day',
        figures: { day: input.day, today },
      }),
    );
  }
  if (earlier) {
    refusals.push(
      refuse(proficiencyRefusals, 'RoundAlreadyRecorded', {
        message: `Round ${input.round} was recorded in entry ${earlier.entry}.`,
        field: 'round',
        figures: { round: input.round, entry: earlier.entry },
      }),
    );
  }
  if (before && before.unit !== input.unit) {
    refusals.push(
      refuse(proficiencyRefusals, 'UnitDiffers', {
        message: `${input.characteristic} was recorded in ${before.unit} in round ${before.round}; this one is in ${input.unit}.`,
        field: 'unit',
        figures: { unit: input.unit, accepted: before.unit, round: before.round },
      }),
    );
  }
  const isDrawn = input.assigned.kind === 'robust' || input.assessment.kind === 'robust';
  const count = input.others.length + 1;
  if (isDrawn && count < fewestForRobust) {
    refusals.push(
      refuse(proficiencyRefusals, 'ParticipantsMissing', {
        message: `${count} results are there; a value is drawn from ${fewestForRobust} or more.`,
        field: 'others',
        figures: { results: count, fewest: fewestForRobust },
      }),
    );
  }
  return refusals;
}

/** The day that it is where the clocks are furthest ahead, 14 hours before universal time. */
function latestDay(instant: string): string {
  return new Date(Date.parse(instant) + 14 * 3_600_000).toISOString().slice(0, 10);
}

function decideRound(
  input: RoundInput,
  facts: RoundFacts,
  { instant }: Pick<Circumstances, 'instant'>,
): Decision {
  const refusals = strange(input, facts, latestDay(instant));
  if (refusals.length > 0) return { refusals };
  const numbers = scoresInput(input);
  const result = runCalculation(calculationById(calculation), numbers);
  if (result.outcome === 'refused') {
    return {
      refusals: result.problems.map(({ field, value, accepted }) =>
        refuse(proficiencyRefusals, 'RoundNotJudged', {
          message: `${field} is ${String(value)}; accepted is ${accepted}.`,
          field,
          figures: { field, value: String(value), accepted },
        }),
      ),
    };
  }
  const { calculated, output } = calculate<ProficiencyScoresOutput>(calculation, numbers);
  const [row] = output.participants;
  invariant(row, 'a round was judged without the own result');
  const score = output.isUncertaintyNegligible ? row.z : row.zPrime;
  const body = {
    ...input,
    scores: calculated,
    z: row.z,
    zPrime: row.zPrime,
    zeta: row.zeta,
    en: row.en,
    verdict: row.verdict,
    score,
    isEnSatisfactory: row.isEnSatisfactory,
  };
  return {
    entries: [draft(ProficiencyRoundRecorded, body)],
    answer: { round: input.round, verdict: row.verdict, words: row.words },
  };
}

/** Records a round of a comparison of laboratories and judges the own result. */
export const recordProficiencyRound = defineCommand({
  command: 'record-proficiency-round',
  station: 'laboratory',
  title: 'Record round of a laboratory comparison',
  input: roundInput,
  roles: ['assayer', 'chief assayer'],
  signature: 'none',
  facts: roundFacts,
  decide: decideRound,
});
