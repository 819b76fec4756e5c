import type { Calculated } from '../../../journal/calculated.ts';
import type { Reading } from '../../../journal/reading.ts';
import type { DrumState } from '../bodies.ts';
import type { ListMapping } from '../list/list-bodies.ts';
import type { NextStep } from '../next-step.ts';

/** A drum as the questions of receiving show it. */
interface ShownDrum {
  readonly drum: string;
  readonly melt: string;
  readonly state: DrumState;
  readonly next: string;
  readonly pieces: number;
  readonly piecesDocumented: number;
  readonly differencePieces: number;
  readonly seal: string;
  readonly netMicrograms: number | null;
  readonly netDocumentedMicrograms: number;
  readonly differenceGrossMicrograms: number | null;
  readonly words: string;
}

/** A consignment as the desk shows it. */
export interface ShownConsignment {
  readonly consignment: string;
  readonly supplier: string;
  readonly supplierName: string;
  readonly document: string;
  readonly pieceStandard: string;
  readonly pieceStandardTitle: string;
  readonly state: string;
  readonly announcedAt: string;
  readonly entry: number;
  readonly next: NextStep;
  readonly inspection: {
    readonly severity: 'normal' | 'tightened' | 'discontinued';
    readonly reason: string;
  };
  readonly pieces: number;
  readonly piecesDocumented: number;
  readonly netMicrograms: number;
  readonly settledDrums: number;
  readonly melts: readonly {
    readonly melt: string;
    readonly pieces: number;
    readonly state: string;
  }[];
  readonly drums: readonly ShownDrum[];
}

/** A drum with its readings and its count. */
export interface DrumInDetail extends ShownDrum {
  readonly grossDocumented: Reading;
  readonly tareDocumented: Reading;
  readonly stopReason: string | null;
  readonly netReadingsMicrograms: readonly number[];
  readonly count: Calculated | null;
  readonly changedAt: string;
}

/** What the question `consignment` answers. */
export interface ConsignmentAnswer extends Omit<ShownConsignment, 'drums'> {
  readonly drums: readonly DrumInDetail[];
  readonly orders: readonly {
    readonly melt: string;
    readonly severity: string;
    readonly samplePieces: number;
    readonly assayPieces: number;
    readonly physicalPieces: number;
    readonly acceptanceNumber: number;
    readonly rejectionNumber: number;
    /** Blanks by which the lot is judged by variables; nothing where it is by attributes. */
    readonly variablesPieces: number | null;
    readonly drawnEntry: number | null;
  }[];
  readonly seedEntry: number | null;
  /** The file by which it was announced; nothing where its drums were typed by hand. */
  readonly packingList: {
    readonly entry: number;
    readonly name: string;
    readonly kept: 'as sent' | 'as read';
    /** Nothing for those who may not see what the supplier states. */
    readonly sha256: string | null;
    readonly setAside: readonly { readonly line: number; readonly reason: string }[];
    readonly totals: number;
  } | null;
}

/** What the question `receiving-desk` answers. */
export interface DeskAnswer {
  readonly day: string;
  readonly consignments: readonly ShownConsignment[];
  /** Nothing for those who count. */
  readonly lying:
    | readonly {
        readonly metal: string;
        readonly pieceStandard: string;
        readonly melt: string;
        readonly pieces: number;
        readonly grossMicrograms: number;
      }[]
    | null;
  readonly suppliers: readonly {
    readonly supplier: string;
    readonly name: string;
    readonly isApproved: boolean;
  }[];
  readonly pieceStandards: readonly { readonly pieceStandard: string; readonly title: string }[];
  readonly balances: readonly {
    readonly instrument: string;
    readonly title: string;
    /** Why no reading of it counts today; nothing where it may be used. */
    readonly outOfUse: string | null;
  }[];
  /** How each supplier's packing lists are read, as confirmed. */
  readonly listMappings: readonly { readonly supplier: string; readonly mapping: ListMapping }[];
}
