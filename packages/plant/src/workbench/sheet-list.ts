import type { SheetListed } from './plant-client.ts';
import type { Screen } from './screen.ts';

/** Sheets that one person fills for one command on one thing: a run keeps its controls beside it. */
export interface SheetGroup {
  readonly key: string;
  readonly name: string;
  readonly title: string;
  /** What they are for: a melt. */
  readonly thing: string;
  /** When the newest of them was last typed on. */
  readonly keptAt: string;
  readonly isOwn: boolean;
  readonly sheets: readonly SheetListed[];
}

/** The first word of the thing that a sheet is kept for: what the page is of. */
const subjectOf = ({ thing }: SheetListed): string => thing.split(' ')[0] ?? thing;

/** The sheets that are kept, those of one piece of work together, the one untouched longest first. */
export function groupsOf(listed: readonly SheetListed[]): readonly SheetGroup[] {
  const groups = new Map<string, readonly SheetListed[]>();
  for (const one of listed) {
    const key = [one.person, one.command, subjectOf(one)].join(' ');
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups].flatMap(([key, sheets]) => {
    const [first] = sheets;
    const keptAt = sheets
      .map((one) => one.keptAt)
      .sort()
      .at(-1);
    if (!first || keptAt === undefined) return [];
    const { name, title, isOwn } = first;
    return { key, name, title, thing: subjectOf(first), keptAt, isOwn, sheets };
  });
}

/** The page on which a sheet is filled; nothing where no page says that it does. */
export function pageOfSheets(
  screens: readonly Pick<Screen, 'path' | 'sheets'>[],
  group: SheetGroup,
): string | undefined {
  const command = group.sheets[0]?.command ?? '';
  const screen = screens.find(({ sheets }) => sheets?.includes(command));
  return screen?.path.replace(/\$[A-Za-z]+/, () => encodeURIComponent(group.thing));
}
