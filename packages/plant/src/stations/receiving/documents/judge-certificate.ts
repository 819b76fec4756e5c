import type { ImpurityTableCheckInput, ImpurityTableCheckOutput } from '@cupel/calculation';
import { calculate } from '../../../journal/calculated.ts';
import { plainDecimal } from '../../../tables/number-form.ts';
import type { PieceStandard } from '../../registers/index.ts';
import type { CertificateFinding, CertifiedMelt } from './bodies.ts';
import { type ContentUnit, milligramsPerKilogram, type StatedContent } from './content.ts';

/** What a certificate says of one melt, as it was read. */
export interface StatedMelt {
  readonly melt: string;
  readonly finenessPerMille: number | null;
  readonly composition: readonly (StatedContent & { readonly unit: ContentUnit })[];
}

const symbols = { gold: 'Au', silver: 'Ag' } as const;

const wholeMilligramsPerKilogram = 1_000_000;

/** What an alloy may hold beside its own metal: the rest of the least fineness, without the dust of doubles. */
function allowance(standard: PieceStandard): number {
  return Math.round((1000 - standard.finenessLimitPerMille) * 1e6) / 1e3;
}

type Content = CertifiedMelt['composition'][number];

function contentsOf({ composition }: StatedMelt): readonly Content[] {
  return composition.map(({ element, content, unit, isBelow }) => ({
    element,
    content,
    unit,
    isBelow,
    contentMilligramsPerKilogram: milligramsPerKilogram(content, unit),
  }));
}

/** The sum of what was found, in mg/kg. */
export function foundMilligramsPerKilogram(stated: StatedMelt): number {
  return contentsOf(stated)
    .filter(({ isBelow }) => !isBelow)
    .reduce((sum, { contentMilligramsPerKilogram }) => sum + contentMilligramsPerKilogram, 0);
}

/** Whether the contents fit into the whole, whose last digits may have been rounded up. */
export function isWithinWhole(stated: StatedMelt): boolean {
  return foundMilligramsPerKilogram(stated) <= wholeMilligramsPerKilogram * 1.0005;
}

/**
 * Each impurity, and all together, against what the least fineness of the piece standard leaves for
 * them. A certificate states no uncertainty, so its values are taken as they stand.
 */
function checkInput(impurities: readonly Content[], standard: PieceStandard) {
  const limitMilligramsPerKilogram = allowance(standard);
  const elements = impurities.map(({ element }) => element);
  const input: ImpurityTableCheckInput = {
    standard: standard.pieceStandard,
    edition: `least fineness ${standard.finenessLimitPerMille} ‰`,
    limits: elements.map((element) => ({ element, limitMilligramsPerKilogram })),
    groups: elements.length > 1 ? [{ elements, limitMilligramsPerKilogram }] : [],
    contents: impurities.map(({ element, isBelow, contentMilligramsPerKilogram }) => ({
      element,
      contentMilligramsPerKilogram: isBelow ? null : contentMilligramsPerKilogram,
      standardUncertaintyMilligramsPerKilogram: 0,
      detectionLimitMilligramsPerKilogram: isBelow ? contentMilligramsPerKilogram : 0,
    })),
    coverageFactor: 0,
  };
  return input;
}

/** Half a step of the last digit in which a fineness is stated. */
function halfStep(finenessPerMille: number): number {
  const decimals = plainDecimal(finenessPerMille).split('.')[1]?.length ?? 0;
  return Number(`5e${-decimals - 1}`);
}

/** Holds what a certificate says of a melt against its piece standard, itself and the packing list. */
export function judgeCertificate(
  stated: StatedMelt,
  standard: PieceStandard,
  listedPerMille: number | undefined,
): CertifiedMelt {
  const composition = contentsOf(stated);
  const impurities = composition.filter(({ element }) => element !== symbols[standard.metal]);
  const check =
    impurities.length === 0
      ? undefined
      : calculate<ImpurityTableCheckOutput>(
          'impurity-table-check',
          checkInput(impurities, standard),
        );
  const found = impurities
    .filter(({ isBelow }) => !isBelow)
    .reduce((sum, one) => sum + one.contentMilligramsPerKilogram, 0);
  const leftByImpuritiesPerMille = impurities.length === 0 ? null : 1000 - found / 1000;
  const { finenessPerMille } = stated;
  const findings: CertificateFinding[] = [];
  if (finenessPerMille !== null && finenessPerMille < standard.finenessLimitPerMille) {
    findings.push('fineness below the least');
  }
  if (check?.output.state === 'beyond') {
    findings.push('impurities beyond what the least fineness leaves');
  }
  if (finenessPerMille !== null && leftByImpuritiesPerMille !== null) {
    const beyond = finenessPerMille - leftByImpuritiesPerMille;
    if (beyond > halfStep(finenessPerMille)) {
      findings.push('fineness above what the impurities leave');
    }
  }
  if (finenessPerMille !== null && (listedPerMille ?? finenessPerMille) !== finenessPerMille) {
    findings.push('fineness not that of the packing list');
  }
  return {
    melt: stated.melt,
    finenessPerMille,
    composition: [...composition],
    check: check?.calculated ?? null,
    leftByImpuritiesPerMille,
    findings,
  };
}
