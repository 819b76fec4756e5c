import { nextNumber, type Scene } from './state.ts';

/** Certifies the boxes of one piece standard that wait for it. */
export async function certifyBoxes(scene: Scene, pieceStandard: string): Promise<void> {
  const boxes = scene.boxesPacked.filter((item) => item.pieceStandard === pieceStandard);
  if (boxes.length === 0) return;
  await scene.hand.do({
    by: 'orla',
    command: 'issue-certificate',
    input: {
      certificate: nextNumber(scene, 'CERT-', 4),
      boxes: boxes.map(({ box }) => box),
    },
    seconds: 600,
  });
  const rest = scene.boxesPacked.filter((item) => item.pieceStandard !== pieceStandard);
  scene.boxesPacked.splice(0, scene.boxesPacked.length, ...rest);
  scene.boxesCertified.push(...boxes);
}

/** Sends so many certified boxes, oldest first, to a purchaser. */
export async function dispatchBoxes(
  scene: Scene,
  options: { purchaser: string; boxes: number },
): Promise<void> {
  const boxes = scene.boxesCertified.splice(0, options.boxes);
  if (boxes.length === 0) return;
  const dispatch = nextNumber(scene, 'SH-', 4);
  await scene.hand.do({
    by: 'jonas',
    with: 'wren',
    command: 'dispatch-boxes',
    input: {
      dispatch,
      purchaser: options.purchaser,
      document: `Delivery note ${dispatch}`,
      boxes: boxes.map(({ box }) => box),
    },
    seconds: 900,
  });
}
