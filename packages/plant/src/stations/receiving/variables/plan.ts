import {
  calculationById,
  type DrawInput,
  type DrawOutput,
  runCalculation,
  type VariablesPlanOutput,
} from '@cupel/calculation';
import { type Calculated, calculate } from '../../../journal/calculated.ts';
import { sha256Hex } from '../../../journal/entry.ts';
import type { PieceStandard } from '../../registers/index.ts';
import type { VariablesOrder } from './bodies.ts';

/** The tables of the standard whose levels and switching go with those by attributes. */
const tables = 'ANSI/ASQ Z1.9';

/** What a plan by variables is made for. */
export interface AskedPlan {
  readonly melt: string;
  readonly pieces: number;
  readonly standard: PieceStandard;
  readonly severity: 'normal' | 'tightened';
  /** Blanks that the plan by attributes asks for; they are drawn, since the lot may have to be judged so. */
  readonly attributesPieces: number;
}

/** A plan by variables, or why there is none. */
export type PlannedVariables =
  | { readonly plan: Calculated; readonly pieces: number }
  | { readonly impossible: string };

/**
 * The plan by variables of a lot: method s, form M with both limits, under the severity that the series
 * has earned. It is refused where its tables have none, or where it asks for no fewer blanks.
 */
export function planByVariables(asked: AskedPlan): PlannedVariables {
  const { melt, pieces, standard, severity, attributesPieces } = asked;
  const input = {
    lotSizePieces: pieces,
    table: { standard: tables, inspectionLevel: standard.inspectionLevel, severity },
    method: 's',
    acceptanceQualityLimitPercent: standard.acceptanceQualityLimitPercent,
  };
  const calculation = calculationById('variables-plan');
  const result = runCalculation(calculation, input);
  if (result.outcome === 'refused') {
    const [problem] = result.problems;
    const accepted = `${problem?.field}: ${String(problem?.value)}; ${problem?.accepted}`;
    return { impossible: `Melt ${melt} has no plan by variables in ${tables}: ${accepted}.` };
  }
  const output = result.output as VariablesPlanOutput;
  const wanted = output.sampleSizePieces;
  if (wanted >= attributesPieces) {
    const impossible = `For melt ${melt} ${wanted} blanks are measured by variables and ${attributesPieces} by attributes: nothing is gained.`;
    return { impossible };
  }
  if (wanted < standard.blanksForAssayPerMelt) {
    const impossible = `For melt ${melt} ${wanted} blanks are measured by variables; ${standard.blanksForAssayPerMelt} are cut for assay and must be measured.`;
    return { impossible };
  }
  return { plan: calculate('variables-plan', input).calculated, pieces: wanted };
}

/** Which picks of the sample are measured first: drawn among all, since picks stand in walking order. */
export function drawForVariables(
  seed: string,
  planned: { readonly plan: Calculated; readonly pieces: number },
  samplePieces: number,
): { readonly order: VariablesOrder; readonly picks: readonly number[] } {
  const input: DrawInput = {
    seed: sha256Hex(`${seed} variables`),
    containers: [{ container: 'sample', pieces: samplePieces }],
    sampleSizePieces: planned.pieces,
  };
  const { calculated, output } = calculate<DrawOutput>('draw', input);
  const picks = output.picks.map(({ position }) => position).toSorted((a, b) => a - b);
  return { order: { ...planned, draw: calculated }, picks };
}
