import {
  calculationById,
  type InspectionSeverityInput,
  type InspectionSeverityOutput,
  runCalculation,
} from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { pieceStandardOf } from '../registers/index.ts';
import type { JudgedLotRow, SeriesRow } from './books.ts';
import { type SeriesName, seriesOf } from './series.ts';

/** The history of a series as the catalogue follows and draws it. */
interface InspectionHistory {
  readonly [field: string]: Json;
  /** In words: the severity of the next lot, why, and what was earned or lost since. */
  readonly words: string;
  readonly calculation: string;
  readonly version: number;
  readonly input: JsonObject;
  readonly drawings: Json[];
  /** Each change of the severity, oldest first: after which lot, or other event, and why. */
  readonly changes: {
    readonly event: string;
    readonly lot: string | null;
    readonly severityAfter: string;
    readonly why: string;
  }[];
}

type HistoryEvent = InspectionSeverityInput['history'][number];
type LotResult = Extract<HistoryEvent, { event: 'lot judged' }>['result'];

/** A lot that was judged by variables stands with nothing or one at fault, as its outcome was. */
function resultOf(row: JudgedLotRow): LotResult {
  if (!row.byVariables) {
    return {
      sampling: 'single',
      sampleSizePieces: row.blanksForPhysical,
      acceptanceNumber: row.acceptanceNumber,
      rejectionNumber: row.rejectionNumber,
      nonconformingPieces: row.blanksNonconforming,
    };
  }
  return {
    sampling: 'single',
    sampleSizePieces: row.byVariables.blanksNeeded,
    acceptanceNumber: 0,
    rejectionNumber: 1,
    nonconformingPieces: row.outcome === 'accepted' ? 0 : 1,
  };
}

function eventOf(row: SeriesRow): HistoryEvent {
  if (row.event === 'inspection resumed') return { event: row.event };
  return {
    event: 'lot judged',
    lot: row.melt,
    presented: 'first time',
    severity: row.severity,
    result: resultOf(row),
  };
}

/**
 * The severity of a series step by step, recomputed from its lots by the catalogue's calculation.
 * Nothing for a piece standard that is unknown, or a series of which no lot has been judged.
 */
export async function inspectionHistory(
  books: BookReader,
  name: SeriesName,
): Promise<InspectionHistory | null> {
  const standard = await pieceStandardOf(books, name.pieceStandard);
  const rows = await seriesOf(books, name);
  if (!standard || rows.length === 0) return null;
  const input = {
    edition: 'MIL-STD-105E',
    acceptanceQualityLimitPercent: standard.acceptanceQualityLimitPercent,
    beginsUnder: 'normal',
    reducedInspection: 'not wanted',
    history: rows.map(eventOf),
  };
  const calculation = calculationById('inspection-severity');
  const result = runCalculation(calculation, input);
  // A limit that was changed in the register since can leave no history to follow.
  if (result.outcome === 'refused') return null;
  const output = result.output as InspectionSeverityOutput;
  return {
    words: output.words,
    calculation: calculation.id,
    version: result.version,
    input: input as unknown as JsonObject,
    drawings: [...(calculation.draw?.(input, output) ?? [])] as unknown as Json[],
    changes: output.steps.flatMap(({ event, lot, severityAfter, change }) =>
      change === null ? [] : [{ event, lot, severityAfter, why: change }],
    ),
  };
}
