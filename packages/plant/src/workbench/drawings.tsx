import { Chart } from './chart.tsx';
import type { ChartFigures } from './chart-shape.ts';
import { LimitRule } from './limit-rule.tsx';
import type { LimitRuleFigures } from './limit-rule-shape.ts';

/** What a calculation drew: a chart, or a limit rule. */
export type Drawing =
  | (ChartFigures & { readonly kind: 'chart' })
  | (LimitRuleFigures & {
      readonly kind: 'limit-rule';
      readonly title: string;
      readonly unit: string;
      readonly words: string;
    });

/** Everything that a calculation drew. */
export function Drawings(props: {
  readonly drawings: readonly Drawing[];
  /** Words that stand above already and are not said again. */
  readonly saidAbove?: string;
}) {
  const { drawings, saidAbove } = props;
  return drawings.map((drawing) =>
    drawing.kind === 'chart' ? (
      <Chart key={drawing.title} figures={drawing} />
    ) : (
      <div className="drawing" key={drawing.title}>
        <h3>{drawing.title}</h3>
        <LimitRule {...drawing} words={drawing.words === saidAbove ? '' : drawing.words} />
      </div>
    ),
  );
}
