import { bodyOf } from '../demonstration/hand.ts';
import { fix } from './fixes.ts';
import { witness } from './founding.ts';
import { attempt, type Ground, unexpected } from './ground.ts';
import { habitualMinutes } from './habit.ts';
import { isThere } from './looking.ts';

/** A search as somebody who looks sees it. */
interface Present {
  readonly search: { readonly openedEntry: number };
  readonly ranking: {
    readonly looks: readonly {
      readonly look: string;
      readonly title: string;
      readonly minutes: number;
      readonly seenIfThere: number;
    }[];
    readonly faults: readonly { readonly name: string; readonly look: string }[];
  } | null;
}

/** Opens the search for a piece standard, or goes on with the one that is open. */
async function open(ground: Ground, pieceStandard: string): Promise<string> {
  const act = { by: 'sorrel', command: 'open-search', input: { pieceStandard } } as const;
  const tried = await attempt(ground, act);
  const { outcome } = tried;
  const before =
    outcome.outcome === 'refused' &&
    outcome.refusals.find(({ refusal }) => refusal === 'SearchAlreadyOpen');
  if (before) return String(before.figures['search']);
  if (!tried.recorded) throw unexpected(act, tried);
  return String(bodyOf(tried.recorded, 'SearchOpened')['search']);
}

type Ranking = NonNullable<Present['ranking']>;

/** How far a search has come. */
interface Progress {
  minutes: number;
  looks: number;
  slowestRankingSeconds: number;
}

/** The ranking as it stands; how long it took to make is kept. */
async function ranked(ground: Ground, search: string, progress: Progress): Promise<Ranking | null> {
  const from = performance.now();
  const { ranking } = (await ground.plant.question('search', { search }, 'sorrel')) as Present;
  const seconds = (performance.now() - from) / 1000;
  progress.slowestRankingSeconds = Math.max(progress.slowestRankingSeconds, seconds);
  return ranking;
}

/** What was seen, and what the search had named there. */
interface Seen {
  readonly look: string;
  readonly title: string;
  readonly cause: string | null;
}

/** Takes looks as they are ranked until something is seen or the minutes are used up. */
async function lookAround(
  ground: Ground,
  of: { readonly search: string; readonly pieceStandard: string; readonly minutes: number },
  progress: Progress,
): Promise<Seen | undefined> {
  for (;;) {
    const ranking = await ranked(ground, of.search, progress);
    const next = ranking?.looks.find((look) => look.minutes <= of.minutes - progress.minutes);
    if (!ranking || !next) return undefined;
    progress.minutes += next.minutes;
    progress.looks += 1;
    const isSeen =
      (await isThere(ground, next.look, of.pieceStandard)) &&
      ground.chance.uniform() < next.seenIfThere;
    const outcome = isSeen ? 'found' : 'nothing found';
    await ground.hand.do({
      by: 'milo',
      command: 'record-look',
      input: { search: of.search, look: next.look, outcome, words: '' },
      seconds: next.minutes * 60,
    });
    if (!isSeen) continue;
    const cause = ranking.faults.find(({ look }) => look === next.look)?.name ?? null;
    return { look: next.look, title: next.title, cause };
  }
}

/** Looks and ends the search; when the record itself fails at it, that is a breach and nothing was seen. */
async function lookAndEnd(
  ground: Ground,
  of: { readonly search: string; readonly pieceStandard: string; readonly minutes: number },
  progress: Progress,
): Promise<Seen | undefined> {
  try {
    const seen = await lookAround(ground, of, progress);
    await end(ground, of.search, seen);
    return seen;
  } catch (error) {
    ground.hand.breach(`search ${of.search} failed: ${(error as Error).message}`);
    return undefined;
  }
}

/**
 * Looks where the search says, one look after the other, until the cause is seen or the minutes are
 * used up. What is seen is put right at once. Answers the minutes that are left.
 */
export async function searchFor(
  ground: Ground,
  pieceStandard: string,
  options: { readonly minutes: number; readonly since: number },
): Promise<{ readonly minutesLeft: number; readonly isFound: boolean }> {
  const search = await open(ground, pieceStandard);
  const progress = { minutes: 0, looks: 0, slowestRankingSeconds: 0 };
  const of = { search, pieceStandard, minutes: options.minutes };
  const seen = await lookAndEnd(ground, of, progress);
  const cause = seen && { look: seen.look, pieceStandard, since: options.since };
  ground.searches.push({
    shift: ground.ledger.shift,
    pieceStandard,
    ...progress,
    foundAt: seen?.look ?? null,
    habitualMinutes: cause ? await habitualMinutes(ground, cause) : null,
  });
  if (seen) await fix(ground, seen.look, pieceStandard);
  const left = options.minutes - progress.minutes;
  // Where looks were taken in vain the rest of the hour gives no more; a search that names none costs nothing.
  return { minutesLeft: seen || progress.looks === 0 ? left : 0, isFound: seen !== undefined };
}

async function end(ground: Ground, search: string, found: Seen | undefined): Promise<void> {
  const proof = found
    ? `${found.title}: it was seen there by two people.`
    : 'Nothing that could be looked at in the time showed the cause.';
  const kind = found && found.cause === null ? 'something else' : null;
  await ground.hand.do({
    by: 'sorrel',
    with: witness,
    command: 'end-search',
    input: {
      search,
      end: found ? 'cause confirmed' : 'left unresolved',
      cause: found?.cause ?? null,
      kind,
      proof,
    },
  });
}
