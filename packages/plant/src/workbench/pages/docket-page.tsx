import type { DocketPaper } from '../../journal/station.ts';
import { printAge, printInstant } from '../number-text.ts';
import { Empty, Page, Pending } from '../page.tsx';
import { PathLink } from '../path-link.tsx';
import { State } from '../state.tsx';
import { useQuestion } from '../use-question.ts';

/** What the question `docket` answers: oldest first. */
interface DocketAnswer {
  readonly papers: readonly (DocketPaper & { readonly stationTitle: string })[];
}

/** The docket: a pile of papers that wait for a decision, oldest promise first. */
export function DocketPage() {
  const { answer, problem } = useQuestion<DocketAnswer>('docket');
  if (!answer) {
    return (
      <Page title="Docket">
        <Pending problem={problem} />
      </Page>
    );
  }
  const { papers } = answer;
  const stopped = papers.filter((paper) => paper.weight === 'stopped').length;
  return (
    <Page title="Docket" about={aboutPile(papers.length, stopped)}>
      {papers.length === 0 ? (
        <Empty
          what="Nothing waits for a decision."
          how="Papers come here by themselves: a melt that has been judged, a tube that is stopped, a difference that stays."
        />
      ) : (
        <ol className="pile">
          {papers.map((paper) => (
            <DocketSheet key={paper.paper} paper={paper} />
          ))}
        </ol>
      )}
      <p className="faint">
        <PathLink to="/sheets">Half-filled sheets</PathLink> wait for nobody’s decision; the plant
        keeps them.
      </p>
    </Page>
  );
}

function aboutPile(papers: number, stopped: number): string {
  if (papers === 0) return '';
  const words = papers === 1 ? '1 paper waits' : `${papers} papers wait`;
  return stopped > 0 ? `${words}, ${stopped} of them with work stopped` : `${words}, oldest first`;
}

function waitingWords(since: string): string {
  const age = printAge(since);
  return age === 'just now' ? 'since just now' : `waits ${age}`;
}

function DocketSheet({ paper }: { readonly paper: DocketAnswer['papers'][number] }) {
  return (
    <li className={`sheet sheet-${paper.weight}`}>
      <div className="sheet-head">
        <span>{paper.stationTitle}</span>
        <State word={paper.weight === 'stopped' ? 'stopped' : 'look'} tone={paper.weight} />
        <time className="faint" dateTime={paper.since} title={printInstant(paper.since)}>
          {waitingWords(paper.since)}
        </time>
      </div>
      <p className="sheet-what">{paper.what}</p>
      <p className="sheet-why">{paper.why}</p>
      <div className="sheet-foot">
        <p>
          <span className="faint">Holds up</span> {paper.holdsUp}
        </p>
        <PathLink to={paper.path} className="act-link">
          {paper.act}
        </PathLink>
      </div>
    </li>
  );
}
