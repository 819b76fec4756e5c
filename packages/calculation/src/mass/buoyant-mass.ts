/** Conditions of the conventional mass (OIML D 28:2004), in kg/m³. */
export const conventionalDensities = { weight: 8000, air: 1.2 } as const;

/** Densities that tie the reading of a balance to mass, all in kg/m³. */
export interface BuoyancyDensities {
  /** Of the object on the pan. */
  readonly object: number;
  /** Of the air during the weighing. */
  readonly air: number;
  /** Of the weight with which the balance was adjusted. */
  readonly adjustingWeight: number;
  /** Of the air when the balance was adjusted. */
  readonly adjustingAir: number;
}

/** What the conventional mass of an object of mass 1 is. */
export function conventionalFactor(objectDensity: number): number {
  const { weight, air } = conventionalDensities;
  return (1 - air / objectDensity) / (1 - air / weight);
}

/**
 * What a balance shows for an object of mass 1. It was adjusted to show the conventional mass of
 * its weight in the air of that time.
 */
function readingFactor(densities: BuoyancyDensities): number {
  const { object, air, adjustingWeight, adjustingAir } = densities;
  const lift = (1 - air / object) / (1 - adjustingAir / adjustingWeight);
  return lift * conventionalFactor(adjustingWeight);
}

/**
 * True mass of an object from the reading of a balance: what buoyancy has taken off is put back.
 *
 * Formula: m = W·(1 − ρadj/ρw)/(1 − ρa/ρ)/c, W reading, ρ object, ρa air, ρw and ρadj weight and air
 * at the adjustment, c = (1 − 1.2/ρw)/(1 − 1.2/8000) the conventional value of that weight per unit
 * of mass; for a weight of 8000 kg/m³ adjusted in the same air m = W·(1 − ρa/8000)/(1 − ρa/ρ).
 *
 * @param reading in any unit of mass
 * @param densities in kg/m³, each object denser than its air
 * @returns mass in the unit of the reading, not rounded
 * Validity: exact; the balance is adjusted to the conventional mass of its weight and is linear.
 * Source: OIML D 28:2004; OIML R 111-1:2004, Annex E; NIST SOP 2
 * @example massOfReading(2000, { object: 2700, air: 1.2, adjustingWeight: 8000,
 *   adjustingAir: 1.2 }) // 2000.589
 */
export function massOfReading(reading: number, densities: BuoyancyDensities): number {
  return reading / readingFactor(densities);
}

/**
 * Reading that a balance shows for an object of known mass: the inverse of `massOfReading`.
 *
 * @param mass true mass in any unit
 * @param densities in kg/m³
 * @returns reading in the unit of the mass, not rounded
 * Validity: as `massOfReading`.
 * Source: as `massOfReading`
 * @example readingOfMass(2000.589, { object: 2700, air: 1.2, adjustingWeight: 8000,
 *   adjustingAir: 1.2 }) // 2000.000
 */
export function readingOfMass(mass: number, densities: BuoyancyDensities): number {
  return mass * readingFactor(densities);
}

/**
 * Conventional mass of an object: the mass of the weight of 8000 kg/m³ that balances it in air of
 * 1.2 kg/m³.
 *
 * Formula: mc = m·(1 − 1.2/ρ)/(1 − 1.2/8000).
 *
 * @param mass true mass in any unit
 * @param objectDensity in kg/m³
 * @returns conventional mass in the unit of the mass, not rounded
 * Validity: exact by definition, at 20 °C.
 * Source: OIML D 28:2004
 * @example conventionalMass(250, 19300) // 250.02196
 */
export function conventionalMass(mass: number, objectDensity: number): number {
  return mass * conventionalFactor(objectDensity);
}
