import type { ReagentLotRow, ReferenceMaterialRow } from '../../../registers/index.ts';

/** Why no titre of a lot can be determined today; nothing where one can. */
export function titreNotYet(row: ReagentLotRow | null, day: string): string | undefined {
  if (row === null) return 'No such lot is in the register of reagents.';
  const lot = `Lot ${row.lot} of ${row.reagent}`;
  if (!row.isTitrant) return `${lot} was received as no titrant.`;
  if (row.state === 'condemned') return `${lot} was condemned.`;
  if (row.state === 'closed') return `${lot} has not been opened.`;
  return row.expires < day ? `${lot} expired on ${row.expires}.` : undefined;
}

/** The titrants that are open today. */
export function openTitrants(
  lots: readonly ReagentLotRow[],
  day: string,
): readonly ReagentLotRow[] {
  return lots.filter((row) => titreNotYet(row, day) === undefined);
}

/** The reference materials of silver that a titrant can be titrated against today. */
export function standardSilver(
  materials: readonly ReferenceMaterialRow[],
  day: string,
): readonly ReferenceMaterialRow[] {
  return materials.filter(
    (row) =>
      row.metal === 'silver' &&
      row.retired === null &&
      row.validUntil >= day &&
      row.massRemainingMicrograms > 0 &&
      row.certified.some(({ quantity }) => quantity === 'fineness'),
  );
}
