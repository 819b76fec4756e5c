import { impurityTableCheckInput } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import {
  finenessSlip,
  idSchema,
  type PieceStandard,
  pieceStandardOf,
  reasonSchema,
  titleSchema,
} from '../../registers/index.ts';
import { meltIdSchema } from '../announce-input.ts';
import { type Consignment, consignments, type Melt, melts, supplierFinenesses } from '../books.ts';
import { keptFileSchema } from '../difference/bodies.ts';
import { consignmentUnknown } from '../drum-refusals.ts';
import type { MaterialCertificate } from './books.ts';
import { contentUnits } from './content.ts';
import { MaterialCertificateAttached } from './entries.ts';
import {
  foundMilligramsPerKilogram,
  isWithinWhole,
  judgeCertificate,
} from './judge-certificate.ts';
import { certificatesOf } from './read-model.ts';
import { documentRefusals } from './refusals.ts';

const finenessAccepted = 'a fineness above 0 ‰ and at most 1000 ‰, or nothing';
const contentAccepted = 'a content from 0 to 1000000';

const statedContent = z.strictObject({
  element: impurityTableCheckInput.shape.contents.element.shape.element,
  content: z
    .number(contentAccepted)
    .min(0, contentAccepted)
    .max(1_000_000, contentAccepted)
    .meta({ title: 'Content' }),
  unit: z.enum(contentUnits, `one of ${contentUnits.join(', ')}`).meta({ title: 'Unit' }),
  isBelow: z.boolean('true or false').meta({
    title: 'Below',
    description: 'True where the certificate states no more than that it is below.',
  }),
});

const statedMelt = z
  .strictObject({
    melt: meltIdSchema,
    finenessPerMille: z
      .number(finenessAccepted)
      .positive(finenessAccepted)
      .max(1000, finenessAccepted)
      .nullable()
      .meta({ title: 'Fineness', description: 'Nothing where none is stated.', unit: '‰' }),
    composition: z
      .array(statedContent, 'a list of contents')
      .max(117, 'at most 117 contents')
      .meta({ title: 'Composition' }),
  })
  .superRefine(({ composition }, context) => {
    const elements = composition.map(({ element }) => element);
    for (const [index, element] of elements.entries()) {
      if (elements.indexOf(element) === index) continue;
      const path = ['composition', index, 'element'];
      context.addIssue({ code: 'custom', path, message: 'each element once' });
    }
  });

const attachInput = z
  .strictObject({
    consignment: idSchema.meta({ title: 'Consignment', description: 'That it came with.' }),
    document: titleSchema.meta({
      title: 'Document',
      description: 'What the certificate is called.',
    }),
    file: keptFileSchema.meta({ title: 'File', description: 'The certificate as it came.' }),
    melts: z
      .array(statedMelt, 'a list of melts')
      .min(1, 'at least one melt')
      .max(500, 'at most 500 melts'),
    correction: reasonSchema.nullable().meta({
      title: 'Correction',
      description: 'Why the same file is entered again; nothing for a new one.',
    }),
  })
  .superRefine((input, context) => {
    const named = input.melts.map(({ melt }) => melt);
    for (const [index, melt] of named.entries()) {
      if (named.indexOf(melt) === index) continue;
      context.addIssue({
        code: 'custom',
        path: ['melts', index, 'melt'],
        message: 'each melt once',
      });
    }
  });

type AttachInput = z.infer<typeof attachInput>;

interface AttachFacts {
  readonly consignment: Consignment | undefined;
  readonly standard: PieceStandard | undefined;
  readonly melts: readonly Melt[];
  readonly certificates: readonly MaterialCertificate[];
  /** Fineness by melt as the packing list states it. */
  readonly listed: ReadonlyMap<string, number>;
}

async function attachFacts(books: BookReader, input: AttachInput): Promise<AttachFacts> {
  const consignment = await books.get(consignments, input.consignment);
  const own = await books.select(melts, { by: 'byConsignment', prefix: [input.consignment] });
  const certificates = await certificatesOf(books, input.consignment);
  const certified = new Set(certificates.map(({ entry }) => entry));
  const listed = new Map<string, number>();
  for (const { melt } of own) {
    const row = await books.get(supplierFinenesses, melt);
    if (row && !certified.has(row.entry)) listed.set(melt, row.supplierFinenessPerMille);
  }
  return {
    consignment,
    standard: consignment && (await pieceStandardOf(books, consignment.pieceStandard)),
    melts: own,
    certificates,
    listed,
  };
}

