import type { FineMassOutput } from '@cupel/calculation';
import { calculate } from '../../journal/calculated.ts';
import type { CertificateContent, CertifiedBox } from './content.ts';
import { certificateStatements } from './statements.ts';
import { totalsOf } from './totals.ts';
import { asCertified, trialMelt } from './trial-melt.ts';

/**
 * The content of a certificate for tests: an invented plant, an invented piece, readings chosen by
 * hand, and every figure computed from them by the catalogue.
 */

const trialPieceStandard = {
  pieceStandard: 'LARCH-20',
  title: 'Larch, 20 g',
  metal: 'gold' as const,
  finenessDeclaredPartsPerMillion: 900_000,
  finenessLimitPerMille: 900,
  massDeclaredMilligrams: 20_000,
  massLeastMilligrams: 20_000,
  massGreatestMilligrams: 20_060,
  diameterLeastMillimetres: 26.9,
  diameterGreatestMillimetres: 27.1,
  thicknessLeastMillimetres: 1.9,
  thicknessGreatestMillimetres: 2.1,
};

function trialTube(tube: string, melt: string, grossGrams: string) {
  const netMicrograms = Math.round((Number(grossGrams) - 12) * 1e6);
  const count = calculate('count-by-weight', {
    nominalPieces: 20,
    pieceMassGrams: 20.005,
    pieceStandardDeviationGrams: 0.008,
    lotStandardDeviationGrams: 0.004,
    referencePieces: 50,
    gainRelative: 0.0001,
    tareStandardDeviationGrams: 0.08,
    repeatabilityGrams: 0.05,
    divisionGrams: 0.1,
    readingsTaken: 1,
    netReadingsGrams: [netMicrograms / 1e6],
    priorMiscountProbability: 0.0002,
    badWeighingProbability: 0.001,
    badWeighingSpreadGrams: 20,
  });
  return {
    tube,
    melt,
    pieces: 20,
    grossMicrograms: netMicrograms,
    weighings: [
      {
        gross: { text: grossGrams, unit: 'g', typed: false },
        tare: null,
        tareMicrograms: 12_000_000,
        netMicrograms,
        entry: 41,
      },
    ],
    count: { name: `count of ${tube}`, entry: 41, calculated: asCertified(count.calculated) },
  };
}

function trialBox(box: string, seal: string, melts: readonly string[]): CertifiedBox {
  const tubes = melts.flatMap((melt, group) =>
    Array.from({ length: 5 }, (_, index) =>
      trialTube(
        `${box}-${group * 5 + index + 1}`,
        melt,
        ['412.1', '412.0', '412.2'][index % 3] as string,
      ),
    ),
  );
  const parts = melts.map((melt) => {
    const own = tubes.filter((tube) => tube.melt === melt);
    const grossMicrograms = own.reduce((total, tube) => total + tube.grossMicrograms, 0);
    const fine = calculate<FineMassOutput>('fine-mass', {
      grossMicrograms,
      finenessPartsPerMillion: 900_000,
      roundingRule: 'half-even',
    });
    return {
      melt,
      pieces: own.length * 20,
      grossMicrograms,
      fineMicrograms: Number(fine.output.fineMicrograms),
      fine: {
        name: `fine mass of ${box} from ${melt}`,
        entry: 70,
        calculated: asCertified(fine.calculated),
      },
    };
  });
  const tubesGross = tubes.reduce((total, tube) => total + tube.grossMicrograms + 12_000_000, 0);
  return {
    box,
    seal,
    entry: 60,
    instant: '2026-03-03T10:00:00.000Z',
    pieces: tubes.length * 20,
    grossMicrograms: parts.reduce((total, part) => total + part.grossMicrograms, 0),
    fineMicrograms: parts.reduce((total, part) => total + part.fineMicrograms, 0),
    parts,
    boxGross: { text: ((tubesGross + 800_000_000) / 1e6).toFixed(1), unit: 'g', typed: false },
    boxTare: { text: '800.0', unit: 'g', typed: false },
    boxTareMicrograms: 800_000_000,
    boxLessTubesMicrograms: 0,
    tubes,
  };
}

/** A certificate over so many boxes, each filled from two melts. */
export function trialContent(boxes = 2): CertificateContent {
  const melts = ['M-2601', 'M-2602'];
  const list = Array.from({ length: boxes }, (_, index) =>
    trialBox(`B-00${index + 1}`, `S-88${10 + index}`, melts),
  );
  return {
    format: 'cupel certificate 1',
    certificate: 'CERT-2026-0001',
    title: 'Certificate of gold pieces',
    issued: '2026-03-03T11:30:00.000Z',
    plant: { plant: 'trial', title: 'Fernau Coining Plant', timeZone: 'Europe/Vienna' },
    issuer: { person: 'chief', name: 'Chief Brandt' },
    replaces: null,
    pieceStandard: trialPieceStandard,
    totals: totalsOf(list),
    boxes: list,
    melts: melts.map(trialMelt),
    statements: certificateStatements({
      metal: 'gold',
      methods: ['cupellation'],
      decisions: [{ guardFactor: 2 }],
    }),
  };
}
