import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { checkAuthority, coreRefusals, inputRefusals } from './authority.ts';
import { type Command, defineCommand, type Person, type Role } from './station.ts';
import { makeTrial } from './trial.ts';
import { trialStation } from './trial-station.ts';

const person = (id: string, roles: readonly Role[], active = true): Person => ({
  person: id,
  name: id,
  roles,
  active,
});

const command = (signature: Command['signature']): Command =>
  defineCommand({
    command: 'pack-box',
    station: 'put-up',
    title: 'Pack a box',
    input: z.strictObject({}),
    roles: ['custodian'],
    signature,
    witnessRoles: ['custodian', 'chief assayer'],
    facts: async () => undefined,
    decide: () => ({ entries: [] }),
  });

interface Case {
  readonly what: string;
  readonly signature: Command['signature'];
  readonly author: Person | undefined;
  readonly signed: boolean;
  /** Who came along as second person; `null` when someone came whom nobody knows. */
  readonly witness?: Person | null;
  readonly refusal: keyof typeof coreRefusals | undefined;
}

const custodian = person('Ada', ['custodian']);
const chief = person('Bo', ['chief assayer']);
const inspector = person('Cy', ['inspector']);
const gone = person('Ada', ['custodian'], false);
const both = 'author and witness' as const;

/** Every refusal of authority once, each with all those behind it in the order provoked as well. */
const cases: readonly Case[] = [
  {
    what: 'an unknown author',
    signature: both,
    author: undefined,
    signed: false,
    refusal: 'PersonUnknown',
  },
  {
    what: 'an author who has left',
    signature: both,
    author: gone,
    signed: false,
    refusal: 'PersonUnknown',
  },
  {
    what: 'an author without the role',
    signature: both,
    author: inspector,
    signed: false,
    refusal: 'RoleMissing',
  },
  {
    what: 'an author with no role at all',
    signature: 'none',
    author: person('Di', []),
    signed: true,
    refusal: 'RoleMissing',
  },
  {
    what: 'an author who has not signed',
    signature: both,
    author: custodian,
    signed: false,
    refusal: 'SignatureMissing',
  },
  {
    what: 'an author who alone has to sign and has not',
    signature: 'author',
    author: custodian,
    signed: false,
    refusal: 'SignatureMissing',
  },
  {
    what: 'no second person',
    signature: both,
    author: custodian,
    signed: true,
    refusal: 'WitnessMissing',
  },
  {
    what: 'a second person whom nobody knows',
    signature: both,
    author: custodian,
    signed: true,
    witness: null,
    refusal: 'WitnessMissing',
  },
  {
    what: 'a second person who has left',
    signature: both,
    author: custodian,
    signed: true,
    witness: person('Eve', ['custodian'], false),
    refusal: 'WitnessMissing',
  },
  {
    what: 'the author as his own witness',
    signature: both,
    author: custodian,
    signed: true,
    witness: custodian,
    refusal: 'WitnessIsAuthor',
  },
  {
    what: 'a second person without the role',
    signature: both,
    author: custodian,
    signed: true,
    witness: inspector,
    refusal: 'WitnessRoleMissing',
  },
  {
    what: 'a second person without the role where none is needed',
    signature: 'none',
    author: custodian,
    signed: false,
    witness: inspector,
    refusal: 'WitnessRoleMissing',
  },
  {
    what: 'the author as witness where none is needed',
    signature: 'author',
    author: custodian,
    signed: true,
    witness: custodian,
    refusal: 'WitnessIsAuthor',
  },
  {
    what: 'two people who may',
    signature: both,
    author: custodian,
    signed: true,
    witness: chief,
    refusal: undefined,
  },
  {
    what: 'one person who may and has signed',
    signature: 'author',
    author: custodian,
    signed: true,
    refusal: undefined,
  },
  {
    what: 'one person who may and need not sign',
    signature: 'none',
    author: custodian,
    signed: false,
    refusal: undefined,
  },
];

