import { roundNumberText } from '@cupel/calculation';
import type { Calculated } from '../../../journal/calculated.ts';
import { type Reading, readingMicrograms } from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { Draft } from '../../../journal/station.ts';
import { draftReferenceMaterialUsed, type MethodEdition } from '../../registers/index.ts';
import { agreement, agreementVersion } from './agreement.ts';
import type { BlankResult, Comparison, ReferenceResult, RunQuality } from './bodies.ts';
import type { ControlFacts } from './control-facts.ts';
import type { ReferencePortion, StatedControls } from './inputs.ts';
import { controlRefusals } from './refusals.ts';

/** A value that a run found of a reference material. */
export interface FoundValue {
  readonly quantity: string;
  readonly unit: string;
  readonly value: number;
  readonly standardUncertainty: number;
}

/** A reference portion with what the run found of it. */
export interface FoundReference extends ReferencePortion {
  readonly readings: readonly { readonly what: string; readonly reading: Reading }[];
  readonly calculated: Calculated;
  readonly found: readonly FoundValue[];
}

/** The controls of a run, judged: what the record keeps, and why the run is void. */
export interface JudgedControls {
  readonly quality: RunQuality;
  /** Null where every control passes. */
  readonly voidReason: string | null;
  /** Entries that belong to the run: what it used of reference materials. */
  readonly drafts: readonly Draft[];
}

/** Eₙ up to which a reference material agrees where no method sets a limit. */
const usualGreatestNormalizedError = 1;

const editionOf = ({ inForce }: ControlFacts): MethodEdition | undefined =>
  inForce.state === 'in force' ? inForce.edition : undefined;

function comparisonsOf(reference: FoundReference, facts: ControlFacts): readonly Comparison[] {
  const row = facts.materials.get(reference.referenceMaterial);
  const greatestNormalizedError =
    editionOf(facts)?.greatestNormalizedError ?? usualGreatestNormalizedError;
  return (row?.certified ?? []).flatMap((certified) => {
    const { quantity, unit } = certified;
    const found = reference.found.find((one) => one.quantity === quantity && one.unit === unit);
    if (!found) return [];
    const input = {
      found: found.value,
      foundStandardUncertainty: found.standardUncertainty,
      certified: certified.value,
      certifiedStandardUncertainty: certified.standardUncertainty,
      greatestNormalizedError,
    };
    return { quantity, unit, version: agreementVersion, input, output: agreement(input) };
  });
}

function referenceResult(
  reference: FoundReference,
  comparisons: readonly Comparison[],
): ReferenceResult {
  const { label, referenceMaterial, taken, calculated } = reference;
  return {
    label,
    referenceMaterial,
    taken,
    readings: [...reference.readings],
    calculated,
    comparisons: [...comparisons],
    agrees: comparisons.every((one) => one.output.agrees),
  };
}

function nothingCertified(reference: FoundReference, index: number): Refusal {
  const quantities = reference.found.map((one) => one.quantity);
  return refuse(controlRefusals, 'CertifiedValueMissing', {
    message: `Nothing is certified of ${reference.referenceMaterial} that this run finds: ${quantities.join(', ')}.`,
    field: `references.${index}.referenceMaterial`,
    figures: { referenceMaterial: reference.referenceMaterial, found: quantities },
  });
}

function blankResults(
  blanks: NonNullable<StatedControls['blanks']>,
  edition: MethodEdition | undefined,
): readonly BlankResult[] {
  return blanks.map(({ label, quantity, unit, value }) => {
    const limit = edition?.blanks.find((one) => one.quantity === quantity && one.unit === unit);
    const greatest = limit?.greatest ?? null;
    const passes = greatest === null ? null : Math.abs(value) <= greatest;
    return { label, quantity, unit, value, greatest, passes };
  });
}

/** Significant digits to which a control is told; enough to see why it does not pass. */
const print = (value: number): string =>
  roundNumberText(value, Math.abs(value) < 10 ? 4 : 3, 'half-even').replace(/\.?0+$/, '');

function failedReference({ label, referenceMaterial, comparisons }: ReferenceResult): string {
  const words = comparisons
    .filter((one) => !one.output.agrees)
    .map(({ quantity, unit, input, output }) => {
      const error = roundNumberText(output.normalizedError, 2, 'half-even');
      return `${quantity} found ${print(input.found)} ${unit}, certified ${print(input.certified)} ${unit}, Eₙ ${error} beyond ${input.greatestNormalizedError}`;
    });
  return `Reference material ${referenceMaterial}, portion ${label}: ${words.join('; ')}.`;
}

const failedBlank = ({ label, quantity, unit, value, greatest }: BlankResult): string =>
  `Blank ${label}: ${quantity} ${print(value)} ${unit}; the greatest is ${greatest} ${unit}.`;

/** What was used of each reference material, in one entry each. */
function usedDrafts(assayRun: string, references: readonly FoundReference[]): readonly Draft[] {
  const used = new Map<string, number>();
  for (const { referenceMaterial, taken } of references) {
    used.set(referenceMaterial, (used.get(referenceMaterial) ?? 0) + readingMicrograms(taken));
  }
  return [...used].map(([referenceMaterial, massMicrograms]) =>
    draftReferenceMaterialUsed({ referenceMaterial, massMicrograms, usedFor: assayRun }),
  );
}

/**
 * Judges the controls of a run against certificates and the edition of its method. A control that
 * does not pass makes the run void, whether the method asked for it or not; a repeated run under
 * a new name is the way out.
 */
export function judgeControls(
  run: {
    readonly assayRun: string;
    readonly references: readonly FoundReference[];
    readonly controls: StatedControls;
  },
  facts: ControlFacts,
): JudgedControls | { readonly refusals: readonly Refusal[] } {
  const edition = editionOf(facts);
  const compared = run.references.map((reference) => comparisonsOf(reference, facts));
  const refusals = run.references.flatMap((reference, index) =>
    compared[index]?.length ? [] : [nothingCertified(reference, index)],
  );
  if (refusals.length > 0) return { refusals };
  const references = run.references.map((reference, index) =>
    referenceResult(reference, compared[index] ?? []),
  );
  const blanks = blankResults(run.controls.blanks ?? [], edition);
  const failures = [
    ...references.filter((one) => !one.agrees).map(failedReference),
    ...blanks.filter((one) => one.passes === false).map(failedBlank),
  ];
  const lots = run.controls.reagentLots ?? [];
  const hasControls = references.length + blanks.length > 0;
  return {
    quality: {
      ...(edition ? { method: { method: edition.method, edition: edition.edition } } : {}),
      ...(hasControls ? { controls: { references, blanks: [...blanks] } } : {}),
      ...(lots.length > 0 ? { reagentLots: [...lots] } : {}),
    },
    voidReason: failures.length > 0 ? failures.join(' ') : null,
    drafts: usedDrafts(run.assayRun, run.references),
  };
}

/** The reasons why a run is void in one text; null where there is none. */
export function joinReasons(reasons: readonly (string | null)[]): string | null {
  const given = reasons.filter((reason) => reason !== null);
  return given.length > 0 ? given.join(' ') : null;
}
