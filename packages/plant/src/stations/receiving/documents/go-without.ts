import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { meltIdSchema } from '../announce-input.ts';
import { consignments } from '../books.ts';
import { consignmentUnknown } from '../drum-refusals.ts';
import type { AwaitedCertificate } from './books.ts';
import { CertificateForgone } from './entries.ts';
import { awaitedOf } from './read-model.ts';
import { documentRefusals } from './refusals.ts';

const withoutInput = z.strictObject({
  consignment: idSchema.meta({ title: 'Consignment' }),
  melts: z
    .array(meltIdSchema, 'a list of melts')
    .min(1, 'at least one melt')
    .max(500, 'at most 500 melts')
    .refine((melts) => new Set(melts).size === melts.length, { error: 'each melt once' })
    .meta({ title: 'Melts', description: 'That go without a certificate.' }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'Why none is waited for any more.' }),
});

type WithoutInput = z.infer<typeof withoutInput>;

interface WithoutFacts {
  readonly isKnown: boolean;
  readonly awaited: readonly AwaitedCertificate[];
}

async function withoutFacts(books: BookReader, input: WithoutInput): Promise<WithoutFacts> {
  const { consignment } = input;
  return {
    isKnown: (await books.get(consignments, consignment)) !== undefined,
    awaited: await awaitedOf(books, consignment),
  };
}

function notAwaited(input: WithoutInput, { awaited }: WithoutFacts): readonly Refusal[] {
  const waiting = new Set(awaited.map(({ melt }) => melt));
  return input.melts.flatMap((melt, index) =>
    waiting.has(melt)
      ? []
      : refuse(documentRefusals, 'CertificateNotAwaited', {
          message: `Nobody waits for a certificate of melt ${melt} in consignment ${input.consignment}.`,
          field: `melts.${index}`,
          figures: { consignment: input.consignment, melt, awaited: [...waiting] },
        }),
  );
}

function decideWithout(input: WithoutInput, facts: WithoutFacts): Decision {
  if (!facts.isKnown) return { refusals: [consignmentUnknown(input.consignment)] };
  const refusals = notAwaited(input, facts);
  if (refusals.length > 0) return { refusals };
  return { entries: [draft(CertificateForgone, input)] };
}

/** Says that melts go without a material certificate. */
export const goWithoutCertificate = defineCommand({
  command: 'go-without-certificate',
  station: 'receiving',
  title: 'Go without a material certificate',
  input: withoutInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: withoutFacts,
  decide: decideWithout,
});
