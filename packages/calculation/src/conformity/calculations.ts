import { acceptanceLimitCalculation } from './acceptance-limit.ts';
import { conformanceStatementCalculation } from './conformance-statement.ts';
import { decisionRisksCalculation } from './decision-risks.ts';
import { finenessToBuyCalculation } from './fineness-to-buy.ts';
import { finenessVerdictCalculation } from './fineness-verdict.ts';
import { guardBandsCalculation } from './guard-bands.ts';

/** What the catalogue offers under the topic conformity. */
export const conformityCalculations = [
  acceptanceLimitCalculation,
  conformanceStatementCalculation,
  decisionRisksCalculation,
  finenessToBuyCalculation,
  finenessVerdictCalculation,
  guardBandsCalculation,
] as const;
