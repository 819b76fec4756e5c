import type { BookReader } from '../../../journal/books.ts';
import {
  type AssayMethod,
  type MethodInForce,
  methodInForce,
  type PieceStandard,
  plantDay,
  type ReagentLotRow,
  type ReferenceMaterialRow,
  reagentLotOf,
  referenceMaterialOf,
} from '../../registers/index.ts';
import type { StatedControls } from './inputs.ts';

/** What the registers say of the controls of a run. */
export interface ControlFacts {
  readonly inForce: MethodInForce;
  /** The named reference materials that there are, by id. */
  readonly materials: ReadonlyMap<string, ReferenceMaterialRow>;
  /** The named lots of reagents that there are, by id. */
  readonly lots: ReadonlyMap<string, ReagentLotRow>;
  /** The calendar day of the run at the plant. */
  readonly day: string;
}

const distinct = (names: readonly string[]): readonly string[] => [...new Set(names)];

/** The rows of those ids that there are. */
async function rowsOf<Row>(
  ids: readonly string[],
  find: (id: string) => Promise<Row | undefined>,
): Promise<ReadonlyMap<string, Row>> {
  const rows = new Map<string, Row>();
  for (const id of distinct(ids)) {
    const row = await find(id);
    if (row) rows.set(id, row);
  }
  return rows;
}

/** The facts of the controls of a run of that method on that kind of piece. */
export async function controlFacts(
  books: BookReader,
  run: {
    readonly method: AssayMethod;
    readonly standard: PieceStandard | undefined;
    readonly controls: StatedControls;
    readonly instant: string;
  },
): Promise<ControlFacts> {
  const { standard, controls } = run;
  const inForce: MethodInForce = standard
    ? await methodInForce(books, {
        assayMethod: run.method,
        metal: standard.metal,
        finenessPerMille: standard.finenessDeclaredPartsPerMillion / 1000,
      })
    : { state: 'none stated' };
  const named = (controls.references ?? []).map((one) => one.referenceMaterial);
  return {
    inForce,
    materials: await rowsOf(named, (id) => referenceMaterialOf(books, id)),
    lots: await rowsOf(controls.reagentLots ?? [], (id) => reagentLotOf(books, id)),
    day: await plantDay(books, run.instant),
  };
}
