import type { ShiftFlow } from '../shift-flows.ts';

/** One end of the picture: a place with everything that left it, or came to it. */
export interface FlowEnd {
  readonly place: string;
  readonly top: number;
  readonly height: number;
  readonly pieces: number;
  readonly grossMicrograms: number;
}

/** One band: metal of one piece standard from one place to another. */
export interface FlowBand {
  readonly flow: ShiftFlow;
  readonly left: number;
  readonly right: number;
  readonly thickness: number;
}

interface FlowPicture {
  readonly height: number;
  readonly from: readonly FlowEnd[];
  readonly to: readonly FlowEnd[];
  readonly bands: readonly FlowBand[];
}

/** Measures of the picture, in units of its own. */
export const flowFrame = {
  width: 720,
  left: 210,
  right: 510,
  bands: 240,
  gap: 26,
  label: 34,
} as const;

/** The thinnest band that can still be seen. */
const leastThickness = 2;

/** Places in the order in which metal flows through the plant. */
const order: readonly string[] = [
  'with-supplier',
  'receiving',
  'laboratory',
  'press-room',
  'put-up',
  'strong-room',
  'in-transit',
  'archive',
  'scrap',
  'with-purchaser',
  'difference',
  'ceased',
];

function inOrder(places: readonly string[]): string[] {
  const rank = (place: string) => (order.includes(place) ? order.indexOf(place) : order.length);
  return [...new Set(places)].sort(
    (one, other) => rank(one) - rank(other) || (one < other ? -1 : 1),
  );
}

interface Sized {
  readonly flow: ShiftFlow;
  readonly thickness: number;
}

/** Thickness follows gross mass; what has hardly any is drawn as thin as can be seen. */
function sized(flows: readonly ShiftFlow[]): Sized[] {
  const total = flows.reduce((sum, flow) => sum + flow.grossMicrograms, 0);
  return flows.map((flow) => ({
    flow,
    thickness:
      total === 0
        ? leastThickness
        : Math.max(leastThickness, (flow.grossMicrograms / total) * flowFrame.bands),
  }));
}

/** Sets the places of one side below one another, each as high as its bands and its label. */
function endsOf(bands: readonly Sized[], side: 'from' | 'to'): FlowEnd[] {
  let top = 0;
  return inOrder(bands.map(({ flow }) => flow[side])).map((place) => {
    const own = bands.filter(({ flow }) => flow[side] === place);
    const height = own.reduce((sum, { thickness }) => sum + thickness, 0);
    const end = {
      place,
      top,
      height,
      pieces: own.reduce((sum, { flow }) => sum + flow.pieces, 0),
      grossMicrograms: own.reduce((sum, { flow }) => sum + flow.grossMicrograms, 0),
    };
    top += Math.max(height, flowFrame.label) + flowFrame.gap;
    return end;
  });
}

/** Where each band begins on a side: below those of the same place that go before it. */
function offsetsOf(
  bands: readonly Sized[],
  ends: readonly FlowEnd[],
  side: 'from' | 'to',
): ReadonlyMap<ShiftFlow, number> {
  const other = side === 'from' ? 'to' : 'from';
  const offsets = new Map<ShiftFlow, number>();
  for (const end of ends) {
    const own = bands.filter(({ flow }) => flow[side] === end.place);
    const ranks = inOrder(own.map(({ flow }) => flow[other]));
    const sorted = own.toSorted(
      (left, right) => ranks.indexOf(left.flow[other]) - ranks.indexOf(right.flow[other]),
    );
    let top = end.top;
    for (const { flow, thickness } of sorted) {
      offsets.set(flow, top);
      top += thickness;
    }
  }
  return offsets;
}

const bottomOf = (ends: readonly FlowEnd[]): number =>
  Math.max(0, ...ends.map(({ top, height }) => top + Math.max(height, flowFrame.label)));

/** Lays the movements of a shift out as bands from the places on the left to those on the right. */
export function flowPicture(flows: readonly ShiftFlow[]): FlowPicture {
  const bands = sized(flows);
  const from = endsOf(bands, 'from');
  const to = endsOf(bands, 'to');
  const left = offsetsOf(bands, from, 'from');
  const right = offsetsOf(bands, to, 'to');
  return {
    height: Math.max(bottomOf(from), bottomOf(to)),
    from,
    to,
    bands: bands.map(({ flow, thickness }) => ({
      flow,
      left: left.get(flow) ?? 0,
      right: right.get(flow) ?? 0,
      thickness,
    })),
  };
}

/** The outline of a band: along its upper edge to the right and back along its lower one. */
export function bandPath({ left, right, thickness }: FlowBand): string {
  const { left: x0, right: x1 } = flowFrame;
  const middle = (x0 + x1) / 2;
  return [
    `M${x0} ${left}`,
    `C${middle} ${left} ${middle} ${right} ${x1} ${right}`,
    `V${right + thickness}`,
    `C${middle} ${right + thickness} ${middle} ${left + thickness} ${x0} ${left + thickness}`,
    'Z',
  ].join(' ');
}
