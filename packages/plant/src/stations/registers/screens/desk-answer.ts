import type {
  DieRow,
  InstrumentRow,
  PersonRow,
  PieceStandardRow,
  Plant,
  PurchaserRow,
  SupplierRow,
} from '../books.ts';
import type { RunningOut } from '../docket.ts';

/** What the question `registers-desk` answers. */
export interface RegistersAnswer {
  readonly plant: Plant | null;
  /** The calendar day at the plant. */
  readonly day: string;
  readonly people: readonly PersonRow[];
  readonly pieceStandards: readonly PieceStandardRow[];
  readonly suppliers: readonly SupplierRow[];
  readonly purchasers: readonly PurchaserRow[];
  readonly instruments: readonly InstrumentRow[];
  readonly dies: readonly DieRow[];
  /** What has run out, or will within the days of notice. */
  readonly runningOut: readonly RunningOut[];
}
