/** Accuracy classes of weights, the finest first. */
export const weightClasses = ['E1', 'E2', 'F1', 'F2', 'M1', 'M1-2', 'M2', 'M2-3', 'M3'] as const;

export type WeightClass = (typeof weightClasses)[number];

/**
 * Maximum permissible errors in milligrams by nominal value, one column per class in the order of
 * `weightClasses`; '-' where the class has no such weight. Figures as printed, so that they are
 * compared as decimals.
 */
const printedLimits = `
5000 kg |-|-|25000|80000|250000|500000|800000|1600000|2500000
2000 kg |-|-|10000|30000|100000|200000|300000|600000|1000000
1000 kg |-|1600|5000|16000|50000|100000|160000|300000|500000
500 kg |-|800|2500|8000|25000|50000|80000|160000|250000
200 kg |-|300|1000|3000|10000|20000|30000|60000|100000
100 kg |-|160|500|1600|5000|10000|16000|30000|50000
50 kg |25|80|250|800|2500|5000|8000|16000|25000
20 kg |10|30|100|300|1000|-|3000|-|10000
10 kg |5.0|16|50|160|500|-|1600|-|5000
5 kg |2.5|8.0|25|80|250|-|800|-|2500
2 kg |1.0|3.0|10|30|100|-|300|-|1000
1 kg |0.5|1.6|5.0|16|50|-|160|-|500
500 g |0.25|0.8|2.5|8.0|25|-|80|-|250
200 g |0.10|0.3|1.0|3.0|10|-|30|-|100
100 g |0.05|0.16|0.5|1.6|5.0|-|16|-|50
50 g |0.03|0.10|0.3|1.0|3.0|-|10|-|30
20 g |0.025|0.08|0.25|0.8|2.5|-|8.0|-|25
10 g |0.020|0.06|0.20|0.6|2.0|-|6.0|-|20
5 g |0.016|0.05|0.16|0.5|1.6|-|5.0|-|16
2 g |0.012|0.04|0.12|0.4|1.2|-|4.0|-|12
1 g |0.010|0.03|0.10|0.3|1.0|-|3.0|-|10
500 mg |0.008|0.025|0.08|0.25|0.8|-|2.5|-|-
200 mg |0.006|0.020|0.06|0.20|0.6|-|2.0|-|-
100 mg |0.005|0.016|0.05|0.16|0.5|-|1.6|-|-
50 mg |0.004|0.012|0.04|0.12|0.4|-|-|-|-
20 mg |0.003|0.010|0.03|0.10|0.3|-|-|-|-
10 mg |0.003|0.008|0.025|0.08|0.25|-|-|-|-
5 mg |0.003|0.006|0.020|0.06|0.20|-|-|-|-
2 mg |0.003|0.006|0.020|0.06|0.20|-|-|-|-
1 mg |0.003|0.006|0.020|0.06|0.20|-|-|-|-
`;

export const nominalMasses = [
  '5000 kg',
  '2000 kg',
  '1000 kg',
  '500 kg',
  '200 kg',
  '100 kg',
  '50 kg',
  '20 kg',
  '10 kg',
  '5 kg',
  '2 kg',
  '1 kg',
  '500 g',
  '200 g',
  '100 g',
  '50 g',
  '20 g',
  '10 g',
  '5 g',
  '2 g',
  '1 g',
  '500 mg',
  '200 mg',
  '100 mg',
  '50 mg',
  '20 mg',
  '10 mg',
  '5 mg',
  '2 mg',
  '1 mg',
] as const;

export type NominalMass = (typeof nominalMasses)[number];

const limitTextsByNominal = new Map(
  printedLimits
    .trim()
    .split('\n')
    .map((line) => {
      const [nominal = '', ...limits] = line.split('|').map((cell) => cell.trim());
      return [nominal, limits] as const;
    }),
);

/**
 * Maximum permissible error of a weight on verification, as printed.
 *
 * @param nominal nominal mass
 * @param weightClass accuracy class
 * @returns decimal text in milligrams; null where the class has no such weight
 * Validity: nominal values of the 1-2-5 series from 1 mg to 5000 kg. Compared cell by cell in
 * reference/oiml-r111; rows above 50 kg and the classes M1-2 and M2-3 mostly from memory.
 * Source: OIML R 111-1:2004, Table 1
 * @example weightLimitMilligrams('1 kg', 'F1') // '5.0'
 */
export function weightLimitMilligrams(nominal: NominalMass, weightClass: WeightClass) {
  const text = limitTextsByNominal.get(nominal)?.[weightClasses.indexOf(weightClass)] ?? '-';
  return text === '-' ? null : text;
}
