import type { SeriesState } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import {
  idSchema,
  type PieceStandard,
  pieceStandardOf,
  reasonSchema,
  type Supplier,
  supplierOf,
} from '../registers/index.ts';
import { InspectionResumed } from './entries.ts';
import { receivingRefusals } from './refusals.ts';
import { inspectionOf } from './series.ts';

const resumeInput = z.strictObject({
  supplier: idSchema.meta({ title: 'Supplier', description: 'Whose series of lots.' }),
  pieceStandard: idSchema.meta({ title: 'Piece standard', description: 'Of which pieces.' }),
  reason: reasonSchema.meta({
    title: 'Reason',
    description: 'What the supplier corrected, and how the plant knows.',
  }),
});

type ResumeInput = z.infer<typeof resumeInput>;

interface ResumeFacts {
  readonly supplier: Supplier | undefined;
  readonly standard: PieceStandard | undefined;
  readonly inspection: SeriesState;
}

async function resumeFacts(books: BookReader, input: ResumeInput): Promise<ResumeFacts> {
  return {
    supplier: await supplierOf(books, input.supplier),
    standard: await pieceStandardOf(books, input.pieceStandard),
    inspection: await inspectionOf(books, input),
  };
}

function against(input: ResumeInput, facts: ResumeFacts): readonly Refusal[] {
  const { supplier, pieceStandard } = input;
  const refusals: Refusal[] = [];
  if (!facts.supplier) {
    refusals.push(
      refuse(receivingRefusals, 'SupplierUnknown', {
        message: `${supplier} is not in the register of suppliers.`,
        field: 'supplier',
        figures: { supplier },
      }),
    );
  }
  if (!facts.standard) {
    refusals.push(
      refuse(receivingRefusals, 'PieceStandardUnknown', {
        message: `${pieceStandard} is not in the register of piece standards.`,
        field: 'pieceStandard',
        figures: { pieceStandard },
      }),
    );
  }
  if (refusals.length > 0 || facts.inspection.severity === 'discontinued') return refusals;
  const { severity, reason } = facts.inspection;
  return [
    refuse(receivingRefusals, 'InspectionNotDiscontinued', {
      message: `Inspection of ${pieceStandard} from ${supplier} goes on and is ${severity}. ${reason}`,
      figures: { supplier, pieceStandard, severity },
    }),
  ];
}

function decideResumption(input: ResumeInput, facts: ResumeFacts): Decision {
  const refusals = against(input, facts);
  if (refusals.length > 0) return { refusals };
  const discontinuedBy = [...facts.inspection.decidedBy];
  const { supplier, pieceStandard } = input;
  return {
    entries: [draft(InspectionResumed, { ...input, discontinuedBy })],
    answer: { supplier, pieceStandard, severity: 'tightened' },
  };
}

/** Takes up again, tightened, the inspection of a series whose cause has been corrected. */
export const resumeInspection = defineCommand({
  command: 'resume-inspection',
  station: 'receiving',
  title: 'Resume inspection',
  input: resumeInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: resumeFacts,
  decide: decideResumption,
});
