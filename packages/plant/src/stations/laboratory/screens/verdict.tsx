import { Figure, LimitRule, Probability, printNumber, State } from '../../../workbench/index.ts';
import type { ResultFigures } from '../bodies.ts';
import { ImpuritiesShown } from './impurities-shown.tsx';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';
import { VerdictWord } from './verdict-word.tsx';

/** Decimals of a value whose expanded uncertainty is given to two digits. */
export function decimalsFor(expandedUncertainty: number): number {
  if (!(expandedUncertainty > 0)) return 3;
  return Math.min(4, Math.max(1, 1 - Math.floor(Math.log10(expandedUncertainty))));
}

/** The result that stands, or what it would be if it were signed now. */
export function Verdict({ answer }: { readonly answer: TrialAnswer }) {
  const { preview } = answer;
  const isPreview = preview?.state === 'complete';
  const figures = isPreview ? preview.figures : standingResultOf(answer.results)?.body;
  if (!figures) return null;
  return (
    <section className="verdict" aria-label="Verdict on the fineness">
      <VerdictFigures figures={figures} isPreview={isPreview} />
      <VerdictRule figures={figures} answer={answer} />
    </section>
  );
}

/** A probability that a double cannot tell from 1 is still not sure. */
const shownProbability = (value: number): number => Math.min(value, 1 - Number.EPSILON);

/** The guard factor that followed from the required probability; older results were given theirs. */
function expandedOf({ decision, ...figures }: ResultFigures) {
  const guardFactor = Number(decision.output['guardFactor'] ?? decision.input['guardFactor']);
  const factor = guardFactor > 0 ? guardFactor : 2;
  return { factor, expanded: factor * figures.standardUncertaintyPerMille };
}

function VerdictFigures(props: { readonly figures: ResultFigures; readonly isPreview: boolean }) {
  const { figures, isPreview } = props;
  const { factor, expanded } = expandedOf(figures);
  const decision = figures.decision.output;
  return (
    <dl className="verdict-figures">
      <div>
        <dt>
          {isPreview ? 'Fineness, if it were signed now' : 'Fineness found'}
          {`, ± ${printNumber(factor, 2)} standard uncertainties`}
        </dt>
        <dd>
          <Figure
            value={figures.finenessPerMille}
            uncertainty={expanded}
            decimals={decimalsFor(expanded)}
            unit="‰"
            size="result"
          />
        </dd>
      </div>
      <div>
        <dt>Verdict</dt>
        <dd className="verdict-word">
          <VerdictWord verdict={figures.verdict} />
        </dd>
      </div>
      <div>
        <dt>Probability of conformity</dt>
        <dd className="verdict-word">
          <Probability value={shownProbability(Number(decision['conformanceProbability']))} />
          <Required decision={figures.decision} />
        </dd>
      </div>
    </dl>
  );
}

/** What the probability is held against; older results were decided by a guard factor alone. */
function Required({ decision }: { readonly decision: ResultFigures['decision'] }) {
  if (decision.output['guardFactor'] === undefined) return null;
  return (
    <span className="faint">
      {' '}
      of <Probability value={Number(decision.input['requiredConformanceProbability'])} />
    </span>
  );
}

function Scope({ answer: { picture } }: { readonly answer: TrialAnswer }) {
  if (!picture) return null;
  const { lowest, highest } = picture.scopePerMille;
  return (
    <span className="faint">
      It reaches from {printNumber(lowest)} to {printNumber(highest)} ‰.
    </span>
  );
}

function VerdictRule(props: { readonly figures: ResultFigures; readonly answer: TrialAnswer }) {
  const { figures, answer } = props;
  const { expanded } = expandedOf(figures);
  const decision = figures.decision.output;
  return (
    <>
      <LimitRule
        value={figures.finenessPerMille}
        expandedUncertainty={expanded}
        lowerLimit={answer.finenessLimitPerMille}
        guardBand={Number(decision['guardBandPerMille'])}
        unit="‰"
        decimals={decimalsFor(expanded)}
        words={String(decision['words'])}
      />
      <ImpuritiesShown figures={figures} />
      {figures.scope === 'outside' ? (
        <p>
          <State word="The fineness lies outside the scope of the method." tone="stopped" />{' '}
          <Scope answer={answer} />
        </p>
      ) : null}
    </>
  );
}
