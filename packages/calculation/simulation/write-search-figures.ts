import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type SearchFigures, searchFigures } from './search-figures.ts';
import { easyScenario, hardScenario, type ModelOptions } from './search-scenario.ts';

/*
 * Measures whether the search for a missing piece says what is true: simulates shifts, looks at those
 * that a plant would look at, and compares the probabilities with what was wrong. Writes the document
 * with its plot. `npm run search-figures [shifts]`; by default 30000 shifts that a plant would look at, of
 * about 200000 drawn, in each scenario: about a quarter of an hour.
 */

const shifts = Number(process.argv[2] ?? 30_000);
const documents = join(import.meta.dirname, '../../../docs');

function bandsTable(figures: SearchFigures): string {
  const rows = figures.bands
    .filter(({ count }) => count > 0)
    .map(({ count, predicted, observed, standardError }) => {
      const off = (observed - predicted) / standardError;
      return `| ${predicted.toFixed(4)} | ${observed.toFixed(4)} | ${count} | ${off.toFixed(1)} |`;
    });
  return [
    '| predicted | observed | faults | difference in standard errors |',
    '|---:|---:|---:|---:|',
    ...rows,
  ].join('\n');
}

function section(name: string, figures: SearchFigures): string {
  const { traced, minutes, noFault } = figures;
  const share = (100 * traced.amongFirstTwo) / traced.count;
  return [
    `## ${name}`,
    '',
    `${figures.shifts} shifts that a plant would look at, of ${figures.drawn} drawn.`,
    '',
    bandsTable(figures),
    '',
    `- Nothing wrong: predicted ${noFault.predicted.toFixed(4)}, observed ${noFault.observed.toFixed(4)}.`,
    `- Single faults whose container lies more than 3 standard uncertainties off: ${traced.count}; first or second in the ranking ${share.toFixed(1)} %.`,
    `- Single faults that leave a residual: ${minutes.count}; found after ${minutes.ours.toFixed(1)} min on average in this order, after ${minutes.habitual.toFixed(1)} min from the last station backwards: ${((100 * minutes.ours) / minutes.habitual).toFixed(0)} %.`,
    '',
  ].join('\n');
}

const size = 320;
const margin = 40;
const place = (value: number): number => margin + value * size;

function dots(figures: SearchFigures, mark: string): string {
  return figures.bands
    .filter(({ count }) => count > 0)
    .map(({ predicted, observed, standardError }) => {
      const x = place(predicted).toFixed(1);
      const y = place(1 - observed).toFixed(1);
      const low = place(1 - Math.max(0, observed - 3 * standardError)).toFixed(1);
      const high = place(1 - Math.min(1, observed + 3 * standardError)).toFixed(1);
      return `<path d="M${x} ${low}V${high}" stroke="#5d646b"/><circle cx="${x}" cy="${y}" r="3.5" ${mark}/>`;
    })
    .join('\n');
}

/** Predicted against observed; on the line a probability means what it says. */
function plot(hard: SearchFigures, easy: SearchFigures): string {
  const whole = size + 2 * margin;
  const ticks = [0, 0.25, 0.5, 0.75, 1]
    .map(
      (tick) =>
        `<text x="${place(tick)}" y="${place(1) + 18}" text-anchor="middle">${tick}</text><text x="${margin - 8}" y="${place(1 - tick) + 4}" text-anchor="end">${tick}</text>`,
    )
    .join('\n');
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${whole + 20} ${whole + 20}" font-family="sans-serif" font-size="12" role="img">
<title>Predicted against observed probability of faults</title>
<rect width="${whole + 20}" height="${whole + 20}" fill="#f6f4ee"/>
<path d="M${place(0)} ${place(1)}L${place(1)} ${place(0)}" stroke="#1b6b5f"/>
<path d="M${margin} ${margin}V${place(1)}H${place(1)}" fill="none" stroke="#1f2327"/>
${ticks}
<text x="${place(0.5)}" y="${place(1) + 36}" text-anchor="middle">predicted</text>
<text x="${margin}" y="${margin - 14}">observed, with three standard errors</text>
${dots(hard, 'fill="#1f2327"')}
${dots(easy, 'fill="#f6f4ee" stroke="#1f2327" stroke-width="1.5"')}
</svg>
`;
}

const fewer = Math.max(500, Math.round(shifts / 10));
const wrongModels: readonly (readonly [string, ModelOptions])[] = [
  ['no term for bad weighings', { withBadWeighings: false }],
  ['lot mean ignored', { withLotMean: false }],
  ['all rates five times too high', { rateFactor: 5 }],
  ['all rates five times too low', { rateFactor: 0.2 }],
];

function wrongRow([name, model]: readonly [string, ModelOptions]): string {
  const { bands } = searchFigures(hardScenario, { shifts: fewer, seed: 303, model });
  const words = (at: number): string => {
    const band = bands[at];
    if (!band || band.count === 0) return '–';
    return `${band.predicted.toFixed(3)} / ${band.observed.toFixed(3)}`;
  };
  return `| ${name} | ${words(7)} | ${words(14)} |`;
}

const hard = searchFigures(hardScenario, { shifts, seed: 301 });
const easy = searchFigures(easyScenario, { shifts, seed: 302 });
const text = [
  '# Does the search say what is true?',
  '',
  'The probabilities of the search are compared with what was wrong in simulated shifts: a chain of four bins, two presses, 99 tubes, rejects, a sample and a loose rest. Faults happen at the rates that the model assumes; lot mean, gain of the scales, tares, rounding and worthless weighings are drawn anew in each shift. Shifts are chosen by what a plant sees (a residual, or a container more than 4 standard uncertainties off), never by what is true. Made by `npm run search-figures`; a short run with a seed of its own is a test.',
  '',
  '![Predicted against observed: filled for small gold with loose tares, open for silver ounces](pictures/search-reliability.svg)',
  '',
  section(`Hard: ${hardScenario.name}`, hard),
  section(`Easy: ${easyScenario.name}`, easy),
  '## What makes it over-confident',
  '',
  `The hard scenario with a wrong model, ${fewer} shifts each: predicted and observed in the band from 0.5 to 0.6 and above 0.999.`,
  '',
  '| model | 0.5 to 0.6 | above 0.999 |',
  '|---|---|---|',
  ...wrongModels.map(wrongRow),
  '',
  'In a plant the rates are guesses until causes have been confirmed: the table of kinds on the desk of the search shows from how many cases each is known.',
  '',
].join('\n');

writeFileSync(join(documents, 'SEARCH-FIGURES.md'), text);
writeFileSync(join(documents, 'pictures', 'search-reliability.svg'), plot(hard, easy));
console.log(text);
