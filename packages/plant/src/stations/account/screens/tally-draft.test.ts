import { describe, expect, it } from 'vitest';
import { emptyLine, rackTallyInput, tallyInput } from './tally-draft.ts';

const weighed = { text: '216.03', unit: 'g', typed: false } as const;

describe('a tally as the command takes it', () => {
  it('names the balance beside what was weighed and nowhere else', () => {
    const draft = {
      lines: { heron: { ...emptyLine, pieces: '176' }, lantern: { pieces: '18', gross: weighed } },
      added: [],
    };
    expect(tallyInput('put-up', ['heron', 'lantern'], { draft, balance: 'BAL-1' })).toEqual({
      place: 'put-up',
      lines: [
        { pieceStandard: 'heron', pieces: 176, gross: null, instrument: null },
        { pieceStandard: 'lantern', pieces: 18, gross: weighed, instrument: 'BAL-1' },
      ],
    });
  });

  it('sends what was not counted as nothing, and what is no number as it was typed', () => {
    const draft = { lines: { heron: { ...emptyLine, pieces: 'many' } }, added: [] };
    const { lines } = tallyInput('put-up', ['heron', 'lantern'], { draft, balance: '' });
    expect(lines.map(({ pieces }) => pieces)).toEqual(['many', null]);
  });

  it('drops beside the racks only lines of which nothing is typed', () => {
    const draft = {
      lines: { heron: emptyLine, lantern: { pieces: '', gross: weighed } },
      added: [],
    };
    const { beside } = rackTallyInput('put-up', ['heron', 'lantern'], { draft, balance: 'BAL-1' });
    expect(beside).toMatchObject([{ pieceStandard: 'lantern', pieces: null, gross: weighed }]);
  });
});
