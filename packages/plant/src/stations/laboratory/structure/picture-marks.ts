/** A place on a picture, in its own pixels from the upper left corner. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A straight stretch on a picture. */
export interface Stretch {
  readonly from: Point;
  readonly to: Point;
}

/** How much a mark counts: a crossed boundary or a tangent 1, a line end on one ½, a triple point 1½. */
export const markCounts = [1, 0.5, 1.5] as const;

type MarkCount = (typeof markCounts)[number];

/** Where a test line meets a boundary of grains: its share of the way from end to end. */
export interface Mark {
  readonly at: number;
  readonly counts: MarkCount;
}

/** A test line with what was marked on it. */
export interface TestLine extends Stretch {
  readonly label: string;
  readonly marks: readonly Mark[];
}

/** The scale of a picture: stated, or taken from the bar that stands on it. */
export type Scale =
  | { readonly kind: 'stated'; readonly micrometresPerPixel: number }
  | { readonly kind: 'bar'; readonly bar: Stretch; readonly lengthMicrometres: number };

export interface PictureSize {
  readonly widthPixels: number;
  readonly heightPixels: number;
}

/** Length of a stretch in pixels of the picture. */
export const pixelsOf = ({ from, to }: Stretch): number => Math.hypot(to.x - from.x, to.y - from.y);

/** A scale bar shorter than this is read too coarsely: one pixel would be 5 % of it. */
export const leastBarPixels = 20;

/** A test line shorter than this holds no grain that could be seen. */
export const leastLinePixels = 20;

/** What a pixel is on the metal. */
export function micrometresPerPixel(scale: Scale): number {
  return scale.kind === 'stated'
    ? scale.micrometresPerPixel
    : scale.lengthMicrometres / pixelsOf(scale.bar);
}

/** Whether a place lies on the picture, its edge included. */
export function isOnPicture({ x, y }: Point, size: PictureSize): boolean {
  return x >= 0 && y >= 0 && x <= size.widthPixels && y <= size.heightPixels;
}

/** The place at a share of the way along a stretch. */
export function placeAt({ from, to }: Stretch, at: number): Point {
  return { x: from.x + at * (to.x - from.x), y: from.y + at * (to.y - from.y) };
}

/** The share of the way at which a stretch comes nearest to a point, and how near. */
export function nearestOn(stretch: Stretch, point: Point): { at: number; distancePixels: number } {
  const { from, to } = stretch;
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const squares = dx * dx + dy * dy;
  const along = squares === 0 ? 0 : ((point.x - from.x) * dx + (point.y - from.y) * dy) / squares;
  const at = Math.min(1, Math.max(0, along));
  const place = placeAt(stretch, at);
  return { at, distancePixels: Math.hypot(point.x - place.x, point.y - place.y) };
}

/** The line that a point means: the nearest of those within reach. */
export function lineNear(
  lines: readonly TestLine[],
  point: Point,
  reachPixels: number,
): { readonly index: number; readonly at: number } | undefined {
  const near = lines
    .map((line, index) => ({ index, ...nearestOn(line, point) }))
    .filter(({ distancePixels }) => distancePixels <= reachPixels)
    .toSorted((left, right) => left.distancePixels - right.distancePixels);
  return near[0];
}

/** The line with a mark more, in the order along it; a mark that is there is taken away instead. */
export function turnedMark(line: TestLine, at: number, reachPixels: number): TestLine {
  const reach = reachPixels / Math.max(1, pixelsOf(line));
  const there = line.marks.findIndex((mark) => Math.abs(mark.at - at) <= reach);
  const marks =
    there >= 0
      ? line.marks.filter((_mark, index) => index !== there)
      : [...line.marks, { at, counts: 1 as const }].toSorted((a, b) => a.at - b.at);
  return { ...line, marks };
}

/** What was counted on a line. */
export const countOf = ({ marks }: Pick<TestLine, 'marks'>): number =>
  marks.reduce((sum, mark) => sum + mark.counts, 0);

/** The next label of a list of lines that none of them bears. */
export function freeLineLabel(lines: readonly Pick<TestLine, 'label'>[]): string {
  const taken = new Set(lines.map(({ label }) => label));
  let number = 1;
  while (taken.has(`L${number}`)) number += 1;
  return `L${number}`;
}

/** Room that laid lines leave at the edges of the picture, as a share of it. */
const margin = 0.06;

/** Test lines in even distances across the picture, from edge to edge, so that nobody chooses them. */
export function laidLines(size: PictureSize, count: number): readonly TestLine[] {
  const { widthPixels: width, heightPixels: height } = size;
  const [left, right] = [margin * width, (1 - margin) * width];
  return Array.from({ length: count }, (_, index) => {
    const y = (height * (index + 1)) / (count + 1);
    return {
      label: `L${index + 1}`,
      from: { x: left, y },
      to: { x: right, y },
      marks: [],
    };
  });
}

/** The counts as the calculation takes them: lengths on the metal, so that nothing is magnified. */
export function grainCounts(lines: readonly TestLine[], scale: Scale) {
  const perPixel = micrometresPerPixel(scale);
  return {
    count: {
      method: 'intercepts' as const,
      fields: lines.map((line) => ({
        lineLengthMillimetres: (pixelsOf(line) * perPixel) / 1000,
        intercepts: countOf(line),
      })),
    },
    magnification: 1,
  };
}
