import { readingMilligrams, readingMillimetres } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { BlanksMeasured } from './bodies.ts';
import type { BlankReadings } from './physical.ts';
import { laboratoryRefusals } from './refusals.ts';

/**
 * Factor by which a measurement may lie outside its limits. What rolling and punching do wrong stays
 * well within; beyond it lie the slips: a factor of ten, another unit, two readings exchanged.
 */
const plausibleFactor = 3;

type Readings = Omit<BlankReadings, 'forPhysical'>;

/**
 * Readings so far from the limits that they cannot be those of the blank. They must not count against
 * the lot, whose rejection moves the supplier's inspection.
 */
export function implausibleMeasurements(
  measurements: readonly Readings[],
  limits: BlanksMeasured['limits'],
  pathOf: (index: number) => string,
): readonly Refusal[] {
  return measurements.flatMap((one, index) => {
    const { massLeastMilligrams, massGreatestMilligrams } = limits;
    const checks = [
      ['mass', readingMilligrams(one.mass), massLeastMilligrams, massGreatestMilligrams],
      [
        'diameter',
        readingMillimetres(one.diameter),
        limits.diameterLeastMillimetres,
        limits.diameterGreatestMillimetres,
      ],
      [
        'thickness',
        readingMillimetres(one.thickness),
        limits.thicknessLeastMillimetres,
        limits.thicknessGreatestMillimetres,
      ],
    ] as const;
    return checks.flatMap(([quantity, value, least, greatest]) => {
      if (value >= least / plausibleFactor && value <= greatest * plausibleFactor) return [];
      const unit = quantity === 'mass' ? 'mg' : 'mm';
      const reading = one[quantity];
      return refuse(laboratoryRefusals, 'MeasurementImplausible', {
        message: `${reading.text} ${reading.unit} cannot be the ${quantity} of blank ${one.blank}, whose limits are ${least} to ${greatest} ${unit}.`,
        field: `${pathOf(index)}${quantity}.text`,
        figures: { blank: one.blank, text: reading.text, unit: reading.unit, least, greatest },
      });
    });
  });
}
