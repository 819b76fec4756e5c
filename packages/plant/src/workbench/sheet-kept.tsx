import { printInstant } from './number-text.ts';
import type { SheetState } from './sheet-keeper.ts';
import { State } from './state.tsx';

/** A half-filled sheet in the hands of a page, beside its value. */
export interface SheetInHand {
  readonly kept: SheetState;
  /** Takes what another device has made of the sheet. */
  takeOther(): void;
  /** Lets this device's sheet stand in the place of the other. */
  keepThis(): void;
}

/** Where a half-filled sheet is kept; it asks where two devices have made different ones of it. */
export function SheetKept({ sheet }: { readonly sheet: SheetInHand }) {
  const { kept } = sheet;
  switch (kept.state) {
    case 'asking':
    case 'empty':
      return null;
    case 'sending':
      return <p className="sheet-kept faint">What stands here is being kept …</p>;
    case 'kept':
      return <p className="sheet-kept faint">Kept at the plant, {printInstant(kept.keptAt)}.</p>;
    case 'here only':
      return (
        <p className="sheet-kept" role="status">
          <State word="Kept in this browser only" tone="look" /> {kept.words}
        </p>
      );
    case 'changed elsewhere':
      return <ChangedElsewhere sheet={sheet} other={kept.sheet} />;
  }
}

function ChangedElsewhere(props: {
  readonly sheet: SheetInHand;
  readonly other: { readonly keptAt: string } | null;
}) {
  const { sheet, other } = props;
  return (
    <div className="sheet-kept" role="alert">
      <p>
        <State word="Changed on another device" tone="look" />{' '}
        {other
          ? `The sheet was changed there, ${printInstant(other.keptAt)}.`
          : 'The sheet was recorded or emptied there.'}{' '}
        What stands here is not sent before you choose.
      </p>
      <p className="row-counts">
        <button type="button" className="quiet-button" onClick={sheet.takeOther}>
          {other ? 'Take the other sheet' : 'Empty this sheet'}
        </button>
        <button type="button" className="quiet-button" onClick={sheet.keepThis}>
          Keep this sheet
        </button>
      </p>
    </div>
  );
}
