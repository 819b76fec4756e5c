import { probabilityText } from '@cupel/calculation/probability-text';
import {
  Empty,
  Facts,
  Figure,
  LimitRule,
  LineageStrip,
  Mass,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  SideAct,
  State,
  Table,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { CertificateContent, CertifiedMelt } from '../content.ts';

interface CertificateAnswer {
  readonly certificate: string;
  readonly entry: number;
  readonly instant: string;
  readonly authorName: string;
  readonly state: 'valid' | 'withdrawn';
  readonly withdrawnReason: string | null;
  readonly content: CertificateContent;
  readonly boxes: readonly {
    readonly box: string;
    readonly certificate: string | null;
    readonly dispatch: string | null;
  }[];
}

/** One certificate: what it states, its papers, and what became of its boxes. */
export function CertificatePage({ params }: ScreenProps) {
  const name = params['certificate'] ?? '';
  const { answer, problem } = useQuestion<CertificateAnswer | null>('certificate', {
    certificate: name,
  });
  if (answer === undefined) {
    return (
      <Page title={`Certificate ${name}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Certificate ${name}`}>
        <Empty
          what="There is no certificate of this number."
          how={<PathLink to="/certificate">The strong room lists those that there are.</PathLink>}
        />
      </Page>
    );
  }
  const { totals, pieceStandard, melts } = answer.content;
  return (
    <Page
      title={`Certificate ${name}`}
      about={`${pieceStandard.title}, issued ${printInstant(answer.instant)} by ${answer.authorName}`}
      known={<Known answer={answer} />}
    >
      {answer.state === 'withdrawn' ? (
        <p>
          <State word="withdrawn" tone="stopped" /> {answer.withdrawnReason}
        </p>
      ) : null}
      <p className="figure-line">
        <Figure value={totals.pieces} decimals={0} unit="pieces" size="result" />
        <Mass micrograms={totals.fineMicrograms} unit="kg" size="result" />
        <span className="faint">fine {pieceStandard.metal}</span>
      </p>
      <Part title="Melts">
        {melts.map((melt) => (
          <Melt key={melt.melt} melt={melt} />
        ))}
      </Part>
      <Boxes answer={answer} />
    </Page>
  );
}

function Known({ answer }: { readonly answer: CertificateAnswer }) {
  const { certificate } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Paper',
            <PaperLink key="pdf" paper="certificate" id={certificate}>
              PDF
            </PaperLink>,
          ],
          [
            'Record',
            <PaperLink key="json" paper="certificate-record" id={certificate}>
              signed JSON
            </PaperLink>,
          ],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${answer.entry}`}>
              {printNumber(answer.entry)}
            </PathLink>,
          ],
        ]}
      />
      <p className="faint">
        The record can be checked without this plant:{' '}
        <PathLink to="/certificate/verify">verify a file</PathLink>.
      </p>
      <LineageStrip thing="certificate" id={certificate} />
      {answer.state === 'valid' ? <Withdraw certificate={certificate} /> : null}
    </>
  );
}

function Withdraw({ certificate }: { readonly certificate: string }) {
  const [draft, change, clear] = useDraft(`withdraw ${certificate}`, { reason: '' });
  const withdraw = useCommand('withdraw-certificate', { onRecorded: clear });
  if (!withdraw.description?.allowed) return null;
  return (
    <details className="act-fold">
      <summary>Withdraw this certificate</summary>
      <TextField
        label="Reason"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={withdraw.refusalAt('reason')}
      />
      <SideAct
        label="Withdraw certificate"
        command={withdraw}
        input={() => ({ certificate, reason: draft.reason })}
        notYet={draft.reason === '' ? 'Say why.' : undefined}
      />
    </details>
  );
}

function Melt({ melt }: { readonly melt: CertifiedMelt }) {
  const { result, decision, ruling } = melt;
  return (
    <div className="part-row">
      <p>
        Melt <ThingLink thing="melt" id={melt.melt} />{' '}
        <span className="faint">
          {melt.method.description}, {ruling.ruling} by {ruling.act.by.name}
        </span>
      </p>
      <LimitRule
        value={result.finenessPerMille}
        expandedUncertainty={2 * result.standardUncertaintyPerMille}
        lowerLimit={decision.limitPerMille}
        guardBand={decision.guardBandPerMille}
        unit="‰"
        decimals={3}
        words={`${decision.verdict}; probability of conformity ${probabilityText(decision.conformanceProbability, 4)}`}
      />
    </div>
  );
}

function Boxes({ answer }: { readonly answer: CertificateAnswer }) {
  const { boxes } = answer.content;
  const dispatchOf = (box: string) => answer.boxes.find((row) => row.box === box)?.dispatch;
  return (
    <Part title="Boxes">
      <Table
        caption="Boxes of this certificate"
        rows={boxes}
        keyOf={(row) => row.box}
        columns={[
          {
            key: 'box',
            title: 'Box',
            value: (row) => row.box,
            cell: (row) => (
              <PathLink to={pathTo('/put-up/boxes/$box', { box: row.box })}>{row.box}</PathLink>
            ),
          },
          { key: 'seal', title: 'Seal', value: (row) => row.seal },
          { key: 'tubes', title: 'Tubes', value: (row) => row.tubes.length, decimals: 0 },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          {
            key: 'gross',
            title: 'Gross',
            unit: 'g',
            value: (row) => row.grossMicrograms / 1e6,
            decimals: 2,
          },
          {
            key: 'fine',
            title: 'Fine',
            unit: 'g',
            value: (row) => row.fineMicrograms / 1e6,
            decimals: 2,
          },
          { key: 'gone', title: 'Dispatched', value: (row) => dispatchOf(row.box) ?? 'not yet' },
        ]}
      />
    </Part>
  );
}
