import { decimalOf } from '../../../../workbench/number-text.ts';
import { type ContentUnit, readComposition } from '../content.ts';

/** A melt of a certificate while it is typed. */
export interface MeltDraft {
  readonly melt: string;
  readonly fineness: string;
  /** As `Ag 12; Cu 5; Fe <2`. */
  readonly composition: string;
}

export const emptyMelt: MeltDraft = { melt: '', fineness: '', composition: '' };

/** A row in which nothing was stated is left out. */
export function statedMelts(melts: readonly MeltDraft[], unit: ContentUnit) {
  return melts
    .filter(({ melt, fineness, composition }) => melt !== '' && fineness + composition !== '')
    .map(({ melt, fineness, composition }) => ({
      melt,
      finenessPerMille: decimalOf(fineness),
      composition: readComposition(composition).contents.map((one) => ({ ...one, unit })),
    }));
}

/** What in the composition of a row could not be read; nothing where all was. */
export function notReadOf({ composition }: MeltDraft): string | undefined {
  const { notRead } = readComposition(composition);
  return notRead === '' ? undefined : `Not read: ${notRead}. Write it as Ag 12; Cu 5; Fe <2.`;
}

/** Why a certificate cannot be attached yet, told of the first thing that is missing. */
export function whyNotYet(of: {
  readonly document: string;
  readonly melts: readonly MeltDraft[];
  readonly isKept: boolean;
  /** Melts of which it states anything. */
  readonly stated: number;
}): string | undefined {
  if (of.document === '') return 'Say what the certificate is called.';
  if (!of.isKept) return 'Choose the file of the certificate.';
  const notRead = of.melts.map(notReadOf).find((words) => words !== undefined);
  if (notRead !== undefined) return notRead;
  return of.stated > 0 ? undefined : 'Enter what it says of at least one melt.';
}
