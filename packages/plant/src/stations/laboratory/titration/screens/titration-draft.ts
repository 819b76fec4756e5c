import type { PotentialUnit } from '../../../../ports/instrument-dialect.ts';
import {
  decimalOf,
  emptyReading,
  type ReadingDraft,
  readingOf,
} from '../../../../workbench/index.ts';
import { blanksToAssay, freeLabel } from '../../screens/cupellation-draft.ts';
import type { TrialAnswer } from '../../screens/trial-answer.ts';
import type { TitrationCommand } from '../inputs.ts';
import { type CurveRead, readCurve } from '../read-curve.ts';
import type { Stream } from './streamed-text.ts';

/** The curve of a vessel while it is made: text as it was typed, pasted, read from a file or collected. */
export interface CurveDraft {
  readonly text: string;
  readonly origin: TitrationCommand['samples'][number]['origin'];
  readonly fileName: string;
  /** The curve of the titrator that is collected; left out where none is. */
  readonly stream?: Stream | undefined;
  /** Empty where the table says it itself. */
  readonly potentialUnit: PotentialUnit | '';
  /** The end point that was confirmed; empty while none is. */
  readonly confirmed: string;
  /** Whether another point than the one found is taken. */
  readonly isOther: boolean;
  readonly reason: string;
}

/** A vessel: metal weighed in, and its curve. */
export interface VesselDraft {
  readonly label: string;
  /** Blank of a portion, or bottle of a reference material; empty for a standard. */
  readonly from: string;
  readonly minutes: string;
  readonly taken: ReadingDraft;
  readonly curve: CurveDraft;
}

type MethodKind = 'second derivative' | 'smoothing spline' | 'precipitation curve';

export interface TitrationDraft {
  readonly assayRun: string;
  readonly titrant: string;
  readonly halide: TitrationCommand['halide'];
  readonly concentration: string;
  readonly method: MethodKind;
  readonly startVolume: string;
  readonly drift: NonNullable<TitrationCommand['drift']>;
  /** Left out in sheets that were begun before a titre could stand for standards. */
  readonly factorBy?: 'standards' | 'titre';
  readonly titre?: string;
  readonly silverFineness: string;
  readonly silverUncertainty: string;
  readonly buretteUncertainty: string;
  readonly reagentBlank: 'none' | 'stated' | 'titrated';
  readonly blankVolume: string;
  readonly blankUncertainty: string;
  readonly blankCurve: CurveDraft;
  readonly standards: readonly VesselDraft[];
  readonly samples: readonly VesselDraft[];
  readonly references: readonly VesselDraft[];
  /** Lots of other reagents, apart by commas. */
  readonly reagentLots: string;
}

const noCurve: CurveDraft = {
  text: '',
  origin: 'typed',
  fileName: '',
  potentialUnit: '',
  confirmed: '',
  isOther: false,
  reason: '',
};

/** A curve that became another one has no end point that anybody confirmed. */
export const unconfirmed = { confirmed: '', isOther: false, reason: '' } as const;

const letters = { standards: 'S', samples: 'A', references: 'R' } as const;

export type VesselList = keyof typeof letters;

/** A vessel on which nothing has been read yet, with a label that none of its list bears. */
export function newVessel(
  list: VesselList,
  vessels: readonly VesselDraft[],
  from = '',
): VesselDraft {
  return {
    label: freeLabel(letters[list], vessels),
    from,
    minutes: '',
    taken: emptyReading('mg'),
    curve: noCurve,
  };
}

/** Two standards, and a portion of each blank that waits. */
export function firstTitration(
  answer: Pick<TrialAnswer, 'blanks' | 'determinations'>,
  left: number,
): TitrationDraft {
  const standards = [newVessel('standards', [])];
  const samples: VesselDraft[] = [];
  for (const blank of blanksToAssay(answer).suggested.slice(0, left)) {
    samples.push(newVessel('samples', samples, blank));
  }
  return {
    assayRun: '',
    titrant: '',
    halide: 'bromide',
    concentration: '',
    method: 'second derivative',
    startVolume: '',
    drift: 'bracketing',
    silverFineness: '',
    silverUncertainty: '',
    buretteUncertainty: '',
    reagentBlank: 'none',
    blankVolume: '',
    blankUncertainty: '',
    blankCurve: noCurve,
    standards: [...standards, newVessel('standards', standards)],
    samples,
    references: [],
    reagentLots: '',
  };
}

/** The curve as far as it can be read. */
export function curveOf({ text, potentialUnit }: CurveDraft): CurveRead {
  return readCurve(text, potentialUnit === '' ? {} : { potentialUnit });
}

/** The method as the calculation takes it; nothing while it lacks a figure. */
export function methodOf(
  draft: Pick<TitrationDraft, 'method' | 'startVolume'>,
): TitrationCommand['method'] | undefined {
  const { method: kind } = draft;
  if (kind === 'second derivative') return { kind, windowPoints: 4 };
  if (kind === 'smoothing spline') return { kind };
  const startVolumeMillilitres = decimalOf(draft.startVolume);
  if (typeof startVolumeMillilitres !== 'number') return undefined;
  return { kind, startVolumeMillilitres, electrode: { kind: 'fitted' } };
}

