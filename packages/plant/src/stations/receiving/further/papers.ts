import type { Paper } from '../../../journal/station.ts';
import { pieceStandardOf, plantOf, supplierOf } from '../../registers/index.ts';
import { melts } from '../books.ts';
import type { PickListPage } from '../pick-list-content.ts';
import { printedDrums } from '../pick-list-content.ts';
import { pickListPdf } from '../pick-list-pdf.ts';
import { askedFor } from '../tray-mark.ts';
import type { FurtherRound } from './books.ts';
import { furtherRoundsOf } from './read-model.ts';
import { furtherWalk } from './walk.ts';

/** The list of a round in words and figures, set by the template of the first sample's list. */
function furtherPage(of: {
  readonly plantTitle: string;
  readonly about: string;
  readonly round: FurtherRound;
  readonly walk: Awaited<ReturnType<typeof furtherWalk>>;
  readonly trayPieces: number | null;
}): PickListPage {
  const { round, walk, trayPieces } = of;
  const [year = 0, month = 0, day = 0] = round.askedAt.slice(0, 10).split('-').map(Number);
  const left = round.drawn?.takenBefore.reduce((total, { pieces }) => total + pieces, 0) ?? 0;
  const howTaken =
    trayPieces === null
      ? 'Positions count the blanks that are left, as they are taken out of the drum.'
      : `Lay the blanks that are left out on trays of ${trayPieces} in the order in which they come out of the drum.`;
  return {
    title: `Further blanks of melt ${round.melt}`,
    plant: of.plantTitle,
    about: of.about,
    facts: [
      ['Blanks to take', String(round.pieces)],
      ['For', 'assay'],
      ['Round', String(round.round)],
      ['Drawn before', `${left} blanks, not drawn again`],
      ['Asked for in', `entry ${round.askedEntry}`],
      ['Seed', `hash of entry ${round.askedEntry}`],
    ],
    words: `${walk.words} ${howTaken} ${round.reason}`,
    hasTrays: trayPieces !== null,
    date: [year, month, day],
    drums: printedDrums(walk.drums),
  };
}

/** The list of further blanks to carry along the drums of a melt. */
const furtherPickListPaper: Paper = {
  paper: 'further-pick-list',
  station: 'receiving',
  title: 'Pick list of further blanks',
  render: async ({ books }, id) => {
    const asked = askedFor(id);
    const melt = asked && (await books.get(melts, asked.melt));
    const round = asked && (await furtherRoundsOf(books, asked.melt)).at(-1);
    if (!asked || !melt || !round?.drawn) return undefined;
    const standard = await pieceStandardOf(books, melt.pieceStandard);
    const supplier = await supplierOf(books, melt.supplier);
    const page = furtherPage({
      plantTitle: (await plantOf(books))?.title ?? '',
      about: `${standard?.title ?? melt.pieceStandard} from ${supplier?.name ?? melt.supplier}, consignment ${melt.consignment}`,
      round,
      walk: await furtherWalk(books, round, asked.trayPieces),
      trayPieces: asked.trayPieces,
    });
    return {
      mediaType: 'application/pdf',
      fileName: `further-blanks-${asked.melt}.pdf`,
      bytes: pickListPdf(page),
    };
  },
};

export const furtherPapers = [furtherPickListPaper] as const;
