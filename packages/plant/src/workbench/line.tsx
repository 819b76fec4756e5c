import { useRouterState } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { strip, stripPaths } from './line-shape.ts';
import { printMicrograms, printNumber } from './number-text.ts';
import { PathLink } from './path-link.tsx';
import { useQuestion } from './use-question.ts';

/** A place of the line as the question `line` answers it. */
interface LinePlace {
  readonly place: string;
  readonly metals: readonly {
    readonly metal: string;
    readonly pieces: number;
    readonly grossMicrograms: number;
    readonly fineMicrograms: number;
  }[];
  /** True for people who count: they read no figures that they are to find. */
  readonly isHidden: boolean;
  readonly waiting: number;
  readonly stopped: number;
}

/** What the question `line` answers. */
export interface LineAnswer {
  readonly places: readonly LinePlace[];
  readonly waiting: number;
  readonly stopped: number;
}

/** A place of the line with the page of the desk that works there. */
export interface LineStation {
  readonly place: string;
  readonly title: string;
  readonly path: string;
}

interface Stood extends LineStation {
  readonly known: LinePlace | undefined;
  readonly isHere: boolean;
}

function metalOf(place: LinePlace | undefined, metal: string) {
  return place?.metals.find((row) => row.metal === metal);
}

/**
 * The line: the plant as one strip of metal through its stations. The gold strand lies above the
 * middle and the silver strand below, each as thick as the logarithm of the fine mass lying there; a
 * notch says how many papers wait. It is the way around.
 */
export function Line(props: {
  readonly stations: readonly LineStation[];
  readonly aside: readonly LineStation[];
}) {
  const { answer } = useQuestion<LineAnswer>('line');
  const path = useRouterState({ select: (state) => state.location.pathname });
  const [isOpen, setIsOpen] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the line folds whenever the page is another
  useEffect(() => setIsOpen(false), [path]);
  const stand = (station: LineStation): Stood => ({
    ...station,
    known: answer?.places.find((place) => place.place === station.place),
    isHere: path === station.path || path.startsWith(`${station.path}/`),
  });
  const stood = props.stations.map(stand);
  const here = stood.find((station) => station.isHere);
  return (
    <nav className={`line${isOpen ? ' line-open' : ''}`} aria-label="The line">
      <button
        type="button"
        className="line-fold"
        aria-expanded={isOpen}
        onClick={() => setIsOpen(!isOpen)}
      >
        <span className="faint">The line</span> {here?.title ?? ''}
        <span aria-hidden="true">{isOpen ? ' ↑' : ' ↓'}</span>
      </button>
      <div className="line-body">
        <Strip stood={stood} />
        <ol className="line-stations">
          {stood.map((station) => (
            <li key={station.place} className={station.isHere ? 'line-here' : undefined}>
              <StationLink station={station} />
            </li>
          ))}
        </ol>
        <Aside stood={props.aside.map(stand)} />
      </div>
    </nav>
  );
}

function Strip({ stood }: { readonly stood: readonly Stood[] }) {
  const paths = stripPaths(
    stood.map(({ known }) => ({
      gold: metalOf(known, 'gold')?.fineMicrograms ?? 0,
      silver: metalOf(known, 'silver')?.fineMicrograms ?? 0,
    })),
  );
  const width = stood.length * strip.stationWidth;
  return (
    <div className="strip">
      <svg viewBox={`0 0 ${width} ${strip.height}`} preserveAspectRatio="none" aria-hidden="true">
        <path className="strand-gold" d={paths.gold} />
        <path className="strand-silver" d={paths.silver} />
      </svg>
    </div>
  );
}

/** How many papers wait, in words. */
function waitingWords({ waiting, stopped }: { waiting: number; stopped: number }): string {
  if (stopped === waiting) return `${stopped} stopped`;
  const wait = waiting === 1 ? '1 waits' : `${waiting} wait`;
  return stopped > 0 ? `${wait}, ${stopped} stopped` : wait;
}

function Notch({ known }: { readonly known: LinePlace | undefined }) {
  if (!known || known.waiting === 0) return null;
  const tone = known.stopped > 0 ? 'stopped' : 'look';
  return (
    <span className={`notch notch-${tone}`}>
      <span className="notch-number">{waitingWords(known)}</span>
      <span className="notch-cut" aria-hidden="true" />
    </span>
  );
}

/** Whether a mass is still seen in kilograms; what weighing leaves of emptied places is not. */
const isShown = (micrograms: number) => Math.abs(micrograms) >= 5e6;

/** Decimals of kilograms, so that about three digits stand. */
function kilogramDecimals(micrograms: number): number {
  return micrograms >= 1e11 ? 0 : micrograms >= 1e10 ? 1 : 2;
}

function StationLink({ station }: { readonly station: Stood }) {
  const { known } = station;
  const rows = (known?.metals ?? []).filter(
    (row) => row.pieces !== 0 || isShown(row.fineMicrograms),
  );
  const thickness = (metal: string) => {
    const mass = metalOf(known, metal)?.fineMicrograms ?? 0;
    return mass > 0 ? Math.max(1, Math.min(8, Math.round(Math.log10(mass / 1e5)))) : 0;
  };
  return (
    <PathLink to={station.path} className="line-station">
      <Notch known={known} />
      <span
        className={`upright gold-${thickness('gold')} silver-${thickness('silver')}`}
        aria-hidden="true"
      />
      <span className="line-title">{station.title}</span>
      {rows.length === 0 ? (
        <span className="line-figures faint">
          {known?.isHidden ? 'counted at shift end' : 'empty'}
        </span>
      ) : null}
      {rows.map((row) => (
        <span key={row.metal} className="line-figures">
          <span className={`metal metal-${row.metal}`}>{row.metal}</span>
          <span>
            {printNumber(row.pieces)}
            <span className="figure-unit"> pieces</span>
          </span>
          <span>
            {printMicrograms(row.fineMicrograms, 'kg', kilogramDecimals(row.fineMicrograms))}
            <span className="figure-unit">{'\u202f'}kg fine</span>
          </span>
        </span>
      ))}
    </PathLink>
  );
}

/** Places beside the flow: what was kept back or set aside. */
function Aside({ stood }: { readonly stood: readonly Stood[] }) {
  const held = stood.filter(
    ({ known }) => known?.isHidden || known?.metals.some((row) => isShown(row.fineMicrograms)),
  );
  if (held.length === 0) return null;
  return (
    <p className="line-aside">
      {held.map((station) => (
        <PathLink key={station.place} to={station.path} className="line-aside-place">
          <span className="line-aside-title">{station.title}</span>
          {station.known?.metals
            .filter((row) => isShown(row.fineMicrograms))
            .map((row) => (
              <span key={row.metal}>
                {' '}
                <span className={`metal metal-${row.metal}`}>{row.metal}</span>{' '}
                {printMicrograms(row.fineMicrograms, 'kg', 2)}
                {'\u202f'}kg
              </span>
            ))}
        </PathLink>
      ))}
    </p>
  );
}
