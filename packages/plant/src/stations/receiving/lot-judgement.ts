import { type Draft, draft } from '../../journal/station.ts';
import type { LotJudgedBody } from './bodies.ts';
import type { JudgedLotRow, Melt, SamplingOrder } from './books.ts';
import { LotJudged } from './entries.ts';
import type { LotByVariables } from './variables/bodies.ts';

/** What the laboratory found of the blanks by which a lot is judged. */
export interface LotFindings {
  readonly melt: Melt;
  readonly order: SamplingOrder;
  readonly outcome: 'accepted' | 'not accepted';
  readonly blanksMeasured: number;
  readonly blanksNonconforming: number;
  /** How the lot stands by variables; nothing where its blanks at fault were counted. */
  readonly byVariables?: LotByVariables | undefined;
}

/** Drafts the judgement of a lot; whoever measures its blanks records it beside his own entry. */
export function draftLotJudged(
  findings: LotFindings,
  correction?: { readonly of: JudgedLotRow; readonly reason: string },
): Draft {
  const { melt, order, outcome, blanksMeasured, blanksNonconforming, byVariables } = findings;
  const body: LotJudgedBody = {
    melt: melt.melt,
    consignment: melt.consignment,
    supplier: melt.supplier,
    pieceStandard: melt.pieceStandard,
    outcome,
    severity: order.severity,
    lotSizePieces: order.pieces,
    blanksForPhysical: order.physicalPieces,
    blanksMeasured,
    blanksNonconforming,
    acceptanceNumber: order.acceptanceNumber,
    rejectionNumber: order.rejectionNumber,
    ...(byVariables ? { byVariables } : {}),
  };
  if (!correction) return draft(LotJudged, body);
  return draft(LotJudged, body, {
    corrects: correction.of.standingEntry,
    reason: correction.reason,
  });
}
