import writeWorkbook from 'write-excel-file/node';

/** A drum as the supplier's list has it. */
export interface ListedDrum {
  readonly drum: string;
  readonly melt: string;
  readonly pieces: number;
  readonly grossGrams: number;
  readonly tareGrams: number;
  readonly seal: number;
  readonly finenessPerMille: string;
}

/** A number as the supplier types it: 7.470,0. */
function germanText(value: number, decimals: number): string {
  const [whole = '', after = ''] = value.toFixed(decimals).split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, '.');
  return after === '' ? grouped : `${grouped},${after}`;
}

const sumOf = (drums: readonly ListedDrum[], of: (drum: ListedDrum) => number): number =>
  drums.reduce((sum, drum) => sum + of(drum), 0);

/** The melt stands in the first of its drums only, in a cell merged over all of them. */
function meltCell(drums: readonly ListedDrum[], index: number) {
  const { melt } = drums[index] as ListedDrum;
  if (drums[index - 1]?.melt === melt) return null;
  return { value: melt, rowSpan: drums.filter((one) => one.melt === melt).length };
}

/**
 * A packing list as suppliers send them: title and address above the table, a header of two lines
 * with merged cells and units in it, German words, masses typed as text with decimal comma and
 * thousands, a column that says nothing, a row of sums and a closing line below.
 */
export async function untidyPackingList(drums: readonly ListedDrum[]): Promise<Buffer> {
  const rows = [
    [{ value: 'Packliste zu Lieferschein 2207', columnSpan: 9, fontWeight: 'bold' }],
    [{ value: 'Fennel and Rusk Rolling, Walzwerk Ost, Tor 3', columnSpan: 9 }],
    [{ value: 'Ronden Feinsilber, blank geglüht' }, null, null, { value: 'Bestellung 88-114' }],
    [],
    [
      { value: 'Pos.', rowSpan: 2 },
      { value: 'Faß-Nr.', rowSpan: 2 },
      { value: 'Schmelze', rowSpan: 2 },
      { value: 'Stückzahl', rowSpan: 2 },
      { value: 'Masse [g]', columnSpan: 2 },
      null,
      { value: 'Plomben-Nr.', rowSpan: 2 },
      { value: 'Feingehalt (‰)', rowSpan: 2 },
      { value: 'Bemerkung', rowSpan: 2 },
    ],
    [null, null, null, null, { value: 'Brutto' }, { value: 'Tara' }, null, null, null],
    ...drums.map((drum, index) => [
      { value: index + 1 },
      { value: drum.drum },
      meltCell(drums, index),
      { value: drum.pieces, format: '#,##0' },
      { value: germanText(drum.grossGrams, 1), align: 'right' },
      { value: drum.tareGrams, format: '#,##0.0' },
      { value: drum.seal },
      { value: drum.finenessPerMille },
      index === 1 ? { value: 'Deckel neu' } : null,
    ]),
    [
      { value: 'Summe', fontWeight: 'bold' },
      null,
      null,
      {
        value: germanText(
          sumOf(drums, ({ pieces }) => pieces),
          0,
        ),
        align: 'right',
      },
      {
        value: germanText(
          sumOf(drums, ({ grossGrams }) => grossGrams),
          1,
        ),
        align: 'right',
      },
      { value: sumOf(drums, ({ tareGrams }) => tareGrams), format: '#,##0.0' },
      null,
      null,
      null,
    ],
    [],
    [{ value: 'Ware geprüft und verplombt. Rückgabe der Fässer frei Haus.' }],
  ];
  return writeWorkbook(rows as never).toBuffer();
}
