import { readingMicrograms } from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type MethodEdition,
  notInUse,
  type PieceStandard,
  type ReferenceMaterialRow,
  unfitLot,
} from '../../registers/index.ts';
import type { ControlFacts } from './control-facts.ts';
import type { StatedControls } from './inputs.ts';
import { controlRefusals } from './refusals.ts';

/** A run as the gate sees it. */
export interface GatedRun {
  readonly standard: PieceStandard;
  /** Id of the calculation that the run is computed by. */
  readonly calculation: string;
  readonly controls: StatedControls;
}

function noMethod({ standard }: GatedRun, { inForce }: ControlFacts): readonly Refusal[] {
  if (inForce.state !== 'outside') return [];
  const finenessPerMille = standard.finenessDeclaredPartsPerMillion / 1000;
  const scopes = inForce.editions.map(
    ({ title, scope }) => `${title}, ${scope.leastPerMille} to ${scope.greatestPerMille} ‰`,
  );
  return [
    refuse(controlRefusals, 'NoMethodInScope', {
      message: `${standard.title} is declared at ${finenessPerMille} ‰; stated are ${scopes.join('; ')}.`,
      field: 'melt',
      figures: { pieceStandard: standard.pieceStandard, finenessPerMille, scopes },
    }),
  ];
}

function calculationDiffers(run: GatedRun, edition: MethodEdition): readonly Refusal[] {
  if (edition.calculation === run.calculation) return [];
  return [
    refuse(controlRefusals, 'CalculationDiffers', {
      message: `${edition.title}, edition ${edition.edition}, asks for the calculation ${edition.calculation}; this run is computed by ${run.calculation}.`,
      figures: {
        method: edition.method,
        edition: edition.edition,
        calculation: edition.calculation,
        computedBy: run.calculation,
      },
    }),
  ];
}

function materialsMissing(
  run: GatedRun,
  edition: MethodEdition,
  { materials }: ControlFacts,
): readonly Refusal[] {
  const references = run.controls.references ?? [];
  return edition.referenceMaterials.flatMap((asked) => {
    const there = references.filter(({ referenceMaterial }) =>
      asked.by === 'id'
        ? referenceMaterial === asked.name
        : materials.get(referenceMaterial)?.kind === asked.name,
    ).length;
    if (there >= asked.perRun) return [];
    return refuse(controlRefusals, 'ControlMissing', {
      message: `${edition.title}, edition ${edition.edition}, asks for ${asked.perRun} of reference material ${asked.name} in every run; this one has ${there}.`,
      field: 'references',
      figures: {
        method: edition.method,
        edition: edition.edition,
        [asked.by]: asked.name,
        asked: asked.perRun,
        there,
      },
    });
  });
}

function blanksMissing(run: GatedRun, edition: MethodEdition): readonly Refusal[] {
  const blanks = run.controls.blanks ?? [];
  return edition.blanks
    .filter(({ quantity, unit }) =>
      blanks.every((blank) => blank.quantity !== quantity || blank.unit !== unit),
    )
    .map(({ quantity, unit }) =>
      refuse(controlRefusals, 'ControlMissing', {
        message: `${edition.title}, edition ${edition.edition}, asks for a blank of ${quantity} in ${unit} in every run; this one has none.`,
        field: 'blanks',
        figures: { method: edition.method, edition: edition.edition, quantity, unit },
      }),
    );
}

/** A use of a reference material, as a command states it. */
interface StatedUse {
  readonly id: string;
  readonly field: string;
  /** Metal that it must be. */
  readonly metal: string;
  readonly takenMicrograms: number;
  readonly day: string;
}

function tooMuchTaken(use: StatedUse, row: ReferenceMaterialRow): readonly Refusal[] {
  const { id, takenMicrograms } = use;
  const remainingMicrograms = row.massRemainingMicrograms;
  if (takenMicrograms <= remainingMicrograms) return [];
  return [
    refuse(controlRefusals, 'ReferenceMaterialUsedUp', {
      message: `${takenMicrograms / 1000} mg of ${row.title}, ${id}, are said to be used; ${remainingMicrograms / 1000} mg are left.`,
      field: use.field,
      figures: { referenceMaterial: id, takenMicrograms, remainingMicrograms },
    }),
  ];
}

/** Refuses a reference material that is unknown, retired, another metal, out of date, or used up. */
export function unfitMaterial(
  use: StatedUse,
  row: ReferenceMaterialRow | undefined,
): readonly Refusal[] {
  const { id, field, metal, day } = use;
  const outOfUse = notInUse({ id, field }, row);
  if (outOfUse.length > 0 || !row) return outOfUse;
  if (row.metal !== metal) {
    return [
      refuse(controlRefusals, 'ReferenceMaterialOfOtherMetal', {
        message: `${row.title}, ${id}, is ${row.metal}; it must be ${metal}.`,
        field,
        figures: { referenceMaterial: id, metal: row.metal, accepted: metal },
      }),
    ];
  }
  if (row.validUntil < day) {
    return [
      refuse(controlRefusals, 'ReferenceMaterialExpired', {
        message: `The certificate of ${row.title}, ${id}, held until ${row.validUntil}; today is ${day}.`,
        field,
        figures: { referenceMaterial: id, validUntil: row.validUntil, day },
      }),
    ];
  }
  return tooMuchTaken(use, row);
}

function unfitMaterials(run: GatedRun, facts: ControlFacts): readonly Refusal[] {
  const taken = new Map<string, number>();
  return (run.controls.references ?? []).flatMap((one, index) => {
    const id = one.referenceMaterial;
    const takenMicrograms = (taken.get(id) ?? 0) + readingMicrograms(one.taken);
    taken.set(id, takenMicrograms);
    const field = `references.${index}.referenceMaterial`;
    const use = { id, field, metal: run.standard.metal, takenMicrograms, day: facts.day };
    return unfitMaterial(use, facts.materials.get(id));
  });
}

/** Refuses lots that are unknown, condemned, not open, or past their last day. */
function unfitLots(run: GatedRun, facts: ControlFacts): readonly Refusal[] {
  return (run.controls.reagentLots ?? []).flatMap((id, index) =>
    unfitLot({ id, field: `reagentLots.${index}` }, facts.lots.get(id), facts.day),
  );
}

function reagentsMissing(edition: MethodEdition, { lots }: ControlFacts): readonly Refusal[] {
  const named = new Set([...lots.values()].map((row) => row.reagent));
  return edition.reagents
    .filter((reagent) => !named.has(reagent))
    .map((reagent) =>
      refuse(controlRefusals, 'ReagentMissing', {
        message: `${edition.title}, edition ${edition.edition}, asks for the lot of ${reagent} in every run; this one names none.`,
        field: 'reagentLots',
        figures: { method: edition.method, edition: edition.edition, reagent },
      }),
    );
}

/** Why a run may not be recorded as it stands, for its method and its controls. */
export function gateRefusals(run: GatedRun, facts: ControlFacts): readonly Refusal[] {
  const { inForce } = facts;
  const ofEdition =
    inForce.state === 'in force'
      ? [
          ...calculationDiffers(run, inForce.edition),
          ...materialsMissing(run, inForce.edition, facts),
          ...blanksMissing(run, inForce.edition),
          ...reagentsMissing(inForce.edition, facts),
        ]
      : [];
  return [
    ...noMethod(run, facts),
    ...unfitMaterials(run, facts),
    ...unfitLots(run, facts),
    ...ofEdition,
  ];
}
