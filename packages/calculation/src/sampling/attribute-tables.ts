/**
 * Tables I, II-A, II-B and II-C of MIL-STD-105E (1989), single sampling, as data. The folder
 * reference/mil-std-105e says how the figures were obtained and which ones were seen in one source
 * only; its test compares every plan here with the resolved plans kept there.
 */

/** Inspection levels of Table I in its column order. */
export const inspectionLevels = ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] as const;

export type InspectionLevel = (typeof inspectionLevels)[number];

/** Severities of inspection: Tables II-A, II-B and II-C. */
export const severities = ['normal', 'tightened', 'reduced'] as const;

export type Severity = (typeof severities)[number];

/** Acceptance quality limits in percent, or nonconformities per hundred pieces, in column order. */
export const acceptanceQualityLimits = [
  0.01, 0.015, 0.025, 0.04, 0.065, 0.1, 0.15, 0.25, 0.4, 0.65, 1, 1.5, 2.5, 4, 6.5, 10, 15, 25, 40,
  65, 100, 150, 250, 400, 650, 1000,
] as const;

/** Table I: the largest lot of each row with its letters, one for each inspection level in order. */
export const codeLetterRows: readonly { readonly lotMaximum: number; readonly letters: string }[] =
  [
    { lotMaximum: 8, letters: 'AAAAAAB' },
    { lotMaximum: 15, letters: 'AAAAABC' },
    { lotMaximum: 25, letters: 'AABBBCD' },
    { lotMaximum: 50, letters: 'ABBCCDE' },
    { lotMaximum: 90, letters: 'BBCCCEF' },
    { lotMaximum: 150, letters: 'BBCDDFG' },
    { lotMaximum: 280, letters: 'BCDEEGH' },
    { lotMaximum: 500, letters: 'BCDEFHJ' },
    { lotMaximum: 1200, letters: 'CCEFGJK' },
    { lotMaximum: 3200, letters: 'CDEGHKL' },
    { lotMaximum: 10000, letters: 'CDFGJLM' },
    { lotMaximum: 35000, letters: 'CDFHKMN' },
    { lotMaximum: 150000, letters: 'DEGJLNP' },
    { lotMaximum: 500000, letters: 'DEGJMPQ' },
    { lotMaximum: Number.POSITIVE_INFINITY, letters: 'DEHKNQR' },
  ];

/**
 * The master tables of single plans, one text for each letter in order of sample size: the letter,
 * its sample size, then the twenty-six cells in column order. `v` and `^` are arrows down and up,
 * `2/3` is an acceptance number with its rejection number.
 */
export const masterTables: Readonly<Record<Severity, readonly string[]>> = {
  normal: [
    'A 2 v v v v v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31',
    'B 3 v v v v v v v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31 44/45',
    'C 5 v v v v v v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31 44/45 ^',
    'D 8 v v v v v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31 44/45 ^ ^',
    'E 13 v v v v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31 44/45 ^ ^ ^',
    'F 20 v v v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^',
    'G 32 v v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^',
    'H 50 v v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^',
    'J 80 v v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'K 125 v v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'L 200 v v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'M 315 v v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'N 500 v v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'P 800 v 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'Q 1250 0/1 ^ v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'R 2000 ^ ^ 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  ],
  tightened: [
    'A 2 v v v v v v v v v v v v v v v v v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 27/28',
    'B 3 v v v v v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 27/28 41/42',
    'C 5 v v v v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 27/28 41/42 ^',
    'D 8 v v v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 27/28 41/42 ^ ^',
    'E 13 v v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 27/28 41/42 ^ ^ ^',
    'F 20 v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^',
    'G 32 v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^',
    'H 50 v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^',
    'J 80 v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'K 125 v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'L 200 v v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'M 315 v v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'N 500 v v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'P 800 v v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'Q 1250 v 0/1 v v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'R 2000 0/1 ^ v 1/2 2/3 3/4 5/6 8/9 12/13 18/19 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'S 3150 ^ ^ 1/2 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  ],
  reduced: [
    'A 2 v v v v v v v v v v v v v v 0/1 v v 1/2 2/3 3/4 5/6 7/8 10/11 14/15 21/22 30/31',
    'B 2 v v v v v v v v v v v v v 0/1 ^ v 0/2 1/3 2/4 3/5 5/6 7/8 10/11 14/15 21/22 30/31',
    'C 2 v v v v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^',
    'D 3 v v v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^ ^',
    'E 5 v v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^ ^ ^',
    'F 8 v v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^',
    'G 13 v v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^',
    'H 20 v v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^',
    'J 32 v v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'K 50 v v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'L 80 v v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'M 125 v v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'N 200 v v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'P 315 v 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'Q 500 0/1 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
    'R 800 ^ ^ 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  ],
};
