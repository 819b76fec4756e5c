import type { ComponentType } from 'react';

/** What the workbench gives to a screen: the values of the path's named parts, decoded. */
export interface ScreenProps {
  readonly params: Readonly<Record<string, string>>;
}

/** A page that a station brings to the workbench. */
export interface Screen {
  /** Path with named parts, as `/receiving/consignments/$consignment`. */
  readonly path: `/${string}`;
  /** Name of the station it belongs to, as in the station's value. */
  readonly station: string;
  /** What the page is called where it is linked. */
  readonly title: string;
  readonly Component: ComponentType<ScreenProps>;
  /**
   * Commands whose half-filled sheets are filled on this page. The first word of the thing that a
   * sheet is kept for is the first named part of the path.
   */
  readonly sheets?: readonly string[];
}

/** Ties the types of a station's screens together. */
export function defineScreens(screens: readonly Screen[]): readonly Screen[] {
  return Object.freeze(screens);
}