/** A curve with its confirmed end point, as commands take it. */
function titratedInput(curve: CurveDraft, minutes: string) {
  const read = curveOf(curve);
  return {
    minutes: decimalOf(minutes),
    curve: read.outcome === 'read' ? read.points : [],
    origin: curve.origin,
    fileName: curve.origin === 'file' && curve.fileName !== '' ? curve.fileName : null,
    endPointConfirmedMillilitres: decimalOf(curve.confirmed),
    ...(curve.isOther ? { endPointReason: curve.reason } : {}),
  };
}

function reagentBlankInput(draft: TitrationDraft) {
  switch (draft.reagentBlank) {
    case 'none':
      return { kind: 'none' };
    case 'stated':
      return {
        kind: 'stated',
        volumeMillilitres: decimalOf(draft.blankVolume),
        standardUncertaintyMillilitres: decimalOf(draft.blankUncertainty),
      };
    case 'titrated':
      return { kind: 'titrated', ...titratedInput(draft.blankCurve, '0') };
  }
}

/** The volume of the blank as a control of the run: the edition of a method may limit it. */
function blankControls(draft: TitrationDraft) {
  if (draft.reagentBlank === 'none') return {};
  const typed = draft.reagentBlank === 'stated' ? draft.blankVolume : draft.blankCurve.confirmed;
  const value = decimalOf(typed);
  return { blanks: [{ label: 'BLANK', quantity: 'volume', unit: 'mL', value }] };
}

const lotsOf = (text: string): readonly string[] =>
  text
    .split(/[,;\s]+/)
    .map((lot) => lot.trim())
    .filter((lot) => lot !== '');

const vessel = ({ label, minutes, curve }: VesselDraft) => ({
  label,
  ...titratedInput(curve, minutes),
});

/** Whether a factor determined before stands for standards in the run. */
export const isByTitre = (draft: TitrationDraft): boolean => draft.factorBy === 'titre';

/** Where the factor comes from: a titre, or the standards of the run. */
function factorInput(draft: TitrationDraft) {
  if (isByTitre(draft)) return { titre: draft.titre ?? '' };
  return {
    drift: draft.drift,
    silverFinenessPerMille: decimalOf(draft.silverFineness),
    silverStandardUncertaintyPerMille: decimalOf(draft.silverUncertainty),
    standards: draft.standards.map((one) => ({ ...vessel(one), silver: readingOf(one.taken) })),
  };
}

/** The run as the command takes it. */
export function titrationInputOf(
  draft: TitrationDraft,
  given: { readonly melt: string; readonly balance: string; readonly instrument: string },
) {
  const concentration = decimalOf(draft.concentration);
  const lots = lotsOf(draft.reagentLots);
  return {
    assayRun: draft.assayRun,
    ...given,
    titrant: draft.titrant,
    halide: draft.halide,
    ...(concentration === null ? {} : { titrantMolesPerLitre: concentration }),
    method: methodOf(draft),
    ...factorInput(draft),
    buretteStandardUncertaintyMillilitres: decimalOf(draft.buretteUncertainty),
    reagentBlank: reagentBlankInput(draft),
    samples: draft.samples.map((one) => ({
      ...vessel(one),
      blank: one.from,
      sample: readingOf(one.taken),
    })),
    ...(draft.references.length === 0
      ? {}
      : {
          references: draft.references.map((one) => ({
            ...vessel(one),
            referenceMaterial: one.from,
            taken: readingOf(one.taken),
          })),
        }),
    ...blankControls(draft),
    ...(lots.length === 0 ? {} : { reagentLots: lots }),
  };
}

const isEmpty = (text: string): boolean => text.trim() === '';

/** What is still missing of a run, in a sentence; nothing once it can be recorded. */
export function titrationNotYet(draft: TitrationDraft): string | undefined {
  if (isEmpty(draft.assayRun)) return 'Name the run.';
  if (isEmpty(draft.titrant)) return 'Name the lot of the titrant.';
  if (isEmpty(draft.buretteUncertainty)) return 'State the standard uncertainty of the burette.';
  if (methodOf(draft) === undefined) return 'State the volume of the solution before titrating.';
  if (isByTitre(draft) && isEmpty(draft.titre ?? '')) return 'Name the titre of the lot.';
  const standards = isByTitre(draft) ? [] : draft.standards;
  const vessels = [...standards, ...draft.samples, ...draft.references];
  const unweighed = vessels.filter(({ taken }) => isEmpty(taken.text));
  if (unweighed.length > 0) {
    return `${unweighed.map(({ label }) => label).join(', ')} not weighed yet. What is here is kept.`;
  }
  const curves = [
    ...vessels.map(({ label, curve }) => ({ label, curve })),
    ...(draft.reagentBlank === 'titrated' ? [{ label: 'the blank', curve: draft.blankCurve }] : []),
  ];
  const open = curves.filter(({ curve }) => isEmpty(curve.confirmed));
  if (open.length === 0) return undefined;
  return `Confirm the end point of ${open.map(({ label }) => label).join(', ')}.`;
}
