import type { ReactNode } from 'react';
import { paperPath } from './plant-client.ts';

/** A printed paper of a thing; it opens beside the workbench. */
export function PaperLink(props: {
  readonly paper: string;
  readonly id: string;
  readonly children: ReactNode;
}) {
  return (
    <a className="link" href={paperPath(props.paper, props.id)} target="_blank" rel="noreferrer">
      {props.children}
    </a>
  );
}
