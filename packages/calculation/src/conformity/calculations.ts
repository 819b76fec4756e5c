import { acceptanceLimitCalculation } from './acceptance-limit.ts';
import { conformanceStatementCalculation } from './conformance-statement.ts';
import { decisionRisksCalculation } from './decision-risks.ts';
import { finenessToBuyCalculation } from './fineness-to-buy.ts';
import { finenessVerdictCalculation } from './fineness-verdict.ts';
import { guardBandsCalculation } from './guard-bands.ts';
import { verdictAtStatedRiskCalculation } from './verdict-at-stated-risk.ts';

/** What the catalogue offers under the topic conformity. */
export const conformityCalculations = [
  acceptanceLimitCalculation,
  conformanceStatementCalculation,
  decisionRisksCalculation,
  finenessToBuyCalculation,
  finenessVerdictCalculation,
  guardBandsCalculation,
  verdictAtStatedRiskCalculation,
] as const;
