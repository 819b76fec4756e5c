import type { BookReader } from '../../../journal/books.ts';
import { balances } from '../../../journal/core-books.ts';
import { readingMicrograms } from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import {
  type Instrument,
  instrumentOf,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
} from '../../registers/index.ts';
import {
  type Blank,
  blanks,
  type Consignment,
  consignments,
  type Melt,
  melts,
  type SamplingOrder,
  samplingOrders,
} from '../books.ts';
import { meltUnknown } from '../drum-refusals.ts';
import { receivingRefusals } from '../refusals.ts';
import { samplesNotOrdered } from '../sample-refusals.ts';
import { type SealHolder, sealHolder, sealWords } from '../seal-use.ts';
import { implausibleMass, usableBalance } from '../weighing-refusals.ts';
import { type BlankUse, blankUse, type PortionRow, portions } from './books.ts';
import { PortionsSealed } from './entries.ts';
import { heldBlanks, portionsOfMelt } from './read-model.ts';
import { portionRefusals } from './refusals.ts';
import { type SealInput, sealInput } from './seal-input.ts';

/** A blank that is to be sealed, as far as it is known. */
interface NamedBlank {
  readonly field: string;
  readonly blank: string;
  readonly drawn: Blank | undefined;
  readonly uses: readonly BlankUse[];
  readonly holding: PortionRow | undefined;
}

interface SealFacts {
  readonly day: string;
  readonly melt: Melt | undefined;
  readonly consignment: Consignment | undefined;
  readonly standard: PieceStandard | undefined;
  readonly order: SamplingOrder | undefined;
  readonly instrument: Instrument | undefined;
  readonly earlier: readonly (PortionRow | undefined)[];
  readonly sealHolders: readonly (SealHolder | undefined)[];
  readonly blanks: readonly NamedBlank[];
  /** Of this melt in the laboratory by the account, and sealed in portions there. */
  readonly lyingMicrograms: number;
  readonly sealedMicrograms: number;
}

async function namedBlanks(books: BookReader, input: SealInput): Promise<readonly NamedBlank[]> {
  const held = await heldBlanks(books, input.melt);
  const found: NamedBlank[] = [];
  for (const [index, portion] of input.portions.entries()) {
    for (const [at, blank] of portion.blanks.entries()) {
      const uses = await books.select(blankUse, { prefix: [blank] });
      found.push({
        field: `portions.${index}.blanks.${at}`,
        blank,
        drawn: await books.get(blanks, blank),
        uses: uses.map(({ use }) => use),
        holding: held.get(blank),
      });
    }
  }
  return found;
}

async function lyingOf(books: BookReader, { melt, pieceStandard }: Melt, metal: string) {
  const row = await books.get(balances, 'laboratory', metal, pieceStandard, melt);
  const sealed = (await portionsOfMelt(books, melt)).filter(({ state }) => state === 'sealed');
  return {
    lyingMicrograms: row?.grossMicrograms ?? 0,
    sealedMicrograms: sealed.reduce((sum, { grossMicrograms }) => sum + grossMicrograms, 0),
  };
}

async function sealFacts(
  books: BookReader,
  input: SealInput,
  { instant }: Circumstances,
): Promise<SealFacts> {
  const melt = await books.get(melts, input.melt);
  const consignment = melt && (await books.get(consignments, melt.consignment));
  const earlier: (PortionRow | undefined)[] = [];
  const sealHolders: (SealHolder | undefined)[] = [];
  for (const { portion, seal } of input.portions) {
    earlier.push(await books.get(portions, portion));
    sealHolders.push(await sealHolder(books, seal));
  }
  const nothing = { lyingMicrograms: 0, sealedMicrograms: 0 };
  return {
    day: await plantDay(books, instant),
    melt,
    consignment,
    standard: melt && (await pieceStandardOf(books, melt.pieceStandard)),
    order: await books.get(samplingOrders, input.melt),
    instrument: await instrumentOf(books, input.instrument),
    earlier,
    sealHolders,
    blanks: await namedBlanks(books, input),
    ...(melt && consignment ? await lyingOf(books, melt, consignment.metal) : nothing),
  };
}

function meltRefusal(input: SealInput, { melt, order }: SealFacts): Refusal | undefined {
  if (!melt) return meltUnknown(input.melt);
  if (!order) return samplesNotOrdered(input.melt);
  if (order.drawnEntry !== null) return undefined;
  return refuse(portionRefusals, 'SampleNotDrawn', {
    message: `The sample of melt ${input.melt} was ordered in entry ${order.entry} and is not drawn.`,
    field: 'melt',
    figures: { melt: input.melt, entry: order.entry },
  });
}

