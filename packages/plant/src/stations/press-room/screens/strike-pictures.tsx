import { attachmentPath } from '../../../workbench/index.ts';
import type { StrikeRow } from '../books.ts';

/** The photographs of a strike; each opens by itself. */
export function StrikePictures(props: {
  readonly strike: Pick<StrikeRow, 'strikeNumber' | 'photographs'>;
  readonly isLarge?: boolean;
}) {
  const { strikeNumber, photographs } = props.strike;
  return (
    <div className={`strike-pictures${props.isLarge ? ' strike-pictures-large' : ''}`}>
      {photographs.map(({ face, sha256 }) => (
        <a
          key={`${face} ${sha256}`}
          href={attachmentPath(sha256)}
          target="_blank"
          rel="noreferrer"
          title={face}
        >
          <img
            src={attachmentPath(sha256)}
            alt={`${face} of strike ${strikeNumber}`}
            loading="lazy"
          />
        </a>
      ))}
    </div>
  );
}
