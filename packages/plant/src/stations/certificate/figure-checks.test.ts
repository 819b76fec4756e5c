import { describe, expect, it } from 'vitest';
import type { CertificateContent } from './content.ts';
import { checkFigures } from './figure-checks.ts';
import { trialContent } from './trial-content.ts';

describe('checkFigures', () => {
  const failures = (change: (content: CertificateContent) => void) => {
    const content = structuredClone(trialContent(1));
    change(content);
    return checkFigures(content)
      .filter((one) => !one.holds)
      .map((one) => [one.check, one.words] as const);
  };

  it('finds nothing wrong with a sound certificate', () => {
    expect(failures(() => {})).toEqual([]);
  });

  it('names a reading that is not the one that was computed with', () => {
    const found = failures(({ melts }) => {
      const reading = melts[0]?.readings[5]?.reading;
      if (reading) reading.text = '225.521';
    });
    expect(found).toEqual([
      [
        'melt M-2601: readings',
        'portion a, cornet, was read as 225.521 mg, but cupellation M-2601-R1 was given 225.512 as input.samples.0.cornetMassMilligrams.',
      ],
    ]);
  });

  it('names the first figure of a calculation that comes out otherwise', () => {
    const found = failures(({ melts }) => {
      const input = melts[0]?.calculations[0]?.calculated.input as {
        samples: { cornetMassMilligrams: number }[];
      };
      const [sample] = input.samples;
      if (sample) sample.cornetMassMilligrams = 225.521;
    });
    expect(found.map(([check]) => check)).toEqual([
      'melt M-2601: calculations',
      'melt M-2601: readings',
      'melt M-2601: links',
    ]);
    expect(found[0]?.[1]).toContain('cupellation M-2601-R1 (entry 31): output.');
  });

  it('says where sentences differ, which an earlier edition worded otherwise, and holds the figures', () => {
    const content = structuredClone(trialContent(1));
    const calculated = content.melts[0]?.calculations.at(-1)?.calculated;
    if (!calculated) throw new Error('the certificate has no calculation');
    calculated.output = { ...calculated.output, words: 'Probability of conformity 1.0000.' };
    const check = checkFigures(content).find((one) => one.check.endsWith(': calculations'));
    expect(check?.holds).toBe(true);
    expect(check?.words).toMatch(/This program words otherwise: verdict\.$/);
    calculated.output = { ...calculated.output, conformanceProbability: 1 };
    const altered = checkFigures(content).find((one) => one.check.endsWith(': calculations'));
    expect(altered?.holds).toBe(false);
  });

  it.each<[string, (content: CertificateContent) => void, string]>([
    [
      'a result',
      ({ melts: [melt] }) => {
        if (melt) melt.result.finenessPerMille += 0.1;
      },
      'melt M-2601: result',
    ],
    [
      'a verdict',
      ({ melts: [melt] }) => {
        if (melt) melt.decision.verdict = 'undecided';
      },
      'melt M-2601: result',
    ],
    [
      'a limit',
      ({ pieceStandard }) => {
        pieceStandard.finenessLimitPerMille = 899;
      },
      'melt M-2601: result',
    ],
    [
      'a determination',
      ({ melts }) => {
        const [one] = melts[0]?.determinations ?? [];
        if (one) one.finenessPerMille += 0.1;
      },
      'melt M-2601: links',
    ],
    [
      'a blank judged wrong',
      ({ melts }) => {
        const [blank] = melts[0]?.physical.blanks ?? [];
        if (blank) blank.mass = { text: '19.999', unit: 'g', typed: false };
      },
      'melt M-2601: physical checks',
    ],
    [
      'a weighing',
      ({ boxes }) => {
        const [weighing] = boxes[0]?.tubes[0]?.weighings ?? [];
        if (weighing) weighing.gross = { text: '392.1', unit: 'g', typed: false };
      },
      'box B-001: weighings',
    ],
    [
      'the mass of a box',
      ({ boxes: [box] }) => {
        if (box) box.boxGross.text = '4900.0';
      },
      'box B-001: weighings',
    ],
    [
      'the pieces of a tube',
      ({ boxes }) => {
        const [tube] = boxes[0]?.tubes ?? [];
        if (tube) tube.pieces = 19;
      },
      'box B-001: weighings',
    ],
    [
      'a fine mass',
      ({ boxes }) => {
        const [part] = boxes[0]?.parts ?? [];
        if (part) part.fineMicrograms += 1;
      },
      'sums',
    ],
    ['a melt left out', (content) => content.melts.pop(), 'sums'],
  ])('finds %s that does not fit', (_what, change, check) => {
    expect(failures(change).map(([name]) => name)).toContain(check);
  });

  it('names a part of an uncertainty that the budget of the run does not give', () => {
    const found = failures(({ melts }) => {
      const input = melts[0]?.calculations[2]?.calculated.input as {
        determinations: Record<string, number>[];
      };
      const [one] = input.determinations;
      if (one) one.runStandardUncertaintyPerMille = 0;
    });
    const links = found.find(([check]) => check === 'melt M-2601: links');
    expect(links?.[1]).toContain(
      'uncertainty input.determinations.0.runStandardUncertaintyPerMille',
    );
  });

  it('says so when it does not know a calculation or knows another version of it', () => {
    const [unknown] = failures(({ melts }) => {
      const calculated = melts[0]?.calculations[3]?.calculated;
      if (calculated) calculated.calculation = 'tarot';
    });
    expect(unknown?.[1]).toContain('this program does not know the calculation tarot');
    const [older] = failures(({ melts }) => {
      const calculated = melts[0]?.calculations[3]?.calculated;
      if (calculated) calculated.version = 7;
    });
    expect(older?.[1]).toContain('it was computed by version 7; this program computes version 1');
  });
});
