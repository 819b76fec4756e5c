import { greatestTray } from './pick-walk.ts';

/** Names the paper of a melt whose blanks are laid out on trays of that size. */
const trayMark = '@';

/** A melt, or a melt and the size of the trays: M-1 or M-1@100. */
export function askedFor(
  id: string,
): { readonly melt: string; readonly trayPieces: number | null } | undefined {
  const [melt = '', tray] = id.split(trayMark);
  if (tray === undefined) return { melt, trayPieces: null };
  const trayPieces = Number(tray);
  const isSize = /^\d{1,5}$/.test(tray) && trayPieces >= 1 && trayPieces <= greatestTray;
  return isSize ? { melt, trayPieces } : undefined;
}
