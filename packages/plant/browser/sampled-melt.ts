import type { Recorder } from '../src/journal/recorder.ts';

const reading = (text: string, unit: string) => ({ text, unit, typed: false });

/** Brings a gold melt in one drum through receiving, with its sample measured and ready to be cut. */
export async function sampledGoldMelt(
  recorder: Recorder,
  of: { readonly melt: string; readonly pieces: number; readonly pieceGrams: number },
): Promise<void> {
  const { melt, pieces, pieceGrams } = of;
  const consignment = `C-${melt}`;
  const seal = `PL-${melt}`;
  const drum = `${melt}-F1`;
  const gross = reading((1450 + pieces * pieceGrams).toFixed(1), 'g');
  const tare = reading('1450.0', 'g');
  const act = async (author: string, command: string, input: object): Promise<void> => {
    const idempotencyKey = `${command}-${melt}`;
    const outcome = await recorder.record({ command, input, author, signed: true, idempotencyKey });
    if (outcome.outcome === 'refused') throw new Error(JSON.stringify(outcome.refusals));
    answered = outcome.entries.map(({ body }) => body);
  };
  let answered: readonly unknown[] = [];
  await act('bettina', 'announce-consignment', {
    consignment,
    supplier: 'osterhof',
    document: `Note ${melt}`,
    pieceStandard: 'lantern-12',
    melts: [{ melt, supplierFinenessPerMille: null }],
    drums: [{ drum, melt, pieces, gross, tare, seal }],
  });
  await act('bettina', 'weigh-drum', { drum, sealFound: seal, gross, tare, instrument: 'BAL-R1' });
  await act('wren', 'order-samples', { consignment });
  const [order] = answered as readonly { melts: readonly { samplePieces: number }[] }[];
  const sample = order?.melts[0]?.samplePieces ?? 0;
  await act('wren', 'record-draw', {
    melt,
    gross: reading((sample * pieceGrams).toFixed(2), 'g'),
    instrument: 'BAL-L2',
    verification: { scanned: [], reason: 'The blanks of this trial bear no labels.' },
  });
  const drawn = (answered as readonly { blanks?: readonly { blank: string }[] }[])
    .flatMap(({ blanks }) => blanks ?? [])
    .map(({ blank }) => blank);
  await act('wren', 'measure-blanks', {
    melt,
    balance: 'BAL-L2',
    micrometer: 'MIC-1',
    measurements: drawn.map((blank) => ({
      blank,
      mass: reading(pieceGrams.toFixed(3), 'g'),
      diameter: reading('26.001', 'mm'),
      thickness: reading('1.520', 'mm'),
    })),
  });
}
