import type { MeltResult } from '../laboratory/index.ts';
import type { CertifiedMelt } from './content.ts';

/** The calculation that decides by the required probability; older results were decided by a guard factor. */
const verdictAtStatedRiskName = 'verdict-at-stated-risk';

/** How a melt was decided: figures of its verdict, by either calculation. */
export function decisionOf(result: MeltResult): CertifiedMelt['decision'] {
  const { verdict, decision } = result.result.body;
  const number = (side: 'input' | 'output', field: string): number => Number(decision[side][field]);
  const isByProbability = decision.calculation === verdictAtStatedRiskName;
  const freedom = decision.input['degreesOfFreedom'];
  return {
    limitPerMille: number('input', 'limitPerMille'),
    guardFactor: number(isByProbability ? 'output' : 'input', 'guardFactor'),
    ...(isByProbability
      ? {
          requiredConformanceProbability: number('input', 'requiredConformanceProbability'),
          degreesOfFreedom: typeof freedom === 'number' ? freedom : null,
        }
      : {}),
    verdict,
    conformanceProbability: number('output', 'conformanceProbability'),
    consumerRisk: number('output', 'consumerRisk'),
    guardBandPerMille: number('output', 'guardBandPerMille'),
    acceptanceLimitPerMille: number('output', 'acceptanceLimitPerMille'),
    rejectionLimitPerMille: number('output', 'rejectionLimitPerMille'),
    calculation: 'verdict',
  };
}
