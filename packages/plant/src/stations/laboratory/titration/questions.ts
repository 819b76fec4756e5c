import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { idSchema, methodInForce } from '../../registers/index.ts';
import { meltFacts } from '../melt-facts.ts';
import { newestTitreOf, titreFacts, titreRefused } from './use-titre.ts';

/** The newest factor of a titrant, and whether it may stand for standards in a run on that melt. */
const titreOfLot = defineQuestion({
  question: 'titre-of-lot',
  station: 'laboratory',
  input: z.strictObject({ lot: idSchema, melt: idSchema }),
  answer: async (books, { lot, melt }, { instant }) => {
    const newest = await newestTitreOf(books, lot);
    const found = await meltFacts(books, melt);
    if (!newest || found.known !== 'sampled') return null;
    const { assayMethod, metal, finenessDeclaredPartsPerMillion } = found.standard;
    const inForce = await methodInForce(books, {
      assayMethod,
      metal,
      finenessPerMille: finenessDeclaredPartsPerMillion / 1000,
    });
    const facts = await titreFacts(books, { titre: newest.assayRun, lot, instant }, inForce);
    const { titrant, calculated } = newest.body;
    return {
      titre: newest.assayRun,
      entry: newest.entry,
      determinedAt: newest.instant,
      factorMilligramsPerMillilitre: titrant.factorMilligramsPerMillilitre,
      standardUncertaintyMilligramsPerMillilitre:
        titrant.standardUncertaintyMilligramsPerMillilitre,
      degreesOfFreedom: calculated.output['degreesOfFreedom'] ?? null,
      ageHours: facts.ageHours,
      greatestAgeHours: facts.greatestAgeHours,
      against: titreRefused(facts, lot).map((one) => one.message),
    };
  },
});

export const titrationQuestions = [titreOfLot] as const;
