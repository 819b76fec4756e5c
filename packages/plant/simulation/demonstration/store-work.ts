import { heron, lantern } from './cast.ts';
import { numberSeries, racks, spoiledSeals } from './laboratory-stock.ts';
import type { Scene } from './state.ts';

const rackOf = (pieceStandard: string): string =>
  pieceStandard === lantern.pieceStandard ? racks.gold.rack : racks.silver.rack;

/** Puts the boxes that came into the strong room since into their racks. */
export async function putBoxesAway(scene: Scene): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  const { putAway } = equipment;
  for (const { pieceStandard } of [heron, lantern]) {
    const boxes = scene.boxesPacked
      .filter((one) => one.pieceStandard === pieceStandard && !putAway.has(one.box))
      .map(({ box }) => box);
    if (boxes.length === 0) continue;
    const rack = rackOf(pieceStandard);
    await scene.hand.do({
      by: 'jonas',
      command: 'put-away',
      input: { rack, containers: boxes },
      seconds: 60,
    });
    for (const box of boxes) putAway.set(box, rack);
  }
}

/** Scans what lies in the rack of the silver boxes; everything is there. */
export async function checkSilverRack(scene: Scene): Promise<void> {
  const { rack } = racks.silver;
  const found = [...scene.boxesPacked, ...scene.boxesCertified]
    .map(({ box }) => box)
    .filter((box) => scene.equipment?.putAway.get(box) === rack);
  await scene.hand.do({
    by: 'wren',
    command: 'check-rack',
    input: { rack, found },
    seconds: 300,
  });
}

/** Two people spoil the seals that jammed and count those that are left. */
export async function countSeals(scene: Scene): Promise<void> {
  const [seals] = numberSeries;
  const { series, prefix, last } = seals;
  const people = { by: 'jonas', with: 'sorrel' } as const;
  await scene.hand.do({
    ...people,
    command: 'spoil-numbers',
    input: { series, ...spoiledSeals, reason: 'They jammed in the press and were cut up.' },
    seconds: 60,
  });
  const spoiled = spoiledSeals.last - spoiledSeals.first + 1;
  const found = last - (scene.numbers.get(prefix) ?? 0) - spoiled;
  await scene.hand.do({
    ...people,
    command: 'count-numbers',
    input: { series, found },
    seconds: 600,
  });
}