function identityRefusals(input: SealInput, facts: SealFacts): readonly Refusal[] {
  return input.portions.flatMap(({ portion, seal, keptUntil }, index) => {
    const refusals: Refusal[] = [];
    const earlier = facts.earlier[index];
    const holder = facts.sealHolders[index];
    if (earlier) {
      refusals.push(
        refuse(portionRefusals, 'PortionAlreadySealed', {
          message: `Portion ${portion} of melt ${earlier.melt} was sealed in entry ${earlier.entry}.`,
          field: `portions.${index}.portion`,
          figures: { portion, entry: earlier.entry },
        }),
      );
    }
    if (holder) {
      refusals.push(
        refuse(receivingRefusals, 'SealAlreadyUsed', {
          message: sealWords(seal, holder),
          field: `portions.${index}.seal`,
          figures: { seal, [holder.thing]: holder.id },
          nextStep: 'Put a new seal on the portion and state its number.',
        }),
      );
    }
    if (keptUntil !== null && keptUntil < facts.day) {
      refusals.push(
        refuse(portionRefusals, 'KeptUntilPast', {
          message: `Portion ${portion} is to be kept until ${keptUntil}; today is ${facts.day}.`,
          field: `portions.${index}.keptUntil`,
          figures: { portion, keptUntil, day: facts.day },
        }),
      );
    }
    return refusals;
  });
}

function blankRefusal(melt: string, named: NamedBlank): readonly Refusal[] {
  const { blank, field, drawn, uses, holding } = named;
  const say = (name: keyof typeof portionRefusals, message: string, more: object = {}) => [
    refuse(portionRefusals, name, { message, field, figures: { blank, ...more } }),
  ];
  if (!drawn?.isDrawn || drawn.melt !== melt) {
    return say('BlankNotOfSample', `Blank ${blank} was not drawn from melt ${melt}.`);
  }
  if (holding) {
    const { portion, state } = holding;
    const message = `Blank ${blank} is in portion ${portion}, which is ${state}.`;
    return say('BlankInPortion', message, { portion, state });
  }
  const gone = uses.find((use) => use !== 'measured');
  if (gone) return say('BlankNotWhole', `Blank ${blank} was ${gone}.`, { use: gone });
  if (drawn.forPhysical && !uses.includes('measured')) {
    return say('BlankToBeMeasured', `Blank ${blank} is to be measured before it is sealed.`);
  }
  return [];
}

function massRefusals(
  input: SealInput,
  facts: SealFacts,
  standard: PieceStandard,
): readonly Refusal[] {
  const implausible = input.portions.flatMap(({ blanks: own, gross }, index) =>
    own.length === 0
      ? []
      : implausibleMass({
          reading: gross,
          field: `portions.${index}.gross`,
          netMicrograms: readingMicrograms(gross),
          pieces: own.length,
          standard,
        }),
  );
  const asked = input.portions.reduce((sum, { gross }) => sum + readingMicrograms(gross), 0);
  const free = facts.lyingMicrograms - facts.sealedMicrograms;
  if (implausible.length > 0 || asked <= free) return implausible;
  return [
    refuse(portionRefusals, 'PortionsBeyondLaboratory', {
      message: `The portions weigh ${asked / 1e6} g; of melt ${input.melt} ${free / 1e6} g lie in the laboratory unsealed.`,
      field: 'portions',
      figures: { melt: input.melt, askedMicrograms: asked, freeMicrograms: free },
      toOthers: {
        message: `The portions weigh ${asked / 1e6} g; less of melt ${input.melt} lies in the laboratory unsealed.`,
        figures: { melt: input.melt, askedMicrograms: asked },
      },
    }),
  ];
}

function decideSealing(input: SealInput, facts: SealFacts): Decision {
  const refusal = meltRefusal(input, facts);
  const { consignment, standard, day } = facts;
  if (refusal || !consignment || !standard) return { refusals: refusal ? [refusal] : [] };
  const usable = usableBalance(facts.instrument, { instrument: input.instrument, day });
  const refusals = [
    ...('refusal' in usable ? [usable.refusal] : []),
    ...identityRefusals(input, facts),
    ...facts.blanks.flatMap((named) => blankRefusal(input.melt, named)),
    ...massRefusals(input, facts, standard),
  ];
  if (refusals.length > 0) return { refusals };
  const body = {
    melt: input.melt,
    consignment: consignment.consignment,
    pieceStandard: consignment.pieceStandard,
    metal: consignment.metal,
    finenessDeclaredPartsPerMillion: consignment.finenessDeclaredPartsPerMillion,
    portions: input.portions.map((portion) => ({
      ...portion,
      grossMicrograms: readingMicrograms(portion.gross),
    })),
  };
  return {
    entries: [draft(PortionsSealed, body, { instrument: input.instrument })],
    answer: { melt: input.melt, portions: input.portions.map(({ portion }) => portion) },
  };
}

/** Divides a drawn sample into sealed portions. */
export const sealPortions = defineCommand({
  command: 'seal-portions',
  station: 'receiving',
  title: 'Seal portions',
  input: sealInput,
  roles: ['inspector', 'assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'assayer', 'chief assayer'],
  facts: sealFacts,
  decide: decideSealing,
});
