import { nextNumber } from '../demonstration/state.ts';
import type { Ground } from './ground.ts';

/** Boxes on one certificate or in one dispatch. */
const boxesAtOnce = 400;

/** Certifies what is packed and sends out what is certified. */
export async function certifyAndSend(
  ground: Ground,
  options: { readonly standards: readonly string[]; readonly isSending: boolean },
): Promise<void> {
  for (const standard of options.standards) await certify(ground, standard);
  while (options.isSending && ground.boxesCertified.length > 0) await send(ground);
}

async function certify(ground: Ground, pieceStandard: string): Promise<void> {
  const { boxesPacked, boxesCertified } = ground;
  for (;;) {
    const boxes = boxesPacked
      .filter((packed) => packed.pieceStandard === pieceStandard)
      .slice(0, boxesAtOnce);
    if (boxes.length === 0) return;
    // Off the list first: people at the benches go on packing meanwhile.
    const rest = boxesPacked.filter((packed) => !boxes.includes(packed));
    boxesPacked.splice(0, boxesPacked.length, ...rest);
    await ground.hand.do({
      by: 'orla',
      command: 'issue-certificate',
      input: {
        certificate: nextNumber(ground, 'CERT-', 5),
        boxes: boxes.map(({ box }) => box),
      },
      seconds: 600,
    });
    boxesCertified.push(...boxes);
  }
}

async function send(ground: Ground): Promise<void> {
  const boxes = ground.boxesCertified.splice(0, boxesAtOnce);
  const dispatch = nextNumber(ground, 'SH-', 5);
  await ground.hand.do({
    by: 'jonas',
    with: 'wren',
    command: 'dispatch-boxes',
    input: {
      dispatch,
      purchaser: ground.chance.one(['calder-house', 'north-quay']),
      document: `Delivery note ${dispatch}`,
      boxes: boxes.map(({ box }) => box),
    },
    seconds: 900,
  });
  for (const { box } of boxes) ground.world.boxes.delete(box);
}