describe('authority', () => {
  it.each(cases)('of $what: $refusal', ({ signature, author, signed, witness, refusal }) => {
    const request = { author: author?.person ?? 'Nobody', signed };
    const named = witness === undefined ? request : { ...request, witness: witness?.person ?? 'x' };
    const circumstances = {
      plant: 'trial',
      author,
      witness: witness ?? null,
      instant: '2026-03-02T07:00:00.000Z',
      shift: '2026-03-02-early',
      nextNumber: 1,
    };
    const refusals = checkAuthority(command(signature), named, circumstances);
    expect(refusals.map((one) => one.refusal)).toEqual(refusal ? [refusal] : []);
    for (const one of refusals) {
      expect(one.message).toMatch(/^[A-Z].*\.$/s);
      expect(one.nextStep).toBe(coreRefusals[refusal as keyof typeof coreRefusals].nextStep);
    }
  });
});

describe('precedence of refusals', () => {
  const close = async (input: unknown, author: string, witness?: string) => {
    const trial = await makeTrial([trialStation]);
    const outcome = await trial.do('trial-close-count', input, author, witness);
    return outcome.outcome === 'refused' ? outcome.refusals.map((one) => one.refusal) : [];
  };

  it('is: input before person, person before role, role before witness', async () => {
    expect(await close({ words: 1 }, 'nobody')).toEqual(['InputNotAccepted']);
    expect(await close({ words: 'w' }, 'nobody')).toEqual(['PersonUnknown']);
    expect(await close({ words: 'w' }, 'auditor')).toEqual(['RoleMissing']);
    expect(await close({ words: 'w' }, 'custodian')).toEqual(['WitnessMissing']);
    expect(await close({ words: 'w' }, 'custodian', 'chief')).toEqual([]);
  });
});

describe('refusals of input', () => {
  const schema = z.strictObject({
    melt: z.string('a melt'),
    grams: z.number('a number of grams').positive('above 0'),
  });
  const refusalsOf = (input: unknown) => {
    const parsed = schema.safeParse(input);
    return parsed.success ? [] : inputRefusals(parsed.error, input);
  };

  it.each<[string, unknown, unknown]>([
    ['missing', { melt: 'M-1' }, 'missing'],
    ['not a number', { melt: 'M-1', grams: Number.NaN }, 'NaN'],
    ['infinite', { melt: 'M-1', grams: Number.POSITIVE_INFINITY }, 'Infinity'],
    ['negative', { melt: 'M-1', grams: -2 }, -2],
    ['text for a number', { melt: 'M-1', grams: '2' }, '2'],
    ['a list', { melt: 'M-1', grams: [2] }, '[2]'],
  ])('show a value that is %s', (_what, input, value) => {
    const [refusal, ...more] = refusalsOf(input);
    expect(refusal).toMatchObject({
      refusal: 'InputNotAccepted',
      field: 'grams',
      figures: { value },
    });
    expect(refusal?.figures.accepted).toMatch(/grams|above 0/);
    expect(more).toEqual([]);
  });

  it('show the beginning of a long value, and no more than 50 problems', () => {
    const [refusal] = refusalsOf({ melt: 'M-1', grams: '2'.repeat(100_000) });
    expect(refusal?.figures.value).toBe(`${'2'.repeat(200)}…`);
    expect(refusal?.message.length).toBeLessThan(300);
    const list = z.array(z.number('a number'));
    const parsed = list.safeParse(Array.from({ length: 10_000 }, () => 'x'));
    const refusals = parsed.success ? [] : inputRefusals(parsed.error, []);
    expect(refusals).toHaveLength(50);
  });

  it('tell of a field once: what is no number is not also told as too small', () => {
    const form = z.strictObject({
      reason: z
        .string()
        .min(3, '3 characters')
        .refine((text) => text.trim().length >= 3, '3 characters'),
    });
    const input = { reason: 'a' };
    const parsed = form.safeParse(input);
    expect(parsed.success ? [] : inputRefusals(parsed.error, input)).toMatchObject([
      { field: 'reason', message: 'reason is a: 3 characters.' },
    ]);
  });

  it('call nothing where something belongs missing', () => {
    expect(refusalsOf({ melt: 'M-1', grams: null })[0]?.message).toMatch(/^grams is missing: /);
  });

  it('name a field that nobody knows', () => {
    expect(refusalsOf({ melt: 'M-1', grams: 2, ounces: 3 })).toMatchObject([
      {
        field: 'ounces',
        message: 'ounces is 3: no field of this name.',
        figures: { value: 3, accepted: 'no field of this name' },
      },
    ]);
  });

  it('name the input as a whole when it is no object', () => {
    expect(refusalsOf('grams')).toMatchObject([{ field: 'input' }]);
    expect(refusalsOf(undefined)).toMatchObject([{ field: 'input' }]);
  });
});
