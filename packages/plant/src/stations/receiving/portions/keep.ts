import { z } from 'zod';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { daySchema, idSchema, reasonSchema, titleSchema } from '../../registers/index.ts';
import { PortionDiscarded, PortionKept, PortionOpened, PortionReturned } from './entries.ts';
import {
  fieldsOf,
  fitPortion,
  handingRoles,
  metalOf,
  type PortionFacts,
  portionFacts,
  portionField,
  sealField,
  sealRefusals,
  station,
  witnesses,
} from './portion-facts.ts';
import { portionRefusals } from './refusals.ts';

/** Opens a sealed portion in the laboratory. */
export const openPortion = defineCommand({
  command: 'open-portion',
  station,
  title: 'Open a portion',
  input: z.strictObject({ portion: portionField, sealFound: sealField, reason: reasonSchema }),
  roles: ['assayer', 'chief assayer'],
  signature: 'author and witness',
  witnessRoles: witnesses,
  facts: portionFacts,
  decide: (input, facts): Decision => {
    const fit = fitPortion(facts, { portion: input.portion, accepted: ['sealed'], act: 'opened' });
    if ('refusals' in fit) return fit;
    const refusals = sealRefusals(fit.portion, input.sealFound);
    if (refusals.length > 0) return { refusals };
    const { sealFound, reason } = input;
    const body = { ...fieldsOf(fit.portion), sealFound, reason };
    return { entries: [draft(PortionOpened, body)], answer: { portion: input.portion } };
  },
});

/** Why a portion must stay: its day has not come, or the melt is disputed. */
function keptRefusals({ portion, day, isInDispute }: PortionFacts): readonly Refusal[] {
  if (!portion) return [];
  const { keptUntil, melt } = portion;
  const refusals: Refusal[] = [];
  if (keptUntil !== null && day <= keptUntil) {
    refusals.push(
      refuse(portionRefusals, 'PortionStillKept', {
        message: `Portion ${portion.portion} is kept until ${keptUntil}; today is ${day}.`,
        field: 'portion',
        figures: { portion: portion.portion, keptUntil, day },
      }),
    );
  }
  if (isInDispute) {
    refusals.push(
      refuse(portionRefusals, 'PortionInDispute', {
        message: `Melt ${melt} stands between plant and supplier.`,
        field: 'portion',
        figures: { portion: portion.portion, melt },
      }),
    );
  }
  return refusals;
}

/** Brings the whole blanks of a portion back to the rest of their melt. */
export const returnPortion = defineCommand({
  command: 'return-portion',
  station,
  title: 'Return a portion to its melt',
  input: z.strictObject({ portion: portionField, sealFound: sealField, reason: reasonSchema }),
  roles: handingRoles,
  signature: 'author and witness',
  witnessRoles: witnesses,
  facts: portionFacts,
  decide: (input, facts): Decision => {
    const fit = fitPortion(facts, {
      portion: input.portion,
      accepted: ['sealed'],
      act: 'returned',
    });
    if ('refusals' in fit) return fit;
    const { portion } = fit;
    const cuttings =
      portion.blanks.length > 0
        ? []
        : [
            refuse(portionRefusals, 'PortionNotWhole', {
              message: `Portion ${portion.portion} holds ${portion.grossMicrograms / 1e6} g and no whole blank.`,
              field: 'portion',
              figures: { portion: portion.portion, grossMicrograms: portion.grossMicrograms },
            }),
          ];
    const refusals = [
      ...cuttings,
      ...keptRefusals(facts),
      ...sealRefusals(portion, input.sealFound),
    ];
    if (refusals.length > 0) return { refusals };
    const { sealFound, reason } = input;
    const blanks = [...portion.blanks];
    const body = { ...fieldsOf(portion), ...metalOf(portion), blanks, sealFound, reason };
    return {
      entries: [draft(PortionReturned, body)],
      answer: { portion: input.portion, pieces: blanks.length },
    };
  },
});

/** Puts a portion to the scrap, or states that it was used up outside. */
export const discardPortion = defineCommand({
  command: 'discard-portion',
  station,
  title: 'Discard a portion',
  input: z.strictObject({
    portion: portionField,
    sealFound: idSchema
      .nullable()
      .meta({ title: 'Seal found', description: 'Nothing for one that was used up outside.' }),
    reason: reasonSchema,
  }),
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'assayer', 'metal accountant'],
  facts: portionFacts,
  decide: (input, facts): Decision => {
    const accepted = ['sealed', 'with the supplier', 'with the umpire'] as const;
    const fit = fitPortion(facts, { portion: input.portion, accepted, act: 'discarded' });
    if ('refusals' in fit) return fit;
    const { portion } = fit;
    const isHere = portion.state === 'sealed';
    const refusals = isHere
      ? [...keptRefusals(facts), ...sealRefusals(portion, input.sealFound ?? 'none')]
      : [];
    if (refusals.length > 0) return { refusals };
    const body = {
      ...fieldsOf(portion),
      ...metalOf(portion),
      how: isHere ? ('to the scrap' as const) : ('used up' as const),
      sealFound: isHere ? input.sealFound : null,
      reason: input.reason,
    };
    return {
      entries: [draft(PortionDiscarded, body)],
      answer: { portion: input.portion, how: body.how },
    };
  },
});

/** Lays a portion elsewhere, or keeps it until another day. */
export const keepPortion = defineCommand({
  command: 'keep-portion',
  station,
  title: 'Keep a portion elsewhere or longer',
  input: z.strictObject({
    portion: portionField,
    place: titleSchema.meta({ title: 'Place', description: 'Shelf and box where it lies now.' }),
    keptUntil: daySchema.nullable().meta({ title: 'Kept until', description: 'From today on.' }),
    reason: reasonSchema,
  }),
  roles: ['custodian', 'assayer', 'chief assayer'],
  signature: 'author',
  facts: portionFacts,
  decide: (input, facts): Decision => {
    const accepted = ['sealed', 'with the supplier', 'with the umpire'] as const;
    const fit = fitPortion(facts, { portion: input.portion, accepted, act: 'kept' });
    if ('refusals' in fit) return fit;
    const { keptUntil, place, reason } = input;
    const isMissing = fit.portion.for === 'reserve' && keptUntil === null;
    if (isMissing || (keptUntil !== null && keptUntil < facts.day)) {
      const message = isMissing
        ? `Portion ${input.portion} is a reserve, which is kept until a day.`
        : `Portion ${input.portion} is to be kept until ${keptUntil}; today is ${facts.day}.`;
      const figures = { portion: input.portion, keptUntil, day: facts.day };
      const detail = { message, field: 'keptUntil', figures };
      return { refusals: [refuse(portionRefusals, 'KeptUntilPast', detail)] };
    }
    const { portion, melt, consignment } = fit.portion;
    const body = { portion, melt, consignment, place, keptUntil, reason };
    return { entries: [draft(PortionKept, body)], answer: { portion, keptUntil } };
  },
});
