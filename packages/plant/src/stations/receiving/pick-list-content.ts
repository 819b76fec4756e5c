import type { SamplingOrder } from './books.ts';
import type { PickWalk, WalkedPick } from './pick-walk.ts';

interface PrintedPick {
  readonly blank: string;
  readonly position: string;
  readonly tray: string;
  readonly for: string;
  readonly note: string;
}

/** The printed pick list in words and figures; the template only sets it. */
export interface PickListPage {
  readonly title: string;
  readonly plant: string;
  readonly about: string;
  readonly facts: readonly (readonly [string, string])[];
  readonly words: string;
  readonly hasTrays: boolean;
  /** UTC day on which the sample was ordered: the same order prints the same bytes. */
  readonly date: readonly [number, number, number];
  readonly drums: readonly {
    readonly drum: string;
    readonly count: string;
    readonly picks: readonly PrintedPick[];
  }[];
}

interface PickListContent {
  readonly plantTitle: string;
  readonly supplierName: string;
  readonly standardTitle: string;
  readonly order: SamplingOrder;
  readonly walk: PickWalk;
  readonly trayPieces: number | null;
}

/** What a pick is for, in words. */
export function purposesOf(pick: {
  readonly forAssay: boolean;
  readonly forPhysical: boolean;
  readonly forVariables: boolean;
}): string {
  const physical = pick.forVariables ? 'size and mass first' : 'size and mass';
  return [pick.forAssay ? 'assay' : '', pick.forPhysical ? physical : '']
    .filter(Boolean)
    .join(', ');
}

function printed(pick: WalkedPick): PrintedPick {
  return {
    blank: pick.blank,
    position: String(pick.place ?? pick.position),
    tray: pick.tray === null ? '' : String(pick.tray),
    for: purposesOf(pick),
    note: pick.substitutedFor ?? '',
  };
}

/** The drums of a walk as they are printed. */
export function printedDrums(drums: PickWalk['drums']): PickListPage['drums'] {
  return drums.map(({ drum, picks }) => ({
    drum,
    count: picks.length === 1 ? '1 blank' : `${picks.length} blanks`,
    picks: picks.map(printed),
  }));
}

/** Puts a pick list into the words and figures of its paper. */
export function pickListPage(content: PickListContent): PickListPage {
  const { order, walk, trayPieces } = content;
  const [year = 0, month = 0, day = 0] = order.orderedAt.slice(0, 10).split('-').map(Number);
  const howTaken =
    trayPieces === null
      ? 'Positions count the blanks as they are taken out of the drum.'
      : `Lay the blanks out on trays of ${trayPieces} in the order in which they come out of the drum.`;
  return {
    title: `Pick list of melt ${order.melt}`,
    plant: content.plantTitle,
    about: `${content.standardTitle} from ${content.supplierName}, consignment ${order.consignment}`,
    facts: [
      ['Blanks to take', `${order.samplePieces} of ${order.pieces}`],
      ['For assay', String(order.assayPieces)],
      [
        'For size and mass',
        order.variables
          ? `${order.variables.pieces} first, by variables, of ${order.physicalPieces}`
          : String(order.physicalPieces),
      ],
      ['Inspection', order.severity],
      ['Accept up to', `${order.acceptanceNumber} at fault`],
      ['Seed', `hash of entry ${order.seedEntry}`],
    ],
    words: `${walk.words} ${howTaken} ${order.severityReason}`,
    hasTrays: trayPieces !== null,
    date: [year, month, day],
    drums: printedDrums(walk.drums),
  };
}
