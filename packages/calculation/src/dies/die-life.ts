import { z } from 'zod';
import { requireDomain } from '../quantity/domain.ts';

const life = 'a life above 0 and at most 1000000000000 strikes';
const howMany = 'a whole number of dies from 1 to 1000000';

/** One die, or several of the same life, as the catalogue reads it. */
const dieLife = z.strictObject({
  lifeStrikes: z.number(life).positive(life).max(1e12, life).meta({
    title: 'Life',
    description: 'Strikes when the die failed, or so far when it did not',
    unit: 'strikes',
  }),
  end: z.enum(['failed', 'censored'], 'failed or censored').meta({
    title: 'End',
    description:
      'Failed: taken out for the fault that is studied. Censored: still serving, or taken out for another reason',
  }),
  countDies: z.int(howMany).min(1, howMany).max(1_000_000, howMany).optional().meta({
    title: 'Dies of this life and end',
    description: 'One when left out',
    unit: 'dies',
  }),
});

export type DieLife = z.infer<typeof dieLife>;

const list = 'a list of 1 to 100000 lives';

export const dieLives = z.array(dieLife, list).min(1, list).max(100_000, list);

export const confidenceLevel = z
  .number('a confidence from 0.5 to 0.999')
  .min(0.5, 'a confidence from 0.5 to 0.999')
  .max(0.999, 'a confidence from 0.5 to 0.999')
  .meta({ title: 'Confidence', description: 'Of each interval, two-sided; 0.95 is usual' });

/** What happened at one life: how many dies were still at risk, how many failed, how many left. */
export interface RiskRow {
  readonly lifeStrikes: number;
  readonly atRiskDies: number;
  readonly failedDies: number;
  readonly censoredDies: number;
}

/**
 * Table of risk of a set of lives: one row for each different life, ascending.
 *
 * Formula: at risk are all dies of that life or a longer one. A die censored at the life at which
 * another failed counts as at risk there.
 *
 * @param lives 1 or more, in any order
 * @returns rows with lives ascending; failed and censored dies add up to all dies
 * @throws DomainError for an empty list
 * Validity: exact counts.
 * Source: E. L. Kaplan and P. Meier (1958), Journal of the American Statistical Association 53, 457-481
 * @example riskTable([{ lifeStrikes: 9, end: 'failed' }, { lifeStrikes: 13, end: 'censored' }])[1]?.atRiskDies // 1
 */
export function riskTable(lives: readonly DieLife[]): readonly RiskRow[] {
  requireDomain(lives.length > 0, { field: 'lives', value: 'none', accepted: list });
  const failed = sortedLives(lives, 'failed');
  const censored = sortedLives(lives, 'censored');
  const further = furtherDies(lives);
  let atRiskDies = lives.length;
  for (const { failedDies, censoredDies } of further.values())
    atRiskDies += failedDies + censoredDies;
  const rows: RiskRow[] = [];
  let [inFailed, inCensored] = [0, 0];
  while (inFailed < failed.length || inCensored < censored.length) {
    const lifeStrikes = Math.min(
      failed[inFailed] ?? Number.POSITIVE_INFINITY,
      censored[inCensored] ?? Number.POSITIVE_INFINITY,
    );
    const more = further.get(lifeStrikes);
    let failedDies = more?.failedDies ?? 0;
    let censoredDies = more?.censoredDies ?? 0;
    for (; failed[inFailed] === lifeStrikes; inFailed += 1) failedDies += 1;
    for (; censored[inCensored] === lifeStrikes; inCensored += 1) censoredDies += 1;
    rows.push({ lifeStrikes, atRiskDies, failedDies, censoredDies });
    atRiskDies -= failedDies + censoredDies;
  }
  return rows;
}

/** Lives that ended in one way, ascending; a typed array sorts by number, and fast. */
function sortedLives(lives: readonly DieLife[], end: DieLife['end']): Float64Array {
  const found = new Float64Array(lives.length);
  let count = 0;
  for (const life of lives) {
    if (life.end !== end) continue;
    found[count] = life.lifeStrikes;
    count += 1;
  }
  return found.subarray(0, count).sort();
}

/** Dies beyond the first of each entry that stands for several, by their life. */
function furtherDies(lives: readonly DieLife[]) {
  const found = new Map<number, { failedDies: number; censoredDies: number }>();
  for (const { lifeStrikes, end, countDies = 1 } of lives) {
    if (countDies === 1) continue;
    const place = found.get(lifeStrikes) ?? { failedDies: 0, censoredDies: 0 };
    found.set(lifeStrikes, place);
    if (end === 'failed') place.failedDies += countDies - 1;
    else place.censoredDies += countDies - 1;
  }
  return found;
}

/** A figure for a sentence: four significant digits, whole from a thousand up. */
export function figure(value: number): string {
  if (Math.abs(value) >= 1000) return Math.round(value).toString();
  return Number(value.toPrecision(4)).toString();
}
