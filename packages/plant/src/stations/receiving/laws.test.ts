import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PackingListReading, readPackingList } from './packing-list.ts';
import { postingsOfTally } from './postings.ts';

const settings = { seed: 20_260_302, numRuns: 200 };

const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,12}$/);

/** Pieces, net and tare of a drum in whole grams. */
const row = fc.record({
  pieces: fc.integer({ min: 2, max: 100_000 }),
  net: fc.integer({ min: 1, max: 1_000_000 }),
  tare: fc.integer({ min: 1, max: 50_000 }),
});

const columns = {
  drum: 'drum',
  melt: 'melt',
  pieces: 'pieces',
  gross: 'gross',
  tare: 'tare',
  seal: 'seal',
  supplierFinenessPerMille: null,
};

describe('a packing list', () => {
  it('is read as it was written, whatever its separator and decimal mark', () => {
    const list = fc.record({
      drums: fc.uniqueArray(id, { minLength: 1, maxLength: 12 }),
      melt: id,
      rows: fc.array(row, { minLength: 12, maxLength: 12 }),
      form: fc.constantFrom(
        { separator: ';', decimalMark: 'comma' as const },
        { separator: ';', decimalMark: 'point' as const },
        { separator: '\t', decimalMark: 'comma' as const },
        { separator: ',', decimalMark: 'point' as const },
      ),
    });
    fc.assert(
      fc.property(list, ({ drums, melt, rows, form }) => {
        const kilograms = (grams: number) => (grams / 1000).toFixed(3);
        const written = drums.map((drum, index) => {
          const { pieces, net, tare } = rows[index] as {
            pieces: number;
            net: number;
            tare: number;
          };
          return { drum, pieces, gross: kilograms(net + tare), tare: kilograms(tare) };
        });
        const mark = (text: string) =>
          form.decimalMark === 'comma' ? text.replace('.', ',') : text;
        const lines = written.map((drum, index) =>
          [drum.drum, melt, drum.pieces, mark(drum.gross), mark(drum.tare), `S${index}`].join(
            form.separator,
          ),
        );
        const header = ['drum', 'melt', 'pieces', 'gross', 'tare', 'seal'].join(form.separator);
        const reading: PackingListReading = {
          consignment: 'C',
          supplier: 'S',
          document: 'D',
          pieceStandard: 'P',
          columns,
          massUnit: 'kg',
          decimalMark: form.decimalMark,
        };
        const result = readPackingList([header, ...lines].join('\n'), reading);
        const read = result.outcome === 'read' ? result.input.drums : [];
        expect(
          read.map(({ drum, pieces, gross, tare }) => ({
            drum,
            pieces,
            gross: gross.text,
            tare: tare.text,
          })),
        ).toEqual(written);
      }),
      settings,
    );
  });
});

describe('a tally', () => {
  it('leaves the account with the pieces found and the grams untouched', () => {
    const count = fc.integer({ min: 0, max: 100_000 });
    fc.assert(
      fc.property(count, count, (piecesBooked, piecesFound) => {
        const postings = postingsOfTally({
          consignment: 'C',
          melt: 'M',
          drum: 'D',
          pieceStandard: 'P',
          metal: 'gold',
          finenessDeclaredPartsPerMillion: 999_900,
          piecesDocumented: piecesBooked,
          piecesBooked,
          piecesFound,
        });
        const inReceiving = postings.reduce(
          (sum, { to, pieces }) => sum + (to === 'receiving' ? pieces : -pieces),
          piecesBooked,
        );
        expect(inReceiving).toBe(piecesFound);
        expect(postings.every(({ grossMicrograms }) => grossMicrograms === 0)).toBe(true);
      }),
      settings,
    );
  });
});
