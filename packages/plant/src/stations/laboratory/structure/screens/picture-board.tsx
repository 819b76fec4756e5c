import { type KeyboardEvent, type MouseEvent, useRef, useState } from 'react';
import { attachmentPath } from '../../../../workbench/index.ts';
import {
  countOf,
  type PictureSize,
  type Point,
  placeAt,
  type Stretch,
  type TestLine,
} from '../picture-marks.ts';

/** What stands on a picture. */
interface PictureDrawn {
  readonly sha256: string;
  readonly words: string;
  readonly size: PictureSize;
  readonly bar: Stretch | null;
  readonly lines: readonly TestLine[];
}

/** Sizes on the picture follow its width, so that they look alike on every photograph. */
const share = (size: PictureSize, part: number): number => part * size.widthPixels;

/** A photograph with everything that was drawn and marked on it, for looking at. */
export function PictureShown({ picture }: { readonly picture: PictureDrawn }) {
  const { widthPixels, heightPixels } = picture.size;
  return (
    <div className="structure-picture">
      <img src={attachmentPath(picture.sha256)} alt={picture.words} />
      <svg
        viewBox={`0 0 ${widthPixels} ${heightPixels}`}
        role="img"
        aria-label={`Marks on it: ${picture.lines.map((one) => `${one.label} ${countOf(one)}`).join(', ')}`}
      >
        <Drawn picture={picture} />
      </svg>
    </div>
  );
}

/** Steps of the crosshair by the arrow keys, as shares of the picture's width. */
const step = 0.004;
const largeStep = 0.04;

const steps: Readonly<Record<string, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
};

const within = (value: number, greatest: number): number => Math.min(greatest, Math.max(0, value));

/**
 * A photograph on which points are taken: by pointer where it is touched, by keyboard where the
 * crosshair stands, which the arrow keys move and Enter or the space bar takes.
 */
export function PictureBoard(props: {
  readonly picture: PictureDrawn;
  readonly pending: Point | null;
  /** What the next point means, told to whoever does not see it. */
  readonly hint: string;
  readonly onPoint: (point: Point) => void;
  readonly onSize: (size: PictureSize) => void;
}) {
  const { picture, pending, hint, onPoint, onSize } = props;
  const { widthPixels, heightPixels } = picture.size;
  const board = useRef<SVGSVGElement>(null);
  const [cursor, moveCursor] = useState<Point | null>(null);
  const middle = { x: widthPixels / 2, y: heightPixels / 2 };
  // A click and not a press: a finger that moves the page over the picture takes no point.
  const onClick = (event: MouseEvent<SVGSVGElement>) => {
    const box = board.current?.getBoundingClientRect();
    if (!box || box.width === 0) return;
    const point = {
      x: within(((event.clientX - box.left) / box.width) * widthPixels, widthPixels),
      y: within(((event.clientY - box.top) / box.height) * heightPixels, heightPixels),
    };
    moveCursor(point);
    onPoint(point);
  };
  const onKey = (event: KeyboardEvent<SVGSVGElement>) => {
    const at = cursor ?? middle;
    const direction = steps[event.key];
    if (direction) {
      event.preventDefault();
      const length = share(picture.size, event.shiftKey ? largeStep : step);
      moveCursor({
        x: within(at.x + direction.x * length, widthPixels),
        y: within(at.y + direction.y * length, heightPixels),
      });
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      onPoint(at);
    }
  };
  return (
    <div className="structure-picture">
      <img
        src={attachmentPath(picture.sha256)}
        alt={picture.words}
        onLoad={({ currentTarget: { naturalWidth, naturalHeight } }) =>
          onSize({ widthPixels: naturalWidth, heightPixels: naturalHeight })
        }
      />
      <svg
        ref={board}
        viewBox={`0 0 ${widthPixels} ${heightPixels}`}
        className="structure-board"
        role="application"
        aria-label={`${hint} Arrow keys move the crosshair, with shift in larger steps; Enter takes the point.`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it takes pointer and keys itself
        tabIndex={0}
        data-own-enter
        onClick={onClick}
        onKeyDown={onKey}
        onFocus={() => moveCursor((before) => before ?? middle)}
      >
        <Drawn picture={picture} />
        {pending ? <Dot point={pending} size={picture.size} name="structure-pending" /> : null}
        {cursor ? <Crosshair point={cursor} size={picture.size} /> : null}
      </svg>
    </div>
  );
}

function Drawn({ picture }: { readonly picture: PictureDrawn }) {
  const { bar, lines, size } = picture;
  return (
    <>
      {bar ? <StretchLine stretch={bar} name="structure-bar" /> : null}
      {lines.map((line) => (
        <g key={line.label}>
          <StretchLine stretch={line} name="structure-line" />
          <text
            x={line.from.x + share(size, 0.006)}
            y={line.from.y - share(size, 0.008)}
            fontSize={share(size, 0.022)}
            className="structure-label"
          >
            {line.label}
          </text>
          {line.marks.map((mark) => (
            <Crossing key={mark.at} line={line} mark={mark} size={size} />
          ))}
        </g>
      ))}
    </>
  );
}

/** A stretch in two strokes, so that it is seen on dark and on light metal. */
function StretchLine({ stretch, name }: { readonly stretch: Stretch; readonly name: string }) {
  const { from, to } = stretch;
  const ends = { x1: from.x, y1: from.y, x2: to.x, y2: to.y };
  return (
    <>
      <line {...ends} className="structure-halo" />
      <line {...ends} className={name} />
    </>
  );
}

/** A mark across its line; one that counts other than one bears its count. */
function Crossing(props: {
  readonly line: TestLine;
  readonly mark: TestLine['marks'][number];
  readonly size: PictureSize;
}) {
  const { line, mark, size } = props;
  const place = placeAt(line, mark.at);
  const angle = (Math.atan2(line.to.y - line.from.y, line.to.x - line.from.x) * 180) / Math.PI;
  const half = share(size, 0.012);
  return (
    <g transform={`translate(${place.x} ${place.y}) rotate(${angle})`}>
      <line y1={-half} y2={half} className="structure-halo" />
      <line y1={-half} y2={half} className="structure-mark" />
      {mark.counts === 1 ? null : (
        <text
          y={-1.4 * half}
          fontSize={share(size, 0.018)}
          textAnchor="middle"
          className="structure-label"
        >
          {mark.counts === 0.5 ? '½' : '1½'}
        </text>
      )}
    </g>
  );
}

function Dot(props: { readonly point: Point; readonly size: PictureSize; readonly name: string }) {
  const { point, size, name } = props;
  return <circle cx={point.x} cy={point.y} r={share(size, 0.006)} className={name} />;
}

function Crosshair({ point, size }: { readonly point: Point; readonly size: PictureSize }) {
  const arm = share(size, 0.02);
  const { x, y } = point;
  return (
    <g className="structure-crosshair">
      <line x1={x - arm} x2={x + arm} y1={y} y2={y} />
      <line x1={x} x2={x} y1={y - arm} y2={y + arm} />
    </g>
  );
}
