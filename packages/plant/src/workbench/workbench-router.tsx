import { createRootRoute, createRoute, createRouter, useParams } from '@tanstack/react-router';
import type { ComponentType } from 'react';
import type { LineStation } from './line.tsx';
import { CalculationPage } from './pages/calculation-page.tsx';
import { CalculationsPage } from './pages/calculations-page.tsx';
import { DocketPage } from './pages/docket-page.tsx';
import { EntryPage } from './pages/entry-page.tsx';
import { FindPage } from './pages/find-page.tsx';
import { JournalPage } from './pages/journal-page.tsx';
import { LineagePage } from './pages/lineage-page.tsx';
import { BrokenPage, NotFoundPage } from './pages/not-found-page.tsx';
import { PersonPage } from './pages/person-page.tsx';
import { SheetsPage } from './pages/sheets-page.tsx';
import type { Screen, ScreenProps } from './screen.ts';
import { type Desk, WorkbenchFrame } from './workbench-frame.tsx';

/** Pages that belong to no station. */
const ownPages: readonly (readonly [path: string, Component: ComponentType<ScreenProps>])[] = [
  ['/', DocketPage],
  ['/calculations', CalculationsPage],
  ['/calculations/$id', CalculationPage],
  ['/find/$code', FindPage],
  ['/journal', JournalPage],
  ['/journal/$number', EntryPage],
  ['/lineage/$thing/$id', LineagePage],
  ['/me', PersonPage],
];

/** What makes the workbench of a plant. */
export interface WorkbenchParts {
  readonly screens: readonly Screen[];
  /** The places of the line in the order of the metal, with the page of each. */
  readonly line: readonly LineStation[];
  /** Places beside the flow. */
  readonly aside: readonly LineStation[];
}

/** Desks are the pages of stations that stand in no place of the line. */
function desksOf({ screens, line }: WorkbenchParts): readonly Desk[] {
  const isDesk = (path: string) => /^\/[^/$]+$/.test(path);
  const beside = screens.filter(
    ({ path }) => isDesk(path) && !line.some((station) => station.path === path),
  );
  return [
    ...beside.map(({ title, path }) => ({ title, path })),
    { title: 'Calculations', path: '/calculations' },
    { title: 'Journal', path: '/journal' },
  ];
}

/** Makes the router of the workbench from the screens that the stations bring. */
export function makeWorkbenchRouter(parts: WorkbenchParts) {
  const desks = desksOf(parts);
  const root = createRootRoute({
    component: () => <WorkbenchFrame stations={parts.line} aside={parts.aside} desks={desks} />,
    notFoundComponent: NotFoundPage,
    errorComponent: BrokenPage,
  });
  const sheets = () => <SheetsPage screens={parts.screens} />;
  const pages = [
    ...ownPages,
    ['/sheets', sheets] as const,
    ...parts.screens.map(({ path, Component }) => [path, Component] as const),
  ];
  const routes = pages.map(([path, Component]) =>
    createRoute({
      getParentRoute: () => root,
      path,
      component: function PageOfPath() {
        const params = useParams({ strict: false }) as Record<string, string>;
        // A page starts afresh when it turns to another thing.
        return <Component key={JSON.stringify(params)} params={params} />;
      },
      errorComponent: BrokenPage,
    }),
  );
  return createRouter({
    routeTree: root.addChildren(routes),
    defaultPreload: false,
    scrollRestoration: true,
  });
}
