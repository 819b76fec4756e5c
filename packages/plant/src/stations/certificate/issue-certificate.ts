import { z } from 'zod';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { certificateContent } from './certificate-content.ts';
import { CertificateIssued } from './entries.ts';
import { type BoxFacts, type IssueFacts, issueFacts, type MeltFacts } from './issue-facts.ts';
import { certificateRefusals } from './refusals.ts';

export const boxList = z
  .array(idSchema, 'a list of boxes')
  .min(1, 'at least one box')
  .max(500, 'at most 500 boxes')
  .meta({ title: 'Boxes', description: 'Scan the labels of the boxes.' });

const issueInput = z.strictObject({
  certificate: idSchema.meta({ title: 'Certificate', description: 'A number never used before.' }),
  boxes: boxList,
  replaces: idSchema
    .nullable()
    .default(null)
    .meta({ title: 'Replaces', description: 'The withdrawn certificate that this one replaces.' }),
});

type IssueInput = z.infer<typeof issueInput>;

/** A refusal for each box that stands in the list before. */
export function repeatedBoxes(boxes: readonly string[]): readonly Refusal[] {
  return boxes.flatMap((box, index) =>
    boxes.indexOf(box) === index
      ? []
      : refuse(certificateRefusals, 'BoxRepeated', {
          message: `Box ${box} stands in line ${boxes.indexOf(box) + 1} and again in line ${index + 1}.`,
          field: `boxes.${index}`,
          figures: { box },
        }),
  );
}

function numberRefusals(input: IssueInput, facts: IssueFacts): readonly Refusal[] {
  const { certificate, replaces } = input;
  const { plant, existing, replaced } = facts;
  const unfounded = plant
    ? []
    : [refuse(certificateRefusals, 'PlantNotFounded', { message: 'The plant has no name yet.' })];
  const used = existing
    ? [
        refuse(certificateRefusals, 'CertificateAlreadyIssued', {
          message: `Certificate ${certificate} was issued in entry ${existing.entry}.`,
          field: 'certificate',
          figures: { certificate, entry: existing.entry },
        }),
      ]
    : [];
  const unknown =
    replaces !== null && !replaced
      ? [
          refuse(certificateRefusals, 'CertificateUnknown', {
            message: `There is no certificate ${replaces} to replace.`,
            field: 'replaces',
            figures: { certificate: replaces },
          }),
        ]
      : [];
  const standing =
    replaced?.state === 'valid'
      ? [
          refuse(certificateRefusals, 'ReplacedCertificateStands', {
            message: `Certificate ${replaces} of entry ${replaced.entry} still holds.`,
            field: 'replaces',
            figures: { certificate: replaces, entry: replaced.entry },
          }),
        ]
      : [];
  return [...unfounded, ...used, ...unknown, ...standing];
}

function boxRefusal({ box, row, certified }: BoxFacts, index: number): Refusal | undefined {
  const field = `boxes.${index}`;
  if (!row) {
    return refuse(certificateRefusals, 'BoxUnknown', {
      message: `Box ${box} has not been packed.`,
      field,
      figures: { box },
    });
  }
  if (certified?.dispatch) {
    return refuse(certificateRefusals, 'BoxGone', {
      message: `Box ${box} left with dispatch ${certified.dispatch}.`,
      field,
      figures: { box, dispatch: certified.dispatch },
    });
  }
  if (!certified?.certificate) return undefined;
  return refuse(certificateRefusals, 'BoxAlreadyCertified', {
    message: `Certificate ${certified.certificate} holds for box ${box}.`,
    field,
    figures: { box, certificate: certified.certificate },
  });
}

function mixedRefusals(facts: IssueFacts): readonly Refusal[] {
  const standards = [...new Set(facts.boxes.flatMap(({ row }) => row?.pieceStandard ?? []))];
  if (standards.length < 2) return [];
  return [
    refuse(certificateRefusals, 'PieceStandardsMixed', {
      message: `The boxes hold ${standards.join(' and ')}.`,
      field: 'boxes',
      figures: { pieceStandards: standards },
    }),
  ];
}

function meltRefusal({ melt, result, ruling, openHolds }: MeltFacts): Refusal | undefined {
  if (!result) {
    return refuse(certificateRefusals, 'MeltWithoutResult', {
      message: `Melt ${melt} has no result that is signed and checked.`,
      figures: { melt },
    });
  }
  const { verdict } = result.result.body;
  const released = ruling?.ruling === 'release' || ruling?.ruling === 'concession';
  if (verdict !== 'passes' || !released) {
    return refuse(certificateRefusals, 'MeltNotPassed', {
      message: `Melt ${melt}: verdict ${verdict}, ruling ${ruling?.ruling ?? 'none'}.`,
      figures: { melt, verdict, ruling: ruling?.ruling ?? null },
    });
  }
  if (openHolds.length === 0) return undefined;
  return refuse(certificateRefusals, 'HoldOpen', {
    message: `${openHolds.length === 1 ? 'Hold' : 'Holds'} ${openHolds.join(', ')} of the press room ${openHolds.length === 1 ? 'reaches' : 'reach'} melt ${melt}.`,
    figures: { melt, holds: [...openHolds] },
  });
}

/** Nothing is certified on results whose lot or instrument was found wrong afterwards. */
function resultsInDoubt({ melt, doubts }: MeltFacts): readonly Refusal[] {
  return doubts.map(({ what, entry, hold }) =>
    refuse(certificateRefusals, 'ResultInDoubt', {
      message: `${what} of melt ${melt}, entry ${entry}, is in doubt. ${hold.words}`,
      figures: { melt, entry, hold: hold.hold },
    }),
  );
}

function weighingInDoubt({ box, doubt }: BoxFacts, index: number): readonly Refusal[] {
  if (!doubt) return [];
  const state = doubt.isSetAside ? 'was set aside' : 'is in doubt';
  return [
    refuse(certificateRefusals, 'BoxWeighingInDoubt', {
      message: `A weighing of box ${box} or of its tubes ${state}. ${doubt.words}`,
      field: `boxes.${index}`,
      figures: { box, hold: doubt.hold },
    }),
  ];
}

function issueRefusals(input: IssueInput, facts: IssueFacts): readonly Refusal[] {
  const first = [
    ...numberRefusals(input, facts),
    ...repeatedBoxes(input.boxes),
    ...facts.boxes.flatMap((box, index) => boxRefusal(box, index) ?? []),
    ...mixedRefusals(facts),
  ];
  if (first.length > 0) return first;
  return [
    ...facts.melts.flatMap((melt) => meltRefusal(melt) ?? []),
    ...facts.melts.flatMap(resultsInDoubt),
    ...facts.boxes.flatMap(weighingInDoubt),
  ];
}

function decideIssue(input: IssueInput, facts: IssueFacts, circumstances: Circumstances): Decision {
  const refusals = issueRefusals(input, facts);
  if (refusals.length > 0) return { refusals };
  const content = certificateContent(input, facts, circumstances);
  const { certificate, boxes } = input;
  const { pieces, grossMicrograms, fineMicrograms } = content.totals;
  return {
    entries: [draft(CertificateIssued, { certificate, boxes, content })],
    answer: { certificate, boxes: boxes.length, pieces, grossMicrograms, fineMicrograms },
  };
}

/** Certifies sealed boxes. */
export const issueCertificate = defineCommand({
  command: 'issue-certificate',
  station: 'certificate',
  title: 'Issue certificate',
  input: issueInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: issueFacts,
  decide: decideIssue,
});
