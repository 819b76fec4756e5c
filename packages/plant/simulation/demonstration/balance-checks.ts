import type { BookReader } from '../../src/journal/books.ts';
import { heldUses } from '../../src/stations/laboratory/controls/held-uses.ts';
import { holdNamed } from '../../src/stations/laboratory/controls/holds.ts';
import type { PersonId } from './cast.ts';
import { type Equipment, firstEntryOf } from './equipment.ts';
import { dayAfter } from './founding.ts';
import type { Hand } from './hand.ts';
import { balances, instruments } from './instruments.ts';
import { type TrueBalance, weigh } from './readings.ts';
import type { Scene } from './state.ts';

/** The assay balance as it really is. */
const assayBalance: TrueBalance = {
  instrument: 'BAL-L1',
  divisionGrams: 0.00001,
  repeatabilityGrams: 0.000006,
  gain: 0,
};

interface DailyCheck {
  readonly by: PersonId;
  readonly balance: TrueBalance;
  /** Check weights by label, with their masses in grams. */
  readonly weights: readonly (readonly [string, number])[];
  readonly limitGrams: string;
}

const checks: readonly DailyCheck[] = [
  {
    by: 'tamsin',
    balance: assayBalance,
    weights: [
      ['W-200MG', 0.2],
      ['W-500MG', 0.5],
    ],
    limitGrams: '0.00006',
  },
  {
    by: 'wren',
    balance: balances.blanks,
    weights: [
      ['W-20G', 20],
      ['W-50G', 50],
    ],
    limitGrams: '0.004',
  },
  {
    by: 'jonas',
    balance: balances.tubes,
    weights: [
      ['W-200G', 200],
      ['W-500G', 500],
    ],
    limitGrams: '0.05',
  },
];

/** The day on whose morning the blank balance does not pass. */
const failedCheckDay = 13;
/** What it then shows too much, relative to the mass. */
const levelLost = 2.4e-4;

async function check(
  hand: Hand,
  daily: DailyCheck,
  of: { readonly chance: Equipment['chance']; readonly error: number },
): Promise<number> {
  const { by, balance, weights, limitGrams } = daily;
  const asItStands = { ...balance, gain: balance.gain + of.error };
  const recorded = await hand.do({
    by,
    command: 'record-instrument-check',
    input: {
      instrument: balance.instrument,
      check: {
        kind: 'weights',
        points: weights.map(([checkStandard, grams]) => ({
          checkStandard,
          nominal: { text: String(grams), unit: 'g', typed: true },
          reading: weigh(asItStands, grams, of.chance),
        })),
        limit: { text: limitGrams, unit: 'g', typed: true },
      },
    },
    seconds: 60,
  });
  return firstEntryOf(recorded);
}

/** Checks the balances of the laboratory and the tube balance before work, as on every morning. */
export async function checkBalances(scene: Scene, books: BookReader): Promise<void> {
  const { equipment, hand } = scene;
  if (!equipment) return;
  const { chance, today } = equipment;
  for (const daily of checks) {
    const fails = today.day === failedCheckDay && daily.balance === balances.blanks;
    const entry = await check(hand, daily, { chance, error: fails ? levelLost : 0 });
    if (fails) {
      await recalibrate(hand, today.date);
      await answerForBalance(scene, books, entry);
    }
  }
}

async function recalibrate(hand: Hand, date: string): Promise<void> {
  const registered = instruments.find((one) => one.instrument === balances.blanks.instrument);
  if (!registered) throw new Error('the blank balance is not registered');
  const { instrument, divisionGrams, repeatabilityGrams, gainRelative } = registered;
  await hand.do({
    by: 'tamsin',
    command: 'record-calibration',
    input: {
      instrument,
      calibrationDue: dayAfter(date, 180),
      document: 'Levelled and adjusted with its own weights',
      divisionGrams,
      repeatabilityGrams,
      gainRelative,
    },
    seconds: 900,
  });
}

/** Why what the balance gave since its last good check stands. */
const whyItStands = {
  measurements:
    'The balance was moved for cleaning this morning, after the measurements; two blanks of each melt were weighed again and agree.',
  weighings:
    'The balance was moved for cleaning this morning, after these weighings; the tallies that followed them agree.',
};

/** What the balance gave since its last good check is in doubt, until the chief assayer answers for it. */
async function answerForBalance(scene: Scene, books: BookReader, failed: number): Promise<void> {
  const name = `instrument/${balances.blanks.instrument}/${failed}`;
  const hold = await holdNamed(books, name);
  if (!hold) throw new Error(`nothing is held by ${name}`);
  const held = await heldUses(books, hold);
  for (const [what, reason] of Object.entries(whyItStands)) {
    const entries = held
      .filter((use) => (use.what === 'weighing') === (what === 'weighings'))
      .map(({ entry }) => entry);
    await scene.hand.do({
      by: 'orla',
      command: 'answer-hold',
      input: { hold: name, entries, finding: 'stands', reason },
      seconds: 600,
    });
  }
}
