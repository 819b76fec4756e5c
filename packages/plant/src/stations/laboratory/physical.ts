import type { Reading } from '../../journal/reading.ts';
import { readingMicrograms, readingMilligrams, readingMillimetres } from '../../journal/reading.ts';
import type { LotByVariables } from '../receiving/index.ts';
import type { BlankFault, BlanksMeasured, Measurement, PhysicalState } from './bodies.ts';

/** The readings of one blank. */
export interface BlankReadings {
  readonly blank: string;
  readonly forPhysical: boolean;
  readonly mass: Reading;
  readonly diameter: Reading;
  readonly thickness: Reading;
}

/** A value outside its limits; a value on a limit is inside. */
function faultsOf(
  quantity: 'mass' | 'diameter' | 'thickness',
  value: number,
  limits: { readonly least: number; readonly greatest: number },
): readonly BlankFault[] {
  if (value < limits.least) return [`${quantity} below least`];
  return value > limits.greatest ? [`${quantity} above greatest`] : [];
}

/**
 * Holds one blank against the limits of its piece standard. Milligrams are the double nearest to
 * the reading, as the limits are the doubles nearest to what was registered, so that a reading on a
 * limit is inside.
 */
export function measureBlank(
  readings: BlankReadings,
  limits: BlanksMeasured['limits'],
): Measurement {
  const diameterMillimetres = readingMillimetres(readings.diameter);
  const thicknessMillimetres = readingMillimetres(readings.thickness);
  return {
    blank: readings.blank,
    forPhysical: readings.forPhysical,
    mass: readings.mass,
    diameter: readings.diameter,
    thickness: readings.thickness,
    massMicrograms: readingMicrograms(readings.mass),
    diameterMillimetres,
    thicknessMillimetres,
    faults: [
      ...faultsOf('mass', readingMilligrams(readings.mass), {
        least: limits.massLeastMilligrams,
        greatest: limits.massGreatestMilligrams,
      }),
      ...faultsOf('diameter', diameterMillimetres, {
        least: limits.diameterLeastMillimetres,
        greatest: limits.diameterGreatestMillimetres,
      }),
      ...faultsOf('thickness', thicknessMillimetres, {
        least: limits.thicknessLeastMillimetres,
        greatest: limits.thicknessGreatestMillimetres,
      }),
    ],
  };
}

/** What the measured blanks of a melt say together. */
export interface PhysicalCounts {
  /** Of those by which the lot is judged. */
  readonly blanksMeasured: number;
  readonly blanksNonconforming: number;
  /** Of all that were measured: blanks whose mass is at fault, and those below the least mass. */
  readonly blanksOffMass: number;
  readonly blanksBelowLeastMass: number;
}

/** Counts blanks by their faults; a blank with several faults counts once. */
export function countBlanks(
  measured: readonly Pick<Measurement, 'forPhysical' | 'faults'>[],
): PhysicalCounts {
  const judged = measured.filter((blank) => blank.forPhysical);
  const having = (fault: (name: BlankFault) => boolean) =>
    measured.filter((blank) => blank.faults.some(fault)).length;
  return {
    blanksMeasured: judged.length,
    blanksNonconforming: judged.filter((blank) => blank.faults.length > 0).length,
    blanksOffMass: having((name) => name.startsWith('mass')),
    blanksBelowLeastMass: having((name) => name === 'mass below least'),
  };
}

/**
 * State of the physical examination: rejected as soon as the rejection number is reached, accepted
 * only when every blank of the sample has been measured. A lot whose order is one by variables stands
 * as its readings say, unless they are not normal; blanks at fault reject it all the same.
 */
export function physicalState(
  counts: Pick<PhysicalCounts, 'blanksMeasured' | 'blanksNonconforming'>,
  plan: { readonly blanksForPhysical: number; readonly rejectionNumber: number },
  byVariables?: Pick<LotByVariables, 'state'>,
): PhysicalState {
  if (counts.blanksNonconforming >= plan.rejectionNumber) return 'rejected';
  if (byVariables && byVariables.state !== 'by attributes') return byVariables.state;
  return counts.blanksMeasured >= plan.blanksForPhysical ? 'accepted' : 'open';
}
