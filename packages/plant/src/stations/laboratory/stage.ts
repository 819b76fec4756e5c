import type { TrialRow } from './books.ts';

/** Where a melt is in the laboratory: what has to be done next, or how it ended. */
export const stages = [
  'to be measured',
  'to be cut',
  'to be assayed',
  'to be signed',
  'to be checked',
  'to be ruled',
  'held',
  'released',
  'released by concession',
  'refused',
  'returned',
] as const;

export type Stage = (typeof stages)[number];

/** Stages at which somebody still has to do something. */
export const openStages: readonly Stage[] = stages.slice(0, 7);

const stageOfRuling = {
  release: 'released',
  concession: 'released by concession',
  refuse: 'refused',
  hold: 'held',
} as const;

/** Two determinations are the fewest that a result can be made of. */
const fewestDeterminations = 2;

/** The stage that follows from the facts of a trial. */
export function stageOf(trial: Omit<TrialRow, 'stage' | 'since'>): Stage {
  if (trial.returned !== null) return 'returned';
  if (trial.ruling !== null) return stageOfRuling[trial.ruling];
  if (trial.resultState === 'signed') return 'to be checked';
  if (trial.physical === 'open') return 'to be measured';
  if (trial.resultState === 'checked') return 'to be ruled';
  if (trial.determinationsValid >= fewestDeterminations) return 'to be signed';
  return trial.blanksCut === 0 ? 'to be cut' : 'to be assayed';
}

/** Whether the chief assayer's ruling has closed the trial; a melt on hold is not closed. */
export function isClosed(trial: Pick<TrialRow, 'ruling' | 'returned'>): boolean {
  return trial.returned !== null || (trial.ruling !== null && trial.ruling !== 'hold');
}

/** Whether the impurity table of the standard is not answered yet, one way or the other. */
export function areImpuritiesOpen(state: TrialRow['impurities']): boolean {
  return state === 'undecided' || state === 'not determined';
}

/**
 * Whether determinations may still be added: until a result is signed, and after it where the
 * verdict or the impurities are undecided, or the chief assayer holds the melt. A result that passes or fails is not
 * worked on until it says something else.
 */
export function isOpenForAssay(
  trial: Pick<TrialRow, 'ruling' | 'returned' | 'resultState' | 'verdict' | 'impurities'>,
): boolean {
  if (isClosed(trial)) return false;
  if (trial.resultState === 'none' || trial.ruling === 'hold') return true;
  return trial.verdict === 'undecided' || areImpuritiesOpen(trial.impurities);
}
