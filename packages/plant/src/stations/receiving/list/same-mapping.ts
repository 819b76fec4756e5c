import type { ListMapping } from './list-bodies.ts';
import type { ProposedMapping } from './proposal.ts';

/** The same mapping, whatever the order of its fields. */
export function isSameMapping(left: ProposedMapping, right: ProposedMapping): boolean {
  const flat = ({ columns, units, ...rest }: ProposedMapping) =>
    Object.entries({ ...columns, ...prefixed(units), ...rest }).sort(([a], [b]) =>
      a < b ? -1 : 1,
    );
  return JSON.stringify(flat(left)) === JSON.stringify(flat(right));
}

const prefixed = (units: ListMapping['units']) => ({
  unitOfGross: units.gross,
  unitOfTare: units.tare,
  unitOfNet: units.net,
});
