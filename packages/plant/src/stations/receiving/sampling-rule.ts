import type { AttributePlanOutput, DrawInput, DrawOutput, SeriesState } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Calculated, calculate } from '../../journal/calculated.ts';
import { sha256Hex } from '../../journal/entry.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import { leastPiecesOfMelt } from './announce-rule.ts';
import type { MeltSampling, SamplesOrderedBody } from './bodies.ts';
import { type Consignment, consignments, type Drum } from './books.ts';
import { nextStepOfDrum, orderedRefusal } from './drum-refusals.ts';
import { SamplesOrdered } from './entries.ts';
import { drumsOfConsignment } from './read-model.ts';
import { receivingRefusals } from './refusals.ts';
import { inspectionOf } from './series.ts';

const orderInput = z.strictObject({
  consignment: idSchema.meta({ title: 'Consignment', description: 'Whose melts are sampled.' }),
});

interface OrderFacts {
  readonly consignment: Consignment | undefined;
  readonly standard: PieceStandard | undefined;
  readonly drums: readonly Drum[];
  /** Nothing for a consignment that is unknown. */
  readonly inspection: SeriesState | undefined;
}

async function orderFacts(
  books: BookReader,
  input: z.infer<typeof orderInput>,
): Promise<OrderFacts> {
  const consignment = await books.get(consignments, input.consignment);
  return {
    consignment,
    standard: consignment && (await pieceStandardOf(books, consignment.pieceStandard)),
    drums: await drumsOfConsignment(books, input.consignment),
    inspection: consignment && (await inspectionOf(books, consignment)),
  };
}

function unsettledRefusals(drums: readonly Drum[]): readonly Refusal[] {
  const open = drums.filter((drum) => !['counted', 'tallied'].includes(drum.state));
  const [first] = open;
  if (!first) return [];
  const list = open.map((drum) => `${drum.drum} ${drum.state}`).join(', ');
  return [
    refuse(receivingRefusals, 'DrumsNotSettled', {
      message: `${open.length} of ${drums.length} drums are not settled: ${list}.`,
      figures: { drums: open.map(({ drum, state }) => ({ drum, state })) },
      nextStep: `Drum ${first.drum}: ${nextStepOfDrum(first.state)}`,
    }),
  ];
}

/** The seed of one melt's draw: no person chose it, anybody can make it again, no two melts share it. */
export function seedOfMelt(seedHash: string, melt: string): string {
  return sha256Hex(`${seedHash} ${melt}`);
}

type Severity = SamplesOrderedBody['severity'];

/** Which picks of the sample serve a purpose that needs fewer than all; drawn, since picks stand in walking order. */
function drawAmongPicks(
  seed: string,
  purpose: 'assay' | 'physical',
  sizes: { readonly sample: number; readonly wanted: number },
): { readonly picks: ReadonlySet<number> | undefined; readonly calculated: Calculated | null } {
  if (sizes.wanted >= sizes.sample) return { picks: undefined, calculated: null };
  const input: DrawInput = {
    seed: sha256Hex(`${seed} ${purpose}`),
    containers: [{ container: 'sample', pieces: sizes.sample }],
    sampleSizePieces: sizes.wanted,
  };
  const { calculated, output } = calculate<DrawOutput>('draw', input);
  return { picks: new Set(output.picks.map((pick) => pick.position)), calculated };
}

function orderOfMelt(
  melt: string,
  drums: readonly Drum[],
  from: {
    readonly standard: PieceStandard;
    readonly severity: Severity;
    readonly seedHash: string;
  },
): MeltSampling {
  const { standard, severity } = from;
  const pieces = drums.reduce((sum, drum) => sum + drum.pieces, 0);
  const plan = calculate<AttributePlanOutput>('attribute-plan', {
    lotSizePieces: pieces,
    inspectionLevel: standard.inspectionLevel,
    acceptanceQualityLimitPercent: standard.acceptanceQualityLimitPercent,
    severity,
  });
  const physicalPieces = plan.output.sampleSizePieces;
  const assayPieces = standard.blanksForAssayPerMelt;
  const samplePieces = Math.max(physicalPieces, assayPieces);
  const seed = seedOfMelt(from.seedHash, melt);
  const drawing = calculate<DrawOutput>('draw', {
    seed,
    containers: drums
      .filter((drum) => drum.pieces > 0)
      .map((drum) => ({ container: drum.drum, pieces: drum.pieces })),
    sampleSizePieces: samplePieces,
  });
  const assay = drawAmongPicks(seed, 'assay', { sample: samplePieces, wanted: assayPieces });
  const physical = drawAmongPicks(seed, 'physical', {
    sample: samplePieces,
    wanted: physicalPieces,
  });
  return {
    melt,
    pieces,
    seed,
    assayPieces,
    physicalPieces,
    samplePieces,
    acceptanceNumber: plan.output.acceptanceNumber,
    rejectionNumber: plan.output.rejectionNumber,
    plan: plan.calculated,
    draw: drawing.calculated,
    assayDraw: assay.calculated,
    physicalDraw: physical.calculated,
    blanks: drawing.output.picks.map(({ pick, container, position }) => ({
      blank: `${melt}/${pick}`,
      pick,
      drum: container,
      position,
      forAssay: assay.picks?.has(pick) ?? true,
      forPhysical: physical.picks?.has(pick) ?? true,
    })),
  };
}

