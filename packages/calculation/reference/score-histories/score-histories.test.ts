import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { scoreHistory } from '../../src/control/precision/score-history.ts';
import figures from './figures.json' with { type: 'json' };

const rows = readFileSync(new URL('./allergens.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','));

describe('scores of one laboratory for three allergens', () => {
  it.each(Object.entries(figures.per_allergen))(
    'allergen %s: figures computed with R',
    (allergen, right) => {
      const output = scoreHistory({
        participant: 'One laboratory',
        characteristic: `Allergen ${allergen}`,
        rounds: rows
          .filter((row) => row[0] === allergen)
          .map((row) => ({ name: `${row[1]} ${row[2]}`, z: Number(row[3]) })),
      });
      expect(output.roundCount).toBe(right.n);
      expect(output.meanScore).toBeCloseTo(right.mean_z, 10);
      expect(output.standardDeviation).toBeCloseTo(right.sd_z, 9);
      expect(output.warningCount).toBe(right.warning_2_to_3);
      expect(output.actionCount).toBe(right.action_3);
      expect(output.signals.filter((one) => one.signal === 'beyond-action').length).toBe(
        right.action_3,
      );
    },
  );
});
