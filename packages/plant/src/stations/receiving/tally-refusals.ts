import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { PieceStandard } from '../registers/index.ts';
import type { Drum } from './books.ts';
import { receivingRefusals } from './refusals.ts';
import { offWeightRelative } from './weighing-refusals.ts';

/** Share of the documented pieces within which a count needs nothing else to be believed. */
const documentRelative = 0.01;

/** Factor from document and weight beyond which a count is a slip of the pen, whatever is said. */
const slipFactor = 2;

/** The counts that the weight of the drum bears out, were its blanks off-weight by as much as blanks are. */
function countsByWeight(
  netMicrograms: number,
  standard: PieceStandard,
): { readonly fewest: number; readonly most: number } {
  const netMilligrams = netMicrograms / 1000;
  const heaviest = standard.massGreatestMilligrams * (1 + offWeightRelative);
  const lightest = standard.massLeastMilligrams * (1 - offWeightRelative);
  return {
    fewest: Math.max(0, Math.ceil(netMilligrams / heaviest - 0.5)),
    most: Math.floor(netMilligrams / lightest + 0.5),
  };
}

/**
 * Why a count by hand is not taken: nothing bears it out, or it is out of all proportion. Document and
 * weight speak each for itself, since either may be the one that is wrong.
 */
export function tallyRefusals(
  input: { readonly piecesFound: number; readonly reason?: string | undefined },
  drum: Drum,
  standard: PieceStandard,
): readonly Refusal[] {
  const { piecesFound } = input;
  const { piecesDocumented, netMicrograms } = drum;
  if (netMicrograms === null) return [];
  const { fewest, most } = countsByWeight(netMicrograms, standard);
  const isByWeight = piecesFound >= fewest && piecesFound <= most;
  const doubt = Math.max(1, documentRelative * piecesDocumented);
  if (isByWeight || Math.abs(piecesFound - piecesDocumented) <= doubt) return [];
  const isSlip =
    piecesFound * slipFactor < Math.min(piecesDocumented, fewest) ||
    piecesFound > slipFactor * Math.max(piecesDocumented, most);
  if (!isSlip && input.reason !== undefined) return [];
  const netGrams = netMicrograms / 1e6;
  const weighed = `its ${netGrams} g are ${fewest} to ${most} pieces of ${standard.title}`;
  return [
    refuse(receivingRefusals, isSlip ? 'CountImplausible' : 'CountUnborne', {
      message: `${piecesFound} pieces found in drum ${drum.drum}: its document says ${piecesDocumented}, and ${weighed}.`,
      field: 'piecesFound',
      figures: { drum: drum.drum, piecesFound, piecesDocumented, netGrams, fewest, most },
    }),
  ];
}
