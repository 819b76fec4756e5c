import { requireDomain } from '../quantity/domain.ts';

/** Pieces found in one custody cell at the beginning and at the end. */
export interface PieceNode {
  readonly opening: number;
  readonly closing: number;
}

/** A move of pieces, counted at both ends; an end that is no node lies outside the plant. */
export interface PieceTransfer {
  readonly from: string;
  readonly to: string;
  readonly sent: number;
  readonly received: number;
}

export interface PieceBalance {
  /** Pieces missing per cell: opening + received − sent − closing; positive is missing. */
  readonly residualByNode: Readonly<Record<string, number>>;
  /** Sent less received, summed over the transfers between cells. */
  readonly internalGap: number;
  /** Pieces missing in all. */
  readonly plantBalance: number;
}

function requirePieces(field: string, value: number): void {
  requireDomain(Number.isSafeInteger(value) && value >= 0, {
    field,
    value,
    accepted: 'a whole number of pieces from 0',
  });
}

/**
 * Piece balance of every custody cell and of the plant. A residual that is not 0 is a fault; two
 * opposite ones side by side are one transfer recorded wrong; a gap says that the two ends of a
 * transfer disagree.
 *
 * Formula: residual = opening + received − sent − closing per cell; gap = sent − received per
 * transfer between cells; plant balance = sum of residuals + sum of gaps; positive is missing.
 *
 * @param nodes cells by name with whole numbers of pieces from 0
 * @param transfers moves with whole numbers of pieces from 0; an end that names no cell is outside
 * @returns whole numbers of pieces, exact
 * @throws DomainError when a count is not a whole number from 0
 * Validity: integer arithmetic. See reference/material-balance.
 * Source: item accounting, J. Jaech, Statistical Methods in Nuclear Material Control (1973), from
 * memory; common practice
 * @example pieceBalance({ A: { opening: 100, closing: 60 }, B: { opening: 0, closing: 41 } },
 *   [{ from: 'A', to: 'B', sent: 40, received: 41 }]).internalGap // -1
 */
export function pieceBalance(
  nodes: Readonly<Record<string, PieceNode>>,
  transfers: readonly PieceTransfer[],
): PieceBalance {
  const residuals = new Map<string, number>();
  for (const [name, node] of Object.entries(nodes)) {
    requirePieces(`nodes.${name}.opening`, node.opening);
    requirePieces(`nodes.${name}.closing`, node.closing);
    residuals.set(name, node.opening - node.closing);
  }
  let internalGap = 0;
  for (const [index, { from, to, sent, received }] of transfers.entries()) {
    requirePieces(`transfers.${index}.sent`, sent);
    requirePieces(`transfers.${index}.received`, received);
    const source = residuals.get(from);
    const target = residuals.get(to);
    if (source !== undefined) residuals.set(from, source - sent);
    // The same cell at both ends has just been changed, so its residual is read again.
    if (target !== undefined) residuals.set(to, (residuals.get(to) ?? target) + received);
    if (source !== undefined && target !== undefined) internalGap += sent - received;
  }
  const residualByNode = Object.fromEntries(residuals);
  const missing = Object.values(residualByNode).reduce((sum, residual) => sum + residual, 0);
  return { residualByNode, internalGap, plantBalance: missing + internalGap };
}
