import type { FineMassOutput } from '@cupel/calculation';
import { calculate } from '../../journal/calculated.ts';
import { invariant } from '../../journal/fault.ts';
import { readingMicrograms } from '../../journal/reading.ts';
import type { Circumstances } from '../../journal/station.ts';
import { certifiedCalculation, certifiedMelt } from './certified-melt.ts';
import type { CertificateContent, CertifiedBox, CertifiedPart, CertifiedTube } from './content.ts';
import type { BoxFacts, IssueFacts } from './issue-facts.ts';
import { certificateStatements } from './statements.ts';
import { totalsOf } from './totals.ts';

type BoxRow = NonNullable<BoxFacts['row']>;

function certifiedTube(tube: BoxRow['tubes'][number], box: BoxFacts): CertifiedTube {
  const weighing = box.weighings.get(tube.tube);
  invariant(weighing, `the weighing that proved tube ${tube.tube} is missing`);
  const { gross, tare, tareMicrograms, netMicrograms, entry, count } = weighing;
  return {
    tube: tube.tube,
    melt: tube.melt,
    pieces: tube.pieces,
    grossMicrograms: tube.netMicrograms,
    weighings: [{ gross, tare, tareMicrograms, netMicrograms, entry }],
    count: { name: `count of ${tube.tube}`, entry, calculated: certifiedCalculation(count) },
  };
}

/** What a box holds of one melt; the fine mass is the one that the account booked. */
function certifiedPart(part: BoxRow['melts'][number], box: BoxRow, entry: number): CertifiedPart {
  const fine = calculate<FineMassOutput>('fine-mass', {
    grossMicrograms: part.netMicrograms,
    finenessPartsPerMillion: box.finenessDeclaredPartsPerMillion,
    roundingRule: 'half-even',
  });
  invariant(
    Number(fine.output.fineMicrograms) === part.fineMicrograms,
    `box ${box.box} booked ${part.fineMicrograms} µg fine of melt ${part.melt}`,
  );
  return {
    melt: part.melt,
    pieces: part.pieces,
    grossMicrograms: part.netMicrograms,
    fineMicrograms: part.fineMicrograms,
    fine: {
      name: `fine mass of ${box.box} from ${part.melt}`,
      entry,
      calculated: certifiedCalculation(fine.calculated),
    },
  };
}

function certifiedBox(facts: BoxFacts, entry: number): CertifiedBox {
  const { row } = facts;
  invariant(row, `box ${facts.box} is not packed`);
  const tubes = row.tubes.map((tube) => certifiedTube(tube, facts));
  const tubesGross = tubes.map((tube) => readingMicrograms((tube.weighings[0] as Weighing).gross));
  return {
    box: row.box,
    seal: row.seal,
    entry: row.entry,
    instant: row.instant,
    pieces: row.pieces,
    grossMicrograms: row.netMicrograms,
    fineMicrograms: row.fineMicrograms,
    parts: row.melts.map((part) => certifiedPart(part, row, entry)),
    boxGross: row.gross,
    boxTare: row.tare,
    boxTareMicrograms: row.tareMicrograms,
    boxLessTubesMicrograms:
      row.grossMicrograms - row.tareMicrograms - tubesGross.reduce((total, one) => total + one, 0),
    tubes,
  };
}

type Weighing = BoxFacts['weighings'] extends ReadonlyMap<string, infer Row> ? Row : never;

/** Everything that a certificate says, from what the books say. The rule has checked the facts. */
export function certificateContent(
  input: { readonly certificate: string; readonly replaces: string | null },
  facts: IssueFacts,
  circumstances: Circumstances,
): CertificateContent {
  const { plant, standard } = facts;
  invariant(plant && standard, 'a certificate needs the plant and the piece standard');
  const { author, instant, nextNumber } = circumstances;
  const boxes = facts.boxes.map((box) => certifiedBox(box, nextNumber));
  const melts = facts.melts.map((melt) => certifiedMelt(melt, facts));
  return {
    format: 'cupel certificate 1',
    certificate: input.certificate,
    title: `Certificate of ${standard.metal} pieces`,
    issued: instant,
    plant: { plant: circumstances.plant, title: plant.title, timeZone: plant.timeZone },
    issuer: { person: author.person, name: author.name },
    replaces: input.replaces,
    pieceStandard: {
      pieceStandard: standard.pieceStandard,
      title: standard.title,
      metal: standard.metal,
      finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
      finenessLimitPerMille: standard.finenessLimitPerMille,
      massDeclaredMilligrams: standard.massDeclaredMilligrams,
      massLeastMilligrams: standard.massLeastMilligrams,
      massGreatestMilligrams: standard.massGreatestMilligrams,
      diameterLeastMillimetres: standard.diameterLeastMillimetres,
      diameterGreatestMillimetres: standard.diameterGreatestMillimetres,
      thicknessLeastMillimetres: standard.thicknessLeastMillimetres,
      thicknessGreatestMillimetres: standard.thicknessGreatestMillimetres,
      ...(standard.impurityTable ? { impurityTable: standard.impurityTable } : {}),
    },
    totals: totalsOf(boxes),
    boxes,
    melts,
    statements: certificateStatements({
      metal: standard.metal,
      methods: [...new Set(melts.map((melt) => melt.method.name))],
      decisions: melts.map((melt) => melt.decision),
    }),
  };
}
