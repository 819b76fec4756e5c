import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type BoxRow, boxOf } from '../put-up/index.ts';
import {
  idSchema,
  isApproved,
  type Purchaser,
  plantDay,
  purchaserOf,
  titleSchema,
} from '../registers/index.ts';
import { type CertifiedBoxRow, type DispatchRow, dispatches } from './books.ts';
import { BoxesDispatched } from './entries.ts';
import { boxList, repeatedBoxes } from './issue-certificate.ts';
import { certifiedBoxOf } from './read-model.ts';
import { certificateRefusals } from './refusals.ts';

const dispatchInput = z.strictObject({
  dispatch: idSchema.meta({ title: 'Dispatch', description: 'A number never used before.' }),
  purchaser: idSchema.meta({ title: 'Purchaser', description: 'Who takes the boxes.' }),
  document: titleSchema.meta({ title: 'Document', description: 'What goes with the boxes.' }),
  boxes: boxList,
});

type DispatchInput = z.infer<typeof dispatchInput>;

interface DispatchFacts {
  readonly existing: DispatchRow | undefined;
  readonly purchaser: Purchaser | undefined;
  readonly day: string;
  readonly boxes: readonly {
    readonly box: string;
    readonly row: BoxRow | undefined;
    readonly certified: CertifiedBoxRow | undefined;
  }[];
}

async function dispatchFacts(
  books: BookReader,
  input: DispatchInput,
  circumstances: Circumstances,
): Promise<DispatchFacts> {
  return {
    existing: await books.get(dispatches, input.dispatch),
    purchaser: await purchaserOf(books, input.purchaser),
    day: await plantDay(books, circumstances.instant),
    boxes: await Promise.all(
      input.boxes.map(async (box) => ({
        box,
        row: await boxOf(books, box),
        certified: await certifiedBoxOf(books, box),
      })),
    ),
  };
}

function partyRefusals(input: DispatchInput, facts: DispatchFacts): readonly Refusal[] {
  const { dispatch, purchaser } = input;
  const used = facts.existing
    ? [
        refuse(certificateRefusals, 'DispatchAlreadyRecorded', {
          message: `Dispatch ${dispatch} is recorded in entry ${facts.existing.entry}.`,
          field: 'dispatch',
          figures: { dispatch, entry: facts.existing.entry },
        }),
      ]
    : [];
  if (facts.purchaser && isApproved(facts.purchaser, facts.day)) return used;
  const until = facts.purchaser?.approvedUntil ?? null;
  const why = until
    ? `The approval of ${facts.purchaser?.name} ended on ${until}; today is ${facts.day}.`
    : `${purchaser} is not in the register of purchasers.`;
  const refusal = refuse(certificateRefusals, 'PurchaserNotApproved', {
    message: why,
    field: 'purchaser',
    figures: { purchaser, approvedUntil: until, day: facts.day },
  });
  return [...used, refusal];
}

function boxRefusal(facts: DispatchFacts['boxes'][number], index: number): Refusal | undefined {
  const { box, row, certified } = facts;
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
  if (certified?.certificate) return undefined;
  return refuse(certificateRefusals, 'BoxNotCertified', {
    message: `No certificate holds for box ${box} of ${row.pieces} pieces.`,
    field,
    figures: { box, pieces: row.pieces },
  });
}

function decideDispatch(input: DispatchInput, facts: DispatchFacts): Decision {
  const refusals = [
    ...partyRefusals(input, facts),
    ...repeatedBoxes(input.boxes),
    ...facts.boxes.flatMap((box, index) => boxRefusal(box, index) ?? []),
  ];
  if (refusals.length > 0) return { refusals };
  const boxes = facts.boxes.flatMap(({ row, certified }) =>
    row && certified?.certificate
      ? [
          {
            box: row.box,
            certificate: certified.certificate,
            metal: row.metal,
            pieceStandard: row.pieceStandard,
            parts: row.melts.map(({ melt, pieces, netMicrograms, fineMicrograms }) => ({
              melt,
              pieces,
              grossMicrograms: netMicrograms,
              fineMicrograms,
            })),
          },
        ]
      : [],
  );
  const { dispatch, purchaser, document } = input;
  const pieceStandards = [...new Set(boxes.map((box) => box.pieceStandard))].sort();
  const body = { dispatch, purchaser, document, pieceStandards, boxes };
  return { entries: [draft(BoxesDispatched, body)], answer: { dispatch, boxes: boxes.length } };
}

/** Hands certified boxes over to an approved purchaser. */
export const dispatchBoxes = defineCommand({
  command: 'dispatch-boxes',
  station: 'certificate',
  title: 'Record dispatch',
  input: dispatchInput,
  roles: ['custodian'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'metal accountant', 'inspector', 'chief assayer'],
  facts: dispatchFacts,
  decide: decideDispatch,
});
