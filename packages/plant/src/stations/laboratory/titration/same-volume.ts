/** Volumes that differ by no more are the same: half a unit of the last place that is printed. */
const sameVolumeMillilitres = 0.00005;

/** Whether the end point that was confirmed is the one found. */
export const isSameVolume = (confirmed: number, found: number): boolean =>
  Math.abs(confirmed - found) <= sameVolumeMillilitres;
