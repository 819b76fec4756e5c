import type { CountByWeightInput, CountByWeightOutput } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { calculate } from '../../journal/calculated.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import {
  type Instrument,
  idSchema,
  instrumentOf,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
} from '../registers/index.ts';
import type { DrumWeighedBody } from './bodies.ts';
import { type Consignment, consignments, type Drum, drums } from './books.ts';
import { drumUnknown, stateRefusal } from './drum-refusals.ts';
import { DrumWeighed } from './entries.ts';
import { receivingRefusals } from './refusals.ts';
import { type Balance, implausibleMass, usableBalance } from './weighing-refusals.ts';

const weighInput = z.strictObject({
  drum: idSchema.meta({ title: 'Drum', description: 'Scan the label of the drum.' }),
  sealFound: idSchema.meta({ title: 'Seal found', description: 'The number on its seal.' }),
  gross: massReadingSchema.meta({ title: 'Gross', description: 'The drum with its pieces.' }),
  tare: massReadingSchema.meta({ title: 'Tare', description: 'The empty drum.' }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the label of the balance.' }),
});

type WeighInput = z.infer<typeof weighInput>;

interface WeighFacts {
  readonly day: string;
  readonly drum: Drum | undefined;
  readonly consignment: Consignment | undefined;
  readonly standard: PieceStandard | undefined;
  readonly instrument: Instrument | undefined;
}

/** Weighings of a drum after which doubt is no longer settled by weighing again. */
const greatestWeighings = 3;
/** Readings that the count by weight takes at the most. */
const greatestReadings = 8;

/** What the books know of a weighing; also of one that is only tried. */
export async function weighFacts(
  books: BookReader,
  input: Pick<WeighInput, 'drum' | 'instrument'>,
  circumstances: Pick<Circumstances, 'instant'>,
): Promise<WeighFacts> {
  const drum = await books.get(drums, input.drum);
  const consignment = drum && (await books.get(consignments, drum.consignment));
  return {
    day: await plantDay(books, circumstances.instant),
    drum,
    consignment,
    standard: consignment && (await pieceStandardOf(books, consignment.pieceStandard)),
    instrument: await instrumentOf(books, input.instrument),
  };
}

function sealRefusals(input: WeighInput, drum: Drum): readonly Refusal[] {
  if (input.sealFound === drum.seal) return [];
  return [
    refuse(receivingRefusals, 'SealDiffers', {
      message: `Drum ${drum.drum} bears seal ${input.sealFound}; the document says ${drum.seal}.`,
      field: 'sealFound',
      figures: { drum: drum.drum, sealFound: input.sealFound, seal: drum.seal },
    }),
  ];
}

function tareRefusals(input: WeighInput, netMicrograms: number): readonly Refusal[] {
  if (netMicrograms > 0) return [];
  const { gross, tare } = input;
  return [
    refuse(receivingRefusals, 'TareAboveGross', {
      message: `Tare ${tare.text} ${tare.unit} is not less than gross ${gross.text} ${gross.unit}.`,
      field: 'tare',
      figures: { gross: gross.text, grossUnit: gross.unit, tare: tare.text, tareUnit: tare.unit },
    }),
  ];
}

/** What the count by weight is fed with: the tare is weighed too, so no deviation of tares enters. */
function drumCountInput(
  standard: PieceStandard,
  balance: Balance,
  drum: { readonly pieces: number; readonly netReadingsMicrograms: readonly number[] },
): CountByWeightInput {
  return {
    nominalPieces: drum.pieces,
    pieceMassGrams: standard.massDeclaredMilligrams / 1000,
    pieceStandardDeviationGrams: standard.pieceStandardDeviationMilligrams / 1000,
    lotStandardDeviationGrams: standard.lotStandardDeviationMilligrams / 1000,
    referencePieces: standard.referencePieces,
    gainRelative: balance.gainRelative,
    tareStandardDeviationGrams: 0,
    repeatabilityGrams: balance.repeatabilityGrams,
    divisionGrams: balance.divisionGrams,
    readingsTaken: 2,
    netReadingsGrams: drum.netReadingsMicrograms
      .slice(-greatestReadings)
      .map((micrograms) => micrograms / 1e6),
    priorMiscountProbability: standard.priorMiscountProbability,
    badWeighingProbability: standard.badWeighingProbability,
    badWeighingSpreadGrams: standard.badWeighingSpreadGrams,
  };
}

/** What becomes of the drum by this weighing. */
function stateAfter(
  verdict: CountByWeightOutput['verdict'],
  drum: { readonly needsTallyInAnyCase: boolean; readonly weighings: number },
): 'weigh again' | 'needs tally' | 'counted' {
  if (verdict === 'weigh-again' && drum.weighings < greatestWeighings) return 'weigh again';
  return verdict === 'proved' && !drum.needsTallyInAnyCase ? 'counted' : 'needs tally';
}

/** The weighing as its entry would state it, or why it is refused. */
export function judgeDrum(
  input: WeighInput,
  facts: WeighFacts,
): { readonly body: DrumWeighedBody } | { readonly refusals: readonly Refusal[] } {
  const { drum, consignment, standard, day } = facts;
  if (!drum || !consignment || !standard) return { refusals: [drumUnknown(input.drum)] };
  const unfit = stateRefusal(drum, ['announced', 'weigh again'], 'weighed');
  if (unfit) return { refusals: [unfit] };
  const netMicrograms = readingMicrograms(input.gross) - readingMicrograms(input.tare);
  const usable = usableBalance(facts.instrument, { instrument: input.instrument, day });
  const tare = tareRefusals(input, netMicrograms);
  const mass = { reading: input.gross, field: 'gross', netMicrograms, pieces: drum.pieces };
  const refusals = [
    ...sealRefusals(input, drum),
    ...('refusal' in usable ? [usable.refusal] : []),
    ...(tare.length > 0 ? tare : implausibleMass({ ...mass, standard })),
  ];
  if (refusals.length > 0 || 'refusal' in usable) return { refusals };
  const netReadingsMicrograms = [...drum.netReadingsMicrograms, netMicrograms];
  const { calculated, output } = calculate<CountByWeightOutput>(
    'count-by-weight',
    drumCountInput(standard, usable.balance, { pieces: drum.pieces, netReadingsMicrograms }),
  );
  const state = stateAfter(output.verdict, {
    needsTallyInAnyCase: drum.needsTallyInAnyCase,
    weighings: netReadingsMicrograms.length,
  });
  const admitted = drum.needsTallyInAnyCase ? ' Admitted with another seal: count by hand.' : '';
  const words = `${output.words}${admitted}`;
  const body: DrumWeighedBody = {
    consignment: drum.consignment,
    melt: drum.melt,
    drum: drum.drum,
    pieceStandard: consignment.pieceStandard,
    metal: consignment.metal,
    finenessDeclaredPartsPerMillion: consignment.finenessDeclaredPartsPerMillion,
    sealFound: input.sealFound,
    gross: input.gross,
    tare: input.tare,
    netMicrograms,
    pieces: drum.pieces,
    count: calculated,
    state,
    words,
  };
  return { body };
}

function decideWeighing(input: WeighInput, facts: WeighFacts): Decision {
  const judged = judgeDrum(input, facts);
  if ('refusals' in judged) return judged;
  const { body } = judged;
  const { drum, state, words } = body;
  const verdict = String(body.count.output.verdict);
  return {
    entries: [draft(DrumWeighed, body, { instrument: input.instrument })],
    answer: { drum, state, verdict, words },
  };
}

export const weighDrum = defineCommand({
  command: 'weigh-drum',
  station: 'receiving',
  title: 'Weigh a drum',
  input: weighInput,
  roles: ['custodian'],
  signature: 'none',
  facts: weighFacts,
  decide: decideWeighing,
});
