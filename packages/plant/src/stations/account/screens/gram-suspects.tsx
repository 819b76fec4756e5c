import type { MetalBalanceOutput } from '@cupel/calculation';
import {
  Figure,
  Metal,
  Part,
  PathLink,
  pathTo,
  printNumber,
  State,
  useQuestion,
} from '../../../workbench/index.ts';
import type { GramSuspect } from '../suspects/gram-suspects.ts';

interface SuspectLine {
  readonly pieceStandard: string;
  readonly metal: string;
  readonly missingGrams: number;
  readonly standardUncertaintyGrams: number;
  readonly state: MetalBalanceOutput['state'];
  readonly words: string;
  readonly suspects: readonly (GramSuspect & { readonly title: string | null })[];
}

/** What the question `gram-suspects` answers; nothing to those who count, and before the first close. */
type SuspectsAnswer = { readonly shift: string; readonly lines: readonly SuspectLine[] } | null;

/** The grams of a close at a place, and which balance or tare explains most of them. */
export function GramSuspects(props: {
  readonly place: string;
  /** The close; the newest where nothing is given. */
  readonly shift: string | null;
  /** One piece standard alone, without its figure, which stands on the page already. */
  readonly pieceStandard?: string;
}) {
  const { place, shift, pieceStandard } = props;
  const { answer } = useQuestion<SuspectsAnswer>('gram-suspects', { place, shift });
  const lines = (answer?.lines ?? []).filter(
    (line) => pieceStandard === undefined || line.pieceStandard === pieceStandard,
  );
  if (!answer || lines.length === 0) return null;
  const aside = (
    <PathLink to={pathTo('/account/shifts/$shift', { shift: answer.shift })}>
      {answer.shift}
    </PathLink>
  );
  return (
    <Part
      title={pieceStandard === undefined ? 'Grams at the last close' : 'Which balance explains it'}
      aside={pieceStandard === undefined ? aside : undefined}
    >
      {lines.map((line) => (
        <div key={line.pieceStandard} className="gram-suspects">
          {pieceStandard === undefined ? <Missing line={line} place={place} /> : null}
          <p>{line.words}</p>
          <Suspects suspects={line.suspects} />
        </div>
      ))}
    </Part>
  );
}

/** Whether grams are missing or too much; nothing where the balance shows no difference. */
function wayWords(missingGrams: number): string {
  if (Math.abs(missingGrams) < 0.0005) return '';
  return missingGrams < 0 ? 'too much' : 'missing';
}

const tones = { inside: 'plain', warn: 'look', act: 'stopped' } as const;

function Missing({ line, place }: { readonly line: SuspectLine; readonly place: string }) {
  const { pieceStandard, missingGrams } = line;
  const to = pathTo('/account/history/$place/$standard', { place, standard: pieceStandard });
  const way = wayWords(missingGrams);
  return (
    <h3 className="gram-suspects-head">
      {pieceStandard} <Metal metal={line.metal} />{' '}
      <Figure
        value={Math.abs(missingGrams)}
        uncertainty={line.standardUncertaintyGrams}
        decimals={3}
        unit="g"
      />{' '}
      {line.state === 'inside' ? way : <State word={way} tone={tones[line.state]} />}{' '}
      <PathLink to={to}>
        History<span className="unseen"> of {pieceStandard}</span>
      </PathLink>
    </h3>
  );
}

/** So small a share blames nobody. */
const leastSharePercent = 0.5;

function Suspects({ suspects }: { readonly suspects: SuspectLine['suspects'] }) {
  const shown = suspects.filter(({ sharePercent }) => sharePercent >= leastSharePercent);
  // One alone stands in the sentence above already.
  if (shown.length < 2) return null;
  return (
    <ol className="suspects">
      {shown.map((suspect) => (
        <li key={`${suspect.what} ${suspect.name}`}>
          <span>
            {suspect.what === 'tares' ? `Tares ${suspect.name}` : suspect.name}{' '}
            <span className="faint">
              {[suspect.title, suspect.what === 'tares' ? null : `mainly its ${suspect.mainly}`]
                .filter(Boolean)
                .join(', ')}
            </span>
          </span>
          <span className="suspect-share" aria-hidden="true">
            <span style={{ inlineSize: `${suspect.sharePercent}%` }} />
          </span>
          <span className="suspect-percent">{printNumber(suspect.sharePercent, 0)} %</span>
        </li>
      ))}
    </ol>
  );
}
