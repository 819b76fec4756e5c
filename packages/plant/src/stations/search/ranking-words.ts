import type { Ranking } from './ranking.ts';

const percent = (value: number): string =>
  value >= 0.9995 && value < 1
    ? 'over 99.9\u00a0%'
    : `${(100 * value).toFixed(value < 0.1 ? 1 : 0)}\u00a0%`;

/** The ranking in a sentence or two. */
export function rankingWords(ranking: Omit<Ranking, 'words'>): string {
  if (ranking.unexplained) {
    return 'Nothing that is known to go wrong explains these figures. Check the tallies first.';
  }
  const [first] = ranking.looks;
  const [best] = ranking.stories;
  if (!first) return `Nothing is wrong with probability ${percent(ranking.noFaultProbability)}.`;
  const minutes =
    first.minutes < 1 ? `${Math.round(first.minutes * 60)} s` : `${first.minutes} min`;
  const there = `the cause lies there with ${percent(first.probability)}`;
  const look =
    first.sightings > 0
      ? `Found: ${first.title} (${there}). Let another person see it, then end the search.`
      : `First: ${first.title} (${minutes}; ${there}).`;
  const told = best
    ? `The best single explanation, ${percent(best.probability)}: ${best.words}.`
    : 'Very many explanations share the rest: none alone is worth telling.';
  return `${look} ${told}`;
}
