import { area, curveMonotoneX } from 'd3-shape';

/** What lies at one place, as the strip needs it: fine micrograms by metal. */
export interface StripPlace {
  readonly gold: number;
  readonly silver: number;
}

/** Height of the strip's drawing and the width that one station takes. */
export const strip = { height: 44, middle: 22, stationWidth: 100 } as const;

const thinnest = 0.75;
const thicknessPerDecade = 3;

/**
 * How thick a strand is drawn: a hairline for nothing, else three units for each power of ten of its
 * fine mass above a tenth of a gram.
 */
export function strandThickness(fineMicrograms: number): number {
  if (fineMicrograms <= 0) return thinnest;
  return thinnest + thicknessPerDecade * Math.max(0, Math.log10(fineMicrograms / 1e5));
}

type Point = readonly [x: number, thickness: number];

/** The strand over all stations: even at each station, drawn out between them. */
function strandPoints(thicknesses: readonly number[]): readonly Point[] {
  const first = thicknesses[0] ?? thinnest;
  const last = thicknesses.at(-1) ?? thinnest;
  const width = strip.stationWidth;
  const inner = thicknesses.flatMap((thickness, index): Point[] => [
    [index * width + width * 0.22, thickness],
    [index * width + width * 0.78, thickness],
  ]);
  return [[0, first], ...inner, [thicknesses.length * width, last]];
}

/** The paths of the two strands: gold above the middle of the strip, silver below. */
export function stripPaths(places: readonly StripPlace[]): { gold: string; silver: string } {
  const path = (metal: 'gold' | 'silver', sign: 1 | -1) =>
    area<Point>()
      .x(([x]) => x)
      .y0(strip.middle)
      .y1(([, thickness]) => strip.middle + sign * thickness)
      .curve(curveMonotoneX)(strandPoints(places.map((place) => strandThickness(place[metal])))) ??
    '';
  return { gold: path('gold', -1), silver: path('silver', 1) };
}
