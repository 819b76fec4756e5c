/**
 * Table VIII of MIL-STD-105E (1989), limit numbers for reduced inspection, as data. Each row begins at
 * a number of sample units and ends before the next row; `firstColumn` is the place of its first
 * limit among the twenty-six acceptance quality limits, the others follow in column order. To the
 * left of the first column the units do not suffice; to the right of the last nothing is tabulated.
 * The folder reference/mil-std-105e says which figures are published and which are from memory.
 */
export const limitNumberRows: readonly {
  readonly unitsMinimum: number;
  readonly firstColumn: number;
  readonly limits: readonly number[];
}[] = [
  { unitsMinimum: 20, firstColumn: 15, limits: [0, 0, 2, 4, 8, 14, 22, 40, 68, 115, 181] },
  { unitsMinimum: 30, firstColumn: 14, limits: [0, 0, 1, 3, 7, 13, 22, 36, 63, 105, 178, 277] },
  { unitsMinimum: 50, firstColumn: 13, limits: [0, 0, 2, 3, 7, 14, 25, 40, 63, 110, 181, 301] },
  { unitsMinimum: 80, firstColumn: 12, limits: [0, 0, 2, 4, 7, 14, 24, 42, 68, 105, 181, 297] },
  {
    unitsMinimum: 130,
    firstColumn: 11,
    limits: [0, 0, 2, 4, 7, 13, 25, 42, 72, 115, 177, 301, 490],
  },
  {
    unitsMinimum: 200,
    firstColumn: 10,
    limits: [0, 0, 2, 4, 8, 14, 22, 40, 68, 115, 181, 277, 471],
  },
  { unitsMinimum: 320, firstColumn: 9, limits: [0, 0, 1, 4, 8, 14, 24, 39, 68, 113, 189] },
  { unitsMinimum: 500, firstColumn: 8, limits: [0, 0, 2, 3, 7, 14, 25, 40, 63, 110, 181] },
  { unitsMinimum: 800, firstColumn: 7, limits: [0, 0, 2, 4, 7, 14, 24, 42, 68, 105, 181] },
  { unitsMinimum: 1250, firstColumn: 6, limits: [0, 0, 2, 4, 7, 13, 24, 40, 69, 110, 169] },
  { unitsMinimum: 2000, firstColumn: 5, limits: [0, 0, 2, 4, 8, 14, 22, 40, 68, 115, 181] },
  { unitsMinimum: 3150, firstColumn: 4, limits: [0, 0, 1, 4, 8, 14, 24, 38, 67, 111, 186] },
  { unitsMinimum: 5000, firstColumn: 3, limits: [0, 0, 2, 3, 7, 14, 25, 40, 63, 110, 181] },
  { unitsMinimum: 8000, firstColumn: 2, limits: [0, 0, 2, 4, 7, 14, 24, 42, 68, 105, 181] },
  { unitsMinimum: 12500, firstColumn: 1, limits: [0, 0, 2, 4, 7, 13, 24, 40, 69, 110, 169] },
  { unitsMinimum: 20000, firstColumn: 0, limits: [0, 0, 2, 4, 8, 14, 22, 40, 68, 115, 181] },
  { unitsMinimum: 31500, firstColumn: 0, limits: [0, 1, 4, 8, 14, 24, 38, 67, 111, 186] },
];
