import type { EndPointInput, EndPointOutput } from '@cupel/calculation';
import { type CalculatedHere, useCalculated } from '../../examination/screens/use-calculated.ts';
import type { CurvePoint } from '../read-curve.ts';

/** Limits are stated at this level, as the record states them. */
const confidencePercent = 95;

/** The end point of a curve, found beside the page while it is typed. */
export function useEndPoint(
  points: readonly CurvePoint[] | undefined,
  method: EndPointInput['method'] | undefined,
  buretteUncertainty: number,
): CalculatedHere<EndPointOutput> {
  const input =
    points && method
      ? {
          curve: points,
          method,
          volumeStandardUncertaintyMillilitres: buretteUncertainty,
          confidencePercent,
        }
      : undefined;
  // An end point that belongs to another curve must not be confirmed.
  return useCalculated<EndPointOutput>('end-point', input, 'nothing');
}
