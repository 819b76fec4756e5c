import { printNumber, type StateTone } from '../../../workbench/index.ts';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

/** How the stage of a melt asks for a hand. */
export function toneOfStage(trial: { readonly stage: string }): StateTone {
  if (trial.stage === 'held' || trial.stage === 'refused') return 'stopped';
  if (trial.stage.startsWith('to be')) return 'waits';
  return trial.stage === 'returned' ? 'plain' : 'done';
}

interface Step {
  readonly word: string;
  readonly isDone: boolean;
  readonly figures?: string;
}

function stepsOf(answer: TrialAnswer): readonly Step[] {
  const { physical, blanks, stage } = answer;
  const standing = standingResultOf(answer.results);
  const forAssay = blanks.filter((blank) => blank.forAssay);
  const cut = blanks.filter((blank) => blank.cut).length;
  const valid = answer.determinations.filter(({ state }) => state === 'valid').length;
  const of = (done: number, all: number) => `${printNumber(done)} of ${printNumber(all)}`;
  // Further blanks come after the sample is measured, and are measured before they are cut.
  const isSampleMeasured = physical.blanksMeasured >= physical.blanksForPhysical;
  const toMeasure = isSampleMeasured
    ? forAssay.filter((blank) => !blank.measurement && !blank.cut).length
    : 0;
  const isRuled = !stage.startsWith('to be');
  return [
    {
      word: 'measured',
      isDone: isSampleMeasured && toMeasure === 0,
      figures: of(physical.blanksMeasured, physical.blanksForPhysical + toMeasure),
    },
    {
      word: 'cut',
      isDone: cut >= forAssay.length,
      figures: of(cut, Math.max(cut, forAssay.length)),
    },
    { word: 'assayed', isDone: valid >= 2, figures: printNumber(valid) },
    { word: 'signed', isDone: standing !== undefined },
    { word: 'checked', isDone: standing?.state === 'checked' },
    { word: isRuled ? stage : 'ruled', isDone: isRuled },
  ];
}

/** The way of a melt through the laboratory in one line, and how far it has come. */
export function StageWay({ answer }: { readonly answer: TrialAnswer }) {
  return (
    <ol className="stage-way" aria-label="The way of the melt through the laboratory">
      {stepsOf(answer).map(({ word, isDone, figures }) => (
        <li key={word} className={isDone ? 'stage-done' : 'stage-open'}>
          <span className="stage-mark" aria-hidden="true">
            {isDone ? '✓' : '○'}
          </span>{' '}
          {isDone ? null : <span className="unseen">not yet </span>}
          {word}
          {figures ? <span className="faint"> {figures}</span> : null}
        </li>
      ))}
    </ol>
  );
}
