import { blanksLeft } from '../demonstration/press-work.ts';
import type { Job } from './crew.ts';
import { pressesOf } from './founding.ts';
import type { Ground } from './ground.ts';
import { examineAll } from './laboratory-work.ts';
import { consignmentPieces, receive } from './receiving-work.ts';
import { standardNamed } from './standards.ts';
import { standardOf } from './world.ts';

/** New consignments where the blanks will not last, and the laboratory behind them. */
export function supply(ground: Ground, standards: readonly string[]): readonly Job[] {
  const { size, world } = ground;
  return standards.flatMap((name) => {
    const standard = standardNamed(ground.standards, name);
    const presses = pressesOf(ground).filter(({ pieceStandard }) => pieceStandard === name);
    const wanted = 2 * size.runsPerShift * size.piecesPerRun * presses.length;
    const left = world.melts
      .filter((melt) => standardOf(melt) === name && melt.ruling !== 'refuse')
      .reduce((sum, melt) => sum + blanksLeft(melt), 0);
    const consignments = Math.max(
      0,
      Math.ceil((wanted - left) / consignmentPieces(size, standard)),
    );
    return Array.from({ length: Math.max(1, consignments) }, (_, at) => ({
      name: `receiving and laboratory ${at + 1}`,
      work: async () => {
        if (at < consignments) await receive(ground, standard);
        await examineAll(ground);
      },
    }));
  });
}
