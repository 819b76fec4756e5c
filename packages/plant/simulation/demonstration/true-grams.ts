import type { InsidePlace } from '../../src/journal/place.ts';
import { laboratoryGrams } from './laboratory-metal-work.ts';
import { heapGrams } from './metal.ts';
import type { Scene } from './state.ts';

const sum = (grams: readonly number[]): number => grams.reduce((total, one) => total + one, 0);

function receivingGrams(scene: Scene, pieceStandard: string): number {
  const melts = scene.melts.filter(({ truth }) => truth.standard.pieceStandard === pieceStandard);
  return sum(melts.flatMap(({ drums }) => [...drums.values()].map(heapGrams)));
}

function putUpGrams(scene: Scene, pieceStandard: string): number {
  const melts = scene.melts.filter(({ truth }) => truth.standard.pieceStandard === pieceStandard);
  const tubes = scene.openTubes.get(pieceStandard) ?? [];
  return (
    sum(melts.map(({ loose }) => heapGrams(loose))) +
    sum(tubes.map(({ netGrams }) => netGrams ?? 0))
  );
}

function strongRoomGrams(scene: Scene, pieceStandard: string): number {
  const boxes = [...scene.boxesPacked, ...scene.boxesCertified];
  return sum(
    boxes
      .filter((one) => one.pieceStandard === pieceStandard)
      .map(({ box }) => scene.equipment?.boxGrams.get(box) ?? 0),
  );
}

/** What the pieces at a place really weigh, whatever the book says; nothing where nobody asks. */
export function trueGramsAt(
  scene: Scene,
  place: InsidePlace,
  pieceStandard: string,
): number | undefined {
  switch (place) {
    case 'receiving':
      return receivingGrams(scene, pieceStandard);
    case 'laboratory':
      return laboratoryGrams(scene, pieceStandard);
    case 'press-room':
      return scene.equipment?.heldGrams.get(pieceStandard) ?? 0;
    case 'put-up':
      return putUpGrams(scene, pieceStandard);
    case 'strong-room':
      return strongRoomGrams(scene, pieceStandard);
    default:
      return undefined;
  }
}