function fileRefusals(
  input: AttachInput,
  earlier: MaterialCertificate | undefined,
): readonly Refusal[] {
  if (!earlier || input.correction !== null) return [];
  return [
    refuse(documentRefusals, 'CertificateAlreadyAttached', {
      message: `${earlier.document} of consignment ${input.consignment} is the same file, attached in entry ${earlier.entry}.`,
      field: 'file',
      figures: { consignment: input.consignment, entry: earlier.entry },
    }),
  ];
}

function wholeRefusals(input: AttachInput): readonly Refusal[] {
  return input.melts.flatMap((stated, index) => {
    if (isWithinWhole(stated)) return [];
    const found = foundMilligramsPerKilogram(stated);
    return refuse(documentRefusals, 'CompositionBeyondWhole', {
      message: `The contents of melt ${stated.melt} add up to ${found / 10_000} %.`,
      field: `melts.${index}.composition`,
      figures: { melt: stated.melt, sumPercent: found / 10_000 },
    });
  });
}

/** A fineness that is no figure in ‰. */
function finenessRefusals(input: AttachInput, standard: PieceStandard): readonly Refusal[] {
  return input.melts.flatMap(({ melt, finenessPerMille }, index) =>
    finenessPerMille === null
      ? []
      : finenessSlip({
          of: `Melt ${melt}`,
          field: `melts.${index}.finenessPerMille`,
          finenessPerMille,
          declaredPerMille: standard.finenessDeclaredPartsPerMillion / 1000,
        }),
  );
}

function decideAttachment(input: AttachInput, facts: AttachFacts): Decision {
  const { consignment, standard } = facts;
  if (!consignment || !standard) return { refusals: [consignmentUnknown(input.consignment)] };
  const own = new Set(facts.melts.map(({ melt }) => melt));
  const known = input.melts.filter(({ melt }) => own.has(melt));
  const strange = input.melts.filter(({ melt }) => !own.has(melt)).map(({ melt }) => melt);
  if (known.length === 0) {
    const refusal = refuse(documentRefusals, 'CertificateNamesNoMelt', {
      message: `The certificate names ${strange.join(', ')}; consignment ${input.consignment} holds ${[...own].join(', ')}.`,
      field: 'melts',
      figures: { consignment: input.consignment, strange, melts: [...own] },
    });
    return { refusals: [refusal] };
  }
  const earlier = facts.certificates.find(({ sha256 }) => sha256 === input.file.sha256);
  const refusals = [
    ...fileRefusals(input, earlier),
    ...wholeRefusals(input),
    ...finenessRefusals(input, standard),
  ];
  if (refusals.length > 0) return { refusals };
  const named = new Set([
    ...known.map(({ melt }) => melt),
    ...facts.certificates.filter((one) => one !== earlier).flatMap((one) => one.melts),
  ]);
  const missing = facts.melts
    .filter(({ melt, state }) => !named.has(melt) && state !== 'returned')
    .map(({ melt }) => melt);
  const body = {
    consignment: input.consignment,
    supplier: consignment.supplier,
    document: input.document,
    file: input.file,
    melts: known.map((stated) => judgeCertificate(stated, standard, facts.listed.get(stated.melt))),
    strange,
    missing,
  };
  const correction =
    earlier && input.correction !== null
      ? { corrects: earlier.entry, reason: input.correction }
      : {};
  return {
    entries: [draft(MaterialCertificateAttached, body, correction)],
    // Nothing of what it states: the answer is shown to whoever asked, over whose shoulder many look.
    answer: { consignment: input.consignment, melts: known.length, strange, missing },
  };
}

/** Keeps a supplier's material certificate, with what it says of each melt under a cover. */
export const attachCertificate = defineCommand({
  command: 'attach-certificate',
  station: 'receiving',
  title: 'Attach a material certificate',
  input: attachInput,
  roles: ['custodian'],
  signature: 'none',
  facts: attachFacts,
  decide: decideAttachment,
});
