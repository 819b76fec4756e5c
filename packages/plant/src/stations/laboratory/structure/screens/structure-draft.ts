import { decimalOf } from '../../../../workbench/index.ts';
import type { Window } from '../../examination/screens/examination-answer.ts';
import { noOrder, type OrderDraft, orderInput } from '../../examination/screens/ordered-limits.tsx';
import {
  freeLineLabel,
  leastBarPixels,
  leastLinePixels,
  lineNear,
  type PictureSize,
  type Point,
  pixelsOf,
  type Scale,
  type Stretch,
  type TestLine,
  turnedMark,
} from '../picture-marks.ts';

/** What a point on the picture means: an end of the scale bar, an end of a line, or a mark. */
export type DrawingTool = 'scale' | 'line' | 'mark';

export interface StructureDraft {
  readonly blank: string;
  readonly photographSha256: string;
  /** Null while no photograph is there. */
  readonly picture: PictureSize | null;
  readonly scaleKind: Scale['kind'];
  readonly statedScale: string;
  readonly barLength: string;
  readonly bar: Stretch | null;
  readonly preparation: string;
  readonly lines: readonly TestLine[];
  readonly tool: DrawingTool;
  /** The first end of what is being drawn. */
  readonly pending: Point | null;
  readonly order: OrderDraft;
}

export const firstStructure: StructureDraft = {
  blank: '',
  photographSha256: '',
  picture: null,
  scaleKind: 'bar',
  statedScale: '',
  barLength: '',
  bar: null,
  preparation: '',
  lines: [],
  tool: 'scale',
  pending: null,
  order: noOrder,
};

/** Another photograph: nothing that was drawn on the one before holds for it. */
export const otherPhotograph = (photographSha256: string): Partial<StructureDraft> => ({
  photographSha256,
  picture: null,
  bar: null,
  lines: [],
  tool: 'scale',
  pending: null,
});

/** How near a point must come to a line, or to a mark, to mean it: a share of the picture's width. */
const reachShare = 0.02;

const reachOf = ({ widthPixels }: PictureSize): number => reachShare * widthPixels;

function lineDrawn(draft: StructureDraft, stretch: Stretch): Partial<StructureDraft> {
  if (pixelsOf(stretch) < leastLinePixels) return { pending: null };
  const line = { label: freeLineLabel(draft.lines), ...stretch, marks: [] };
  return { lines: [...draft.lines, line], pending: null };
}

function barDrawn(bar: Stretch): Partial<StructureDraft> {
  if (pixelsOf(bar) < leastBarPixels) return { pending: null };
  return { bar, pending: null, tool: 'line' };
}

function marked(draft: StructureDraft, size: PictureSize, point: Point): Partial<StructureDraft> {
  const near = lineNear(draft.lines, point, 2 * reachOf(size));
  if (!near) return {};
  const lines = draft.lines.map((line, index) =>
    index === near.index ? turnedMark(line, near.at, reachOf(size) / 2) : line,
  );
  return { lines };
}

/** What a point on the picture changes, with the tool in hand. */
export function pointTaken(draft: StructureDraft, point: Point): Partial<StructureDraft> {
  const { tool, pending, picture } = draft;
  if (!picture) return {};
  if (tool === 'mark') return marked(draft, picture, point);
  if (!pending) return { pending: point };
  const stretch = { from: pending, to: point };
  return tool === 'scale' ? barDrawn(stretch) : lineDrawn(draft, stretch);
}

/** The scale as far as it is known; nothing while it lacks a figure. */
export function scaleOf(draft: StructureDraft): Scale | undefined {
  if (draft.scaleKind === 'stated') {
    const micrometresPerPixel = decimalOf(draft.statedScale);
    return typeof micrometresPerPixel === 'number' && micrometresPerPixel > 0
      ? { kind: 'stated', micrometresPerPixel }
      : undefined;
  }
  const lengthMicrometres = decimalOf(draft.barLength);
  return draft.bar && typeof lengthMicrometres === 'number' && lengthMicrometres > 0
    ? { kind: 'bar', bar: draft.bar, lengthMicrometres }
    : undefined;
}

/** What is still missing, in a sentence; nothing once the structure can be recorded. */
export function structureNotYet(draft: StructureDraft): string | undefined {
  if (draft.blank === '') return 'Choose the blank.';
  if (draft.photographSha256 === '' || !draft.picture) return 'Bring the photograph.';
  if (!scaleOf(draft)) {
    return draft.scaleKind === 'bar'
      ? 'Mark both ends of the scale bar and state its length.'
      : 'State what a pixel is.';
  }
  if (draft.lines.length === 0) return 'Draw a test line.';
  return draft.lines.some(({ marks }) => marks.length > 0)
    ? undefined
    : 'Mark where the lines cross boundaries of grains.';
}

/** The structure as the command takes it. */
export function structureInputOf(
  draft: StructureDraft,
  given: { readonly melt: string; readonly instrument: string; readonly window: Window | null },
) {
  const preparation = draft.preparation.trim();
  return {
    melt: given.melt,
    blank: draft.blank,
    instrument: given.instrument,
    photographSha256: draft.photographSha256,
    picture: draft.picture,
    scale: scaleOf(draft),
    ...(preparation === '' ? {} : { preparation }),
    lines: draft.lines,
    ...orderInput(draft.order, given.window),
  };
}
