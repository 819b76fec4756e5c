import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { ReagentLotRow } from './books.ts';
import { reagentRefusals } from './refusals.ts';

/** A lot as a command names it. */
export interface NamedLot {
  readonly id: string;
  readonly field: string;
}

/** Refuses a lot that is not in the register, or was condemned. */
export function unusableLot(
  { id, field }: NamedLot,
  row: ReagentLotRow | undefined,
): readonly Refusal[] {
  if (!row) {
    return [
      refuse(reagentRefusals, 'ReagentLotUnknown', {
        message: `${id} is not in the register of reagents.`,
        field,
        figures: { lot: id },
      }),
    ];
  }
  if (!row.condemned) return [];
  const { entry, reason } = row.condemned;
  return [
    refuse(reagentRefusals, 'ReagentLotCondemned', {
      message: `Lot ${id} of ${row.reagent} was condemned in entry ${entry}: ${reason}`,
      field,
      figures: { lot: id, reagent: row.reagent, entry },
    }),
  ];
}

/** Refuses a lot whose last day lies before that day. */
export function expiredLot(
  { id, field }: NamedLot,
  row: ReagentLotRow,
  day: string,
): readonly Refusal[] {
  if (row.expires >= day) return [];
  return [
    refuse(reagentRefusals, 'ReagentExpired', {
      message: `Lot ${id} of ${row.reagent} expired on ${row.expires}; the day is ${day}.`,
      field,
      figures: { lot: id, reagent: row.reagent, expires: row.expires, day },
    }),
  ];
}

/** Why nothing may be made with a lot on that day; nothing where it may be used. */
export function unfitLot(
  named: NamedLot,
  row: ReagentLotRow | undefined,
  day: string,
): readonly Refusal[] {
  const unusable = unusableLot(named, row);
  if (unusable.length > 0 || !row) return unusable;
  const notOpen =
    row.state === 'open'
      ? []
      : [
          refuse(reagentRefusals, 'ReagentLotNotOpen', {
            message: `Lot ${named.id} of ${row.reagent} has not been opened.`,
            field: named.field,
            figures: { lot: named.id, reagent: row.reagent },
          }),
        ];
  return [...notOpen, ...expiredLot(named, row, day)];
}
