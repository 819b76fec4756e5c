import type { Refusal } from '../../../journal/refusal.ts';
import { refuse } from '../../../journal/refusal.ts';
import { defineCommand, draft } from '../../../journal/station.ts';
import { finenessSlip } from '../fineness-slips.ts';
import { referenceMaterialReceived, referenceMaterialRetired, sha256Schema } from './bodies.ts';
import { type ReferenceMaterialRow, referenceMaterials } from './books.ts';
import { ReferenceMaterialReceived, ReferenceMaterialRetired } from './entries.ts';
import { referenceMaterialRefusals } from './refusals.ts';

const station = 'registers';

const receiveInput = referenceMaterialReceived.extend({
  attachmentSha256: sha256Schema.optional(),
});

const receiveReferenceMaterial = defineCommand({
  command: 'receive-reference-material',
  station,
  title: 'Receive reference material',
  input: receiveInput,
  roles: ['chief assayer', 'assayer'],
  signature: 'author',
  facts: async (books, input) => books.get(referenceMaterials, input.referenceMaterial),
  decide: ({ attachmentSha256, ...input }, present) => {
    if (present) {
      const refusal = refuse(referenceMaterialRefusals, 'ReferenceMaterialAlreadyReceived', {
        message: `${present.referenceMaterial} is the id of ${present.title}, entry ${present.entry}.`,
        field: 'referenceMaterial',
        figures: { referenceMaterial: present.referenceMaterial, entry: present.entry },
      });
      return { refusals: [refusal] };
    }
    const slips = input.certified.flatMap(({ quantity, value }, index) =>
      quantity === 'fineness'
        ? finenessSlip({
            of: input.title,
            field: `certified.${index}.value`,
            finenessPerMille: value,
          })
        : [],
    );
    if (slips.length > 0) return { refusals: slips };
    const document = attachmentSha256 === undefined ? {} : { attachmentSha256 };
    return { entries: [draft(ReferenceMaterialReceived, { ...input, ...document })] };
  },
});

/** Why nothing can be done with a reference material; nothing where it is in use. */
export function notInUse(
  named: { readonly id: string; readonly field: string },
  row: ReferenceMaterialRow | undefined,
): readonly Refusal[] {
  const { id, field } = named;
  if (!row) {
    return [
      refuse(referenceMaterialRefusals, 'ReferenceMaterialUnknown', {
        message: `${id} is not in the register of reference materials.`,
        field,
        figures: { referenceMaterial: id },
      }),
    ];
  }
  if (!row.retired) return [];
  const { entry, instant, reason } = row.retired;
  return [
    refuse(referenceMaterialRefusals, 'ReferenceMaterialRetired', {
      message: `${row.title}, ${id}, was taken out of use in entry ${entry}: ${reason}`,
      field,
      figures: { referenceMaterial: id, entry, since: instant },
    }),
  ];
}

const retireReferenceMaterial = defineCommand({
  command: 'retire-reference-material',
  station,
  title: 'Retire reference material',
  input: referenceMaterialRetired,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => books.get(referenceMaterials, input.referenceMaterial),
  decide: (input, row) => {
    const refusals = notInUse({ id: input.referenceMaterial, field: 'referenceMaterial' }, row);
    if (refusals.length > 0) return { refusals };
    return { entries: [draft(ReferenceMaterialRetired, input)] };
  },
});

export const referenceMaterialCommands = [
  receiveReferenceMaterial,
  retireReferenceMaterial,
] as const;
