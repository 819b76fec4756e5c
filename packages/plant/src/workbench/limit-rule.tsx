import { type ReactNode, useId } from 'react';
import { type LimitRuleFigures, limitRuleShape } from './limit-rule-shape.ts';
import { printNumber } from './number-text.ts';

const lengthUnits = 1000;

/**
 * The limit rule: one thin scale, each limit a tick with its number, the guard band hatched beside
 * it, the result a dot with its uncertainty as a bar; words at the right. `row` fits a table row.
 */
export function LimitRule(
  props: LimitRuleFigures & {
    readonly unit: string;
    /** The verdict in words. */
    readonly words: string;
    readonly decimals?: number;
    readonly size?: 'row' | 'page';
  },
) {
  const { size = 'page', unit, words } = props;
  const decimals = props.decimals ?? decimalsFor(props.expandedUncertainty);
  const shape = limitRuleShape(props);
  const tone = shape.isOutside ? 'stopped' : shape.isInGuard ? 'look' : 'plain';
  const spoken = props.expandedUncertainty
    ? ` ± ${printNumber(props.expandedUncertainty, decimals)}`
    : '';
  const limitWords = shape.limits
    .map(
      ({ side, value }) =>
        `${side === 'lower' ? 'least' : 'greatest'} ${printNumber(value, decimals)}`,
    )
    .join(', ');
  return (
    <figure className={`limit-rule limit-rule-${size} tone-${tone}`}>
      <div
        className="limit-rule-scale"
        role="img"
        aria-label={`${printNumber(props.value, decimals)}${spoken} ${unit}; ${limitWords}`}
      >
        <RuleDrawing shape={shape} />
        {size === 'page' ? (
          <>
            <Caption at={shape.dot} place="above">
              <strong>{printNumber(props.value, decimals)}</strong>
              {spoken}
              <span className="figure-unit"> {unit}</span>
            </Caption>
            {shape.limits.map(({ at, value, side }) => (
              <Caption key={side} at={at} place="below" to={captionSide(shape, side)}>
                {side === 'lower' ? 'least ' : 'greatest '}
                {printNumber(value, decimals)}
              </Caption>
            ))}
          </>
        ) : null}
      </div>
      {words === '' ? null : <figcaption>{words}</figcaption>}
    </figure>
  );
}

function RuleDrawing({ shape }: { readonly shape: ReturnType<typeof limitRuleShape> }) {
  const hatch = useId();
  const x = (fraction: number) => fraction * lengthUnits;
  return (
    <svg viewBox={`0 0 ${lengthUnits} 18`} preserveAspectRatio="none" aria-hidden="true">
      <defs>
        <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse">
          <path d="M0 7 L7 0" className="rule-hatch" vectorEffect="non-scaling-stroke" />
        </pattern>
      </defs>
      <line
        x1="0"
        x2={lengthUnits}
        y1="9"
        y2="9"
        className="rule-scale"
        vectorEffect="non-scaling-stroke"
      />
      {shape.guards.map((guard) => (
        <rect
          key={guard.from}
          x={x(guard.from)}
          width={x(guard.to - guard.from)}
          y="3"
          height="12"
          fill={`url(#${hatch})`}
        />
      ))}
      {shape.limits.map(({ at, side }) => (
        <line
          key={side}
          x1={x(at)}
          x2={x(at)}
          y1="0"
          y2="18"
          className="rule-limit"
          vectorEffect="non-scaling-stroke"
        />
      ))}
      {shape.bar ? (
        <line
          x1={x(shape.bar.from)}
          x2={x(shape.bar.to)}
          y1="9"
          y2="9"
          className="rule-bar"
          vectorEffect="non-scaling-stroke"
        />
      ) : null}
      {/* A line of no length with a round end is a dot that the stretched drawing keeps round. */}
      <line
        x1={x(shape.dot)}
        x2={x(shape.dot)}
        y1="9"
        y2="9"
        className="rule-dot"
        vectorEffect="non-scaling-stroke"
      />
    </svg>
  );
}

type CaptionSide = 'start' | 'middle' | 'end';

/** Captions of two limits that stand close turn away from each other. */
function captionSide(
  { limits }: ReturnType<typeof limitRuleShape>,
  side: 'lower' | 'upper',
): CaptionSide | undefined {
  const [lower, upper] = limits;
  if (!lower || !upper || upper.at - lower.at > 0.5) return undefined;
  return side === 'lower' ? 'end' : 'start';
}

function Caption(props: {
  readonly at: number;
  readonly place: 'above' | 'below';
  readonly to?: CaptionSide | undefined;
  readonly children: ReactNode;
}) {
  const side = props.to ?? (props.at < 0.12 ? 'start' : props.at > 0.88 ? 'end' : 'middle');
  return (
    <span
      className={`rule-caption rule-caption-${props.place} rule-caption-${side}`}
      style={{ left: `${props.at * 100}%` }}
    >
      {props.children}
    </span>
  );
}

/** Decimals that leave an uncertainty two digits that mean something. */
function decimalsFor(uncertainty: number | undefined): number | undefined {
  if (uncertainty === undefined || uncertainty <= 0) return undefined;
  return Math.max(0, 1 - Math.floor(Math.log10(uncertainty)));
}
