import type { ShiftFlow } from '../shift-flows.ts';
import { placeTitle } from './desk-answer.ts';
import { flowFigures } from './flow-figures.ts';
import { bandPath, type FlowEnd, flowFrame, flowPicture } from './flow-layout.ts';

/** Where the metal of a shift came from and went: bands as thick as their gross mass. */
export function FlowBands({ flows }: { readonly flows: readonly ShiftFlow[] }) {
  const picture = flowPicture(flows);
  return (
    <svg
      className="flow-bands"
      viewBox={`0 -4 ${flowFrame.width} ${picture.height + 8}`}
      role="img"
      aria-label="Bands from the places that metal left to the places that it came to, as thick as its gross mass; the figures stand in the table below."
    >
      {picture.bands.map((band) => {
        const { from, to, metal, pieceStandard, estimated } = band.flow;
        return (
          <path
            key={`${from} ${to} ${pieceStandard} ${estimated}`}
            className={`flow-band strand-${metal} ${estimated ? 'is-estimated' : ''}`}
            d={bandPath(band)}
          >
            <title>
              {`${placeTitle(from)} to ${placeTitle(to)}: ${pieceStandard}, ${flowFigures(band.flow)}${estimated ? ', estimated' : ''}`}
            </title>
          </path>
        );
      })}
      {picture.from.map((end) => (
        <End key={end.place} end={end} side="from" />
      ))}
      {picture.to.map((end) => (
        <End key={end.place} end={end} side="to" />
      ))}
    </svg>
  );
}

function End({ end, side }: { readonly end: FlowEnd; readonly side: 'from' | 'to' }) {
  const isFrom = side === 'from';
  const edge = isFrom ? flowFrame.left : flowFrame.right;
  const x = isFrom ? edge - 10 : edge + 10;
  const anchor = isFrom ? 'end' : 'start';
  return (
    <g>
      <line
        className="flow-edge"
        x1={edge}
        x2={edge}
        y1={end.top}
        y2={end.top + Math.max(end.height, 2)}
      />
      <text className="flow-place" x={x} y={end.top + 13} textAnchor={anchor}>
        {placeTitle(end.place)}
      </text>
      <text x={x} y={end.top + 30} textAnchor={anchor}>
        {flowFigures(end)}
      </text>
    </g>
  );
}
