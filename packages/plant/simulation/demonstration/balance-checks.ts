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
export async function checkBalances(scene: Scene): Promise<void> {
  const { equipment, hand } = scene;
  if (!equipment) return;
  const { chance, today } = equipment;
  for (const daily of checks) {
    const fails = today.day === failedCheckDay && daily.balance === balances.blanks;
    const entry = await check(hand, daily, { chance, error: fails ? levelLost : 0 });
    const { instrument } = daily.balance;
    if (fails) {
      const interval = { from: equipment.lastGood.get(instrument) ?? 0, through: entry };
      await recalibrate(hand, today.date);
      await answerForMeasurements(scene, interval);
    }
    equipment.lastGood.set(instrument, entry);
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

/** Measurements since the last good check are in doubt, until the chief assayer answers for them. */
async function answerForMeasurements(
  scene: Scene,
  interval: { readonly from: number; readonly through: number },
): Promise<void> {
  const { from, through } = interval;
  const inDoubt = (scene.equipment?.measurements ?? []).filter(
    ({ entry }) => entry > from && entry < through,
  );
  await scene.hand.do({
    by: 'orla',
    command: 'answer-hold',
    input: {
      hold: `instrument/${balances.blanks.instrument}/${through}`,
      entries: inDoubt.map(({ entry }) => entry),
      finding: 'stands',
      reason:
        'The balance was moved for cleaning this morning, after the measurements; two blanks of each melt were weighed again and agree.',
    },
    seconds: 600,
  });
}
