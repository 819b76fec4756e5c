import { catalogue } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { finenessSlip } from '../fineness-slips.ts';
import { methodFields } from './bodies.ts';
import { methodsInForce } from './books.ts';
import { MethodStated } from './entries.ts';
import { type MethodEdition, methodsFor } from './queries.ts';
import { methodRefusals } from './refusals.ts';

const stateInput = z.strictObject({ ...methodFields, notes: methodFields.notes.optional() });

type StateInput = z.infer<typeof stateInput>;

interface StatingFacts {
  readonly present: MethodEdition | undefined;
  /** Methods of the same metal and way of assay. */
  readonly beside: readonly MethodEdition[];
}

async function statingFacts(books: BookReader, input: StateInput): Promise<StatingFacts> {
  const beside = await methodsFor(books, input.assayMethod, input.scope.metal);
  return {
    present: await books.get(methodsInForce, input.method),
    beside: beside.filter((one) => one.method !== input.method),
  };
}

function calculationUnknown({ calculation }: StateInput): readonly Refusal[] {
  if (catalogue.some((one) => one.id === calculation)) return [];
  return [
    refuse(methodRefusals, 'CalculationUnknown', {
      message: `There is no calculation ${calculation}.`,
      field: 'calculation',
      figures: { calculation },
    }),
  ];
}

function isAnother(input: StateInput, present: MethodEdition | undefined): readonly Refusal[] {
  if (!present) return [];
  const { metal } = input.scope;
  if (present.assayMethod === input.assayMethod && present.metal === metal) return [];
  return [
    refuse(methodRefusals, 'MethodIsAnother', {
      message: `${input.method} is ${present.title}: ${present.assayMethod} of ${present.metal}, edition ${present.edition}.`,
      field: 'method',
      figures: {
        method: input.method,
        assayMethod: present.assayMethod,
        metal: present.metal,
        edition: present.edition,
      },
    }),
  ];
}

function overlaps(input: StateInput, beside: readonly MethodEdition[]): readonly Refusal[] {
  const { leastPerMille: least, greatestPerMille: greatest } = input.scope;
  const other = beside.find(
    ({ scope }) => scope.leastPerMille <= greatest && scope.greatestPerMille >= least,
  );
  if (!other) return [];
  const { leastPerMille, greatestPerMille } = other.scope;
  return [
    refuse(methodRefusals, 'MethodScopesOverlap', {
      message: `${other.title}, edition ${other.edition}, holds from ${leastPerMille} to ${greatestPerMille} ‰; this one would hold from ${least} to ${greatest} ‰.`,
      field: 'scope.leastPerMille',
      figures: { method: other.method, edition: other.edition, leastPerMille, greatestPerMille },
    }),
  ];
}

function decideStating(input: StateInput, { present, beside }: StatingFacts): Decision {
  const refusals = [
    ...calculationUnknown(input),
    ...finenessSlip({
      of: input.title,
      field: 'scope.greatestPerMille',
      finenessPerMille: input.scope.greatestPerMille,
    }),
    ...isAnother(input, present),
    ...overlaps(input, beside),
  ];
  if (refusals.length > 0) return { refusals };
  const edition = (present?.edition ?? 0) + 1;
  return {
    entries: [draft(MethodStated, { ...input, notes: input.notes ?? '', edition })],
    answer: { method: input.method, edition },
  };
}

/** States a method, or a new edition of it. */
const stateMethod = defineCommand({
  command: 'state-method',
  station: 'registers',
  title: 'State method',
  input: stateInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: statingFacts,
  decide: decideStating,
});

export const methodCommands = [stateMethod] as const;
