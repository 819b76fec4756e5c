import {
  type CommandInHand,
  decimalOf,
  FieldRow,
  printNumber,
  TextField,
} from '../../../../workbench/index.ts';
import type { Window } from './examination-answer.ts';

/** Limits of an order while they are typed. */
export interface OrderDraft {
  readonly least: string;
  readonly greatest: string;
  readonly order: string;
}

export const noOrder: OrderDraft = { least: '', greatest: '', order: '' };

/** The limits of the order as commands take them; nothing where the piece standard sets its own. */
export function orderInput(draft: OrderDraft, window: Window | null) {
  const isEmpty = draft.least.trim() === '' && draft.greatest.trim() === '';
  if (window || isEmpty) return {};
  const { least, greatest, order } = draft;
  return { orderedLimits: { least: decimalOf(least), greatest: decimalOf(greatest), order } };
}

/** The limits that hold while a sheet is filled: set, or typed as far as they are numbers. */
export function limitsTyped(draft: OrderDraft, window: Window | null): Window {
  if (window) return window;
  const [least, greatest] = [decimalOf(draft.least), decimalOf(draft.greatest)];
  return {
    least: typeof least === 'number' ? least : null,
    greatest: typeof greatest === 'number' ? greatest : null,
  };
}

const words = ({ least, greatest }: Window, unit: string): string => {
  if (least === null) return `at most ${printNumber(greatest ?? 0)} ${unit}`;
  if (greatest === null) return `at least ${printNumber(least)} ${unit}`;
  return `${printNumber(least)} to ${printNumber(greatest)} ${unit}`;
};

/** What the finding is held to: the limits of the piece standard, or those of an order. */
export function OrderedLimits(props: {
  readonly window: Window | null;
  readonly setBy: string;
  readonly unit: string;
  readonly draft: OrderDraft;
  readonly change: (part: Partial<OrderDraft>) => void;
  readonly record: CommandInHand;
}) {
  const { window, unit, draft, change, record } = props;
  if (window) {
    return (
      <p className="faint">
        Held to {words(window, unit)}, as {props.setBy} sets it.
      </p>
    );
  }
  const at = 'orderedLimits';
  return (
    <FieldRow>
      <TextField
        label="Least"
        kind="decimal"
        unit={unit}
        optional
        value={draft.least}
        onChange={(least) => change({ least })}
        refusal={record.refusalAt(`${at}.least`) ?? record.refusalAt(at)}
      />
      <TextField
        label="Greatest"
        kind="decimal"
        unit={unit}
        optional
        value={draft.greatest}
        onChange={(greatest) => change({ greatest })}
        refusal={record.refusalAt(`${at}.greatest`)}
      />
      <TextField
        label="Order that sets these limits"
        optional
        value={draft.order}
        onChange={(order) => change({ order })}
        hint={`${props.setBy} sets none.`}
        refusal={record.refusalAt(`${at}.order`)}
      />
    </FieldRow>
  );
}
