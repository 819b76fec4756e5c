import type { LookRow } from './books.ts';
import type { Finding } from './findings.ts';
import { type ToldAgain, toldAgain } from './look-again.ts';
import { findingsAt, standsAsFound } from './look-evidence.ts';
import type { Look, Suspicion } from './suspicion.ts';

/** A look with what it is worth now. */
export interface RankedLook extends Look {
  readonly probability: number;
  /** Found per minute of looking: the greatest is taken first. */
  readonly foundPerMinute: number;
  /** Vain looks so far. */
  readonly looks: number;
  /** Looks that found something and that nobody has called mistaken. */
  readonly sightings: number;
  /** What can be found here. */
  readonly findings: readonly Finding[];
  readonly evidence: readonly string[];
  /** What weighing or counting it once more would tell; for the first looks only. */
  readonly again: ToldAgain | null;
}

/** A fault with its probability, whatever else is wrong. */
export interface JudgedFault {
  readonly suspicion: Suspicion;
  readonly value: number;
  readonly probability: number;
}

/** So many looks are shown. */
const mostShown = 40;

/** For so many of the first looks it is told what they would tell. */
const mostForetold = 12;

/** So many lines of evidence stand beside a look. */
const mostEvidence = 3;

function foretold(look: Look, faults: readonly JudgedFault[]): ToldAgain | null {
  const first = faults.find(({ suspicion }) => suspicion.again)?.suspicion;
  if (!first?.again) return null;
  const probabilityOf = (value: number): number =>
    faults.find((fault) => fault.suspicion === first && fault.value === value)?.probability ?? 0;
  return toldAgain(first.again, { name: first.name, minutes: look.minutes, probabilityOf });
}

/** A look with what it finds per minute, before anything is told of it. */
interface WeighedLook {
  readonly look: Look;
  readonly probability: number;
  readonly foundPerMinute: number;
  readonly faults: readonly JudgedFault[];
}

function weighed(faults: readonly JudgedFault[]): readonly WeighedLook[] {
  const byLook = Map.groupBy(faults, ({ suspicion }) => suspicion.look.look);
  return [...byLook.values()].map((of): WeighedLook => {
    const { look } = (of[0] as JudgedFault).suspicion;
    const sum = of.reduce((total, fault) => total + fault.probability, 0);
    const probability = Math.min(1, sum);
    const foundPerMinute = (probability * look.seenIfThere) / look.minutes;
    return { look, probability, foundPerMinute, faults: of };
  });
}

/** The looks at everything that can be wrong, in the order in which they find most per minute. */
export function rankedLooks(
  faults: readonly JudgedFault[],
  suspicions: readonly Suspicion[],
  taken: readonly LookRow[],
): readonly RankedLook[] {
  const shown = weighed(faults)
    .toSorted((a, b) => b.foundPerMinute - a.foundPerMinute)
    .slice(0, mostShown);
  const names = new Set(shown.map(({ look }) => look.look));
  const suspected = Map.groupBy(
    suspicions.filter(({ look }) => names.has(look.look)),
    ({ look }) => look.look,
  );
  return shown.map(({ look, probability, foundPerMinute, faults: here }, at): RankedLook => {
    const own = taken.filter((one) => one.look === look.look);
    const evidence = here.flatMap(({ suspicion }) => suspicion.evidence ?? []);
    return {
      ...look,
      probability,
      foundPerMinute,
      looks: own.filter(({ outcome }) => outcome === 'nothing found').length,
      sightings: own.filter(standsAsFound).length,
      findings: findingsAt(suspected.get(look.look) ?? []),
      evidence: [...new Set(evidence)].slice(0, mostEvidence),
      again: at < mostForetold ? foretold(look, here) : null,
    };
  });
}