/** The drums of each melt that are still here, in the order of the melts' ids. */
function drumsByMelt(drums: readonly Drum[]): readonly (readonly [string, readonly Drum[]])[] {
  const melts = [...new Set(drums.map(({ melt }) => melt))].sort();
  return melts.map((melt) => [melt, drums.filter((drum) => drum.melt === melt)]);
}

function smallMeltRefusals(drums: readonly Drum[], standard: PieceStandard): readonly Refusal[] {
  const leastPieces = leastPiecesOfMelt(standard);
  return drumsByMelt(drums).flatMap(([melt, own]) => {
    const pieces = own.reduce((sum, drum) => sum + drum.pieces, 0);
    if (pieces >= leastPieces) return [];
    const refusal = refuse(receivingRefusals, 'MeltTooSmall', {
      message: `Melt ${melt} has ${pieces} pieces; its sample needs ${leastPieces}.`,
      figures: { melt, pieces, leastPieces },
      nextStep: `Send back the drums of melt ${melt}: ${own.map(({ drum }) => drum).join(', ')}.`,
    });
    return [refusal];
  });
}

function consignmentUnknown(consignment: string): Refusal {
  return refuse(receivingRefusals, 'ConsignmentUnknown', {
    message: `No consignment ${consignment} has been announced.`,
    field: 'consignment',
    figures: { consignment },
  });
}

function inspectionDiscontinued(consignment: Consignment, inspection: SeriesState): Refusal {
  const { supplier, pieceStandard } = consignment;
  return refuse(receivingRefusals, 'InspectionDiscontinued', {
    message: `No sample of ${pieceStandard} from ${supplier} is ordered. ${inspection.reason}`,
    figures: { supplier, pieceStandard, melts: [...inspection.decidedBy] },
  });
}

function decideOrder(input: z.infer<typeof orderInput>, facts: OrderFacts): Decision {
  const { consignment, standard, inspection } = facts;
  if (!consignment || !standard || !inspection)
    return { refusals: [consignmentUnknown(input.consignment)] };
  const ordered = orderedRefusal(consignment);
  if (ordered) return { refusals: [ordered] };
  const drums = facts.drums.filter((drum) => drum.state !== 'returned');
  const { seedEntry, seedHash } = consignment;
  if (drums.length === 0) {
    const refusal = refuse(receivingRefusals, 'NothingToSample', {
      message: `Every drum of consignment ${input.consignment} has gone back.`,
      figures: { consignment: input.consignment },
    });
    return { refusals: [refusal] };
  }
  const unsettled = unsettledRefusals(drums);
  if (unsettled.length > 0 || seedEntry === null || seedHash === null) {
    return { refusals: unsettled };
  }
  const { severity, reason: severityReason } = inspection;
  if (severity === 'discontinued') {
    return { refusals: [inspectionDiscontinued(consignment, inspection)] };
  }
  const small = smallMeltRefusals(drums, standard);
  if (small.length > 0) return { refusals: small };
  const body: SamplesOrderedBody = {
    consignment: input.consignment,
    pieceStandard: consignment.pieceStandard,
    severity,
    severityReason,
    seedEntry,
    seedHash,
    melts: drumsByMelt(drums).map(([melt, own]) =>
      orderOfMelt(melt, own, { standard, severity, seedHash }),
    ),
  };
  const answer = {
    consignment: input.consignment,
    melts: body.melts.map(({ melt, samplePieces }) => ({ melt, samplePieces })),
  };
  return { entries: [draft(SamplesOrdered, body)], answer };
}

export const orderSamples = defineCommand({
  command: 'order-samples',
  station: 'receiving',
  title: 'Order the samples',
  input: orderInput,
  roles: ['inspector', 'assayer', 'chief assayer'],
  signature: 'none',
  facts: orderFacts,
  decide: decideOrder,
});
