import type { BookReader } from '../../src/journal/books.ts';
import { checkBalances } from './balance-checks.ts';
import { answerNewRound, earlierRounds, newRound, recordRound } from './comparison-work.ts';
import { raiseDifference, recordAnswer, settleByCredit } from './difference-work.ts';
import { openLot } from './equip.ts';
import { clearCuttings } from './laboratory-metal-work.ts';
import type { acidOpened } from './laboratory-stock.ts';
import { spoiledMelt } from './laboratory-work.ts';
import { findMissingPiece } from './missing-piece.ts';
import { takeUpNewPiece } from './new-piece.ts';
import { discardReserve, recordResult, sendPortion } from './portions-work.ts';
import type { Scene } from './state.ts';
import { differenceOfSilver, twoReferences } from './stated-methods.ts';
import { checkSilverRack, countSeals, putBoxesAway } from './store-work.ts';

/** The claim on the melt that was refused, and the claim on the drum that is short. */
const refusedMelt = { consignment: 'C-0003', thing: 'melt', id: 'FS-005' } as const;
const shortDrum = { consignment: 'C-0004', thing: 'drum', id: 'OS-002-D4' } as const;

/** The bottle of nitric acid that is condemned, and the melt whose run nobody has answered for. */
const badLot = 'NA-13';
const unansweredMelt = 'FS-011';

type Event = (scene: Scene) => Promise<void>;

const openAcid =
  (lot: keyof typeof acidOpened): Event =>
  async ({ hand, equipment }) => {
    if (equipment) await openLot(hand, lot, equipment.today.date);
  };

const condemnAcid: Event = async ({ hand }) => {
  await hand.do({
    by: 'tamsin',
    command: 'condemn-reagent-lot',
    input: {
      lot: badLot,
      reason: 'Silver nitrate turned cloudy in it: it holds chloride, which takes silver down.',
    },
    seconds: 120,
  });
};

/** The runs of the condemned acid stand, but for the one that is still looked into. */
const answerForAcid: Event = async ({ hand, equipment }) => {
  const runs = equipment?.runs.filter(
    ({ melt, reagentLots }) => reagentLots.includes(badLot) && melt !== unansweredMelt,
  );
  await hand.do({
    by: 'orla',
    command: 'answer-hold',
    input: {
      hold: `reagent-lot/${badLot}`,
      entries: runs?.map(({ entry }) => entry),
      finding: 'stands',
      reason:
        'Only impurities are measured here: a cloud of silver chloride takes none of them down, and both references of each run agree.',
    },
    seconds: 900,
  });
};

/** The void run gave points to two charts of its reference material; both are answered at once. */
const answerCharts: Event = async ({ hand, equipment }) => {
  // One portion of the reference material in every run until then, so that points are runs.
  const through = 1 + (equipment?.runs.findIndex(({ melt }) => melt === spoiledMelt) ?? 0);
  for (const quantity of ['Cu', 'fineness']) {
    await hand.do({
      by: 'orla',
      command: 'answer-chart-signal',
      input: {
        chart: `reference-material.RM-S999-5.${quantity}`,
        through,
        finding: 'cause removed',
        reason: 'The vessel had held a copper standard; it is thrown away, and the run repeated.',
      },
      seconds: 120,
    });
  }
};

const stateTwoReferences: Event = async ({ hand }) => {
  await hand.do({
    by: 'orla',
    command: 'state-method',
    input: differenceOfSilver(2, twoReferences),
    seconds: 300,
  });
};

const claimMelt: Event = (scene) => raiseDifference(scene, { name: 'melt', ...refusedMelt });
const claimDrum: Event = (scene) => raiseDifference(scene, { name: 'drum', ...shortDrum });

const disputeMelt: Event = (scene) =>
  recordAnswer(scene, {
    name: 'melt',
    answer: 'disputed',
    document: 'Letter 114 of Fennel and Rusk',
    words: 'Our laboratory finds 998.99 ‰; we ask for the umpire.',
  });

const admitDrum: Event = (scene) =>
  recordAnswer(scene, {
    name: 'drum',
    answer: 'accepted',
    document: 'Letter 2203 of Osterhof',
    words: 'The counter of the packing line had stopped; we owe the pieces.',
  });

const settleDrum: Event = (scene) =>
  settleByCredit(scene, {
    name: 'drum',
    document: 'Credit note 881 of Osterhof',
    words: 'As tallied by two people.',
  });

const send =
  (melt: string, to: 'supplier' | 'umpire'): Event =>
  (scene) =>
    sendPortion(scene, melt, to);

/** The supplier of gold finds what the plant found; the supplier of the refused melt does not. */
const goldAgrees: Event = (scene) =>
  recordResult(scene, {
    portion: 'OG-001-S',
    fineness: '751.85',
    uncertainty: '0.25',
    splittingLimit: '0.30',
    document: 'Assay report 7713 of Osterhof',
    method: 'Cupellation, three portions',
  });

const silverParts: Event = (scene) =>
  recordResult(scene, {
    portion: `${refusedMelt.id}-S`,
    fineness: '998.990',
    uncertainty: '0.012',
    splittingLimit: '0.010',
    document: 'Assay report 88 of Fennel and Rusk',
    method: 'Impurities by emission spectrometry, by difference',
  });

const discard =
  (melt: string): Event =>
  (scene) =>
    discardReserve(scene, melt);

/** What happens once, by the day on whose morning it does. */
const events: Readonly<Record<number, readonly Event[]>> = {
  2: [send('OG-001', 'supplier'), send('OG-002', 'supplier')],
  4: [claimMelt, send(refusedMelt.id, 'supplier')],
  5: [clearCuttings],
  7: [answerCharts, claimDrum, countSeals],
  8: [stateTwoReferences, disputeMelt, checkSilverRack],
  9: [findMissingPiece, openAcid('NA-13'), send(refusedMelt.id, 'umpire'), admitDrum],
  10: [condemnAcid, openAcid('NA-14')],
  11: [answerForAcid, settleDrum, clearCuttings, takeUpNewPiece],
  12: [(scene) => recordRound(scene, newRound), goldAgrees, silverParts],
  13: [answerNewRound, discard('FS-001'), discard('FS-002')],
};

/** What the plant takes over into its record before the fortnight begins. */
export async function takeOver(scene: Scene): Promise<void> {
  for (const round of earlierRounds) await recordRound(scene, round);
}

/** The morning of a day: balances are checked, boxes put away, and what else belongs to the day. */
export async function morning(scene: Scene, books: BookReader): Promise<void> {
  await checkBalances(scene, books);
  await putBoxesAway(scene);
  for (const event of events[scene.equipment?.today.day ?? -1] ?? []) await event(scene);
}
