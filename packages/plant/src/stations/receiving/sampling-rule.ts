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
import { consignmentUnknown, nextStepOfDrum, orderedRefusal } from './drum-refusals.ts';
import { SamplesOrdered } from './entries.ts';
import { drumsOfConsignment } from './read-model.ts';
import { receivingRefusals } from './refusals.ts';
import { inspectionOf } from './series.ts';
import { type Inspection, inspections } from './variables/bodies.ts';
import { drawForVariables, planByVariables } from './variables/plan.ts';
import { variablesRefusals } from './variables/refusals.ts';

const orderInput = z.strictObject({
  consignment: idSchema.meta({ title: 'Consignment', description: 'Whose melts are sampled.' }),
  inspection: z
    .enum(inspections, `one of ${inspections.join(', ')}`)
    .exactOptional()
    .meta({
      title: 'Inspection',
      description:
        'By variables fewer blanks are measured, as long as their readings are normal. Attributes when left out.',
    }),
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

/** Which of some picks serve a purpose that needs fewer than all; drawn, since picks stand in walking order. */
function drawAmongPicks(
  seed: string,
  purpose: 'assay' | 'physical',
  from: { readonly picks: readonly number[]; readonly wanted: number },
): { readonly picks: ReadonlySet<number>; readonly calculated: Calculated | null } {
  const { picks, wanted } = from;
  if (wanted >= picks.length) return { picks: new Set(picks), calculated: null };
  const input: DrawInput = {
    seed: sha256Hex(`${seed} ${purpose}`),
    containers: [{ container: 'sample', pieces: picks.length }],
    sampleSizePieces: wanted,
  };
  const { calculated, output } = calculate<DrawOutput>('draw', input);
  return {
    picks: new Set(output.picks.map(({ position }) => picks[position - 1] ?? 0)),
    calculated,
  };
}

interface OrderedFrom {
  readonly standard: PieceStandard;
  readonly severity: Severity;
  readonly seedHash: string;
  readonly inspection: Inspection;
}

/** The order of one melt, or why there is no plan by variables for it. */
function orderOfMelt(
  melt: string,
  drums: readonly Drum[],
  from: OrderedFrom,
): MeltSampling | { readonly impossible: string } {
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
  const asked = { melt, pieces, standard, severity, attributesPieces: physicalPieces };
  const planned = from.inspection === 'variables' ? planByVariables(asked) : undefined;
  if (planned && 'impossible' in planned) return planned;
  const variables = planned && drawForVariables(seed, planned, samplePieces);
  const drawing = calculate<DrawOutput>('draw', {
    seed,
    containers: drums
      .filter((drum) => drum.pieces > 0)
      .map((drum) => ({ container: drum.drum, pieces: drum.pieces })),
    sampleSizePieces: samplePieces,
  });
  const all = drawing.output.picks.map(({ pick }) => pick);
  // What is cut is measured before, so blanks for assay are among those that are measured first.
  const among = { picks: variables?.picks ?? all, wanted: assayPieces };
  const assay = drawAmongPicks(seed, 'assay', among);
  const physical = drawAmongPicks(seed, 'physical', { picks: all, wanted: physicalPieces });
  const first = variables && new Set(variables.picks);
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
    ...(variables ? { variables: variables.order } : {}),
    blanks: drawing.output.picks.map(({ pick, container, position }) => ({
      blank: `${melt}/${pick}`,
      pick,
      drum: container,
      position,
      forAssay: assay.picks.has(pick),
      forPhysical: physical.picks.has(pick),
      ...(first ? { forVariables: first.has(pick) } : {}),
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

function inspectionDiscontinued(consignment: Consignment, inspection: SeriesState): Refusal {
  const { supplier, pieceStandard } = consignment;
  return refuse(receivingRefusals, 'InspectionDiscontinued', {
    message: `No sample of ${pieceStandard} from ${supplier} is ordered. ${inspection.reason}`,
    figures: { supplier, pieceStandard, melts: [...inspection.decidedBy] },
  });
}

function variablesNotPossible(message: string): Refusal {
  return refuse(variablesRefusals, 'VariablesNotPossible', { message, field: 'inspection' });
}

function decideOrder(input: z.infer<typeof orderInput>, facts: OrderFacts): Decision {
  const { consignment, standard, inspection } = facts;
  if (!consignment || !standard || !inspection)
    return { refusals: [consignmentUnknown(input.consignment)] };
  const already = orderedRefusal(consignment);
  if (already) return { refusals: [already] };
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
  const { inspection: asked = 'attributes' } = input;
  const ordered = drumsByMelt(drums).map(([melt, own]) =>
    orderOfMelt(melt, own, { standard, severity, seedHash, inspection: asked }),
  );
  const impossible = ordered.flatMap((one) => ('impossible' in one ? [one.impossible] : []));
  const melts = ordered.flatMap((one) => ('impossible' in one ? [] : [one]));
  if (impossible.length > 0) return { refusals: impossible.map(variablesNotPossible) };
  const body: SamplesOrderedBody = {
    consignment: input.consignment,
    pieceStandard: consignment.pieceStandard,
    severity,
    severityReason,
    seedEntry,
    seedHash,
    melts,
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
