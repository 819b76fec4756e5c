import type { ReactNode } from 'react';
import {
  Empty,
  Facts,
  FieldRow,
  LineageStrip,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  type ScreenProps,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../../../workbench/index.ts';
import type { ExchangeAnswer } from './exchange-answer.ts';
import { ExchangeComparison, ExchangeReports, ExchangeStateShown } from './exchange-shown.tsx';
import { digits } from './report-draft.ts';

/** What plant, supplier and umpire found of one melt, and by which fineness it is paid for. */
export function ExchangePage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const { answer, problem } = useQuestion<ExchangeAnswer | null>('melt-exchange', { melt });
  const title = `Exchange of assays, melt ${melt}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="Neither supplier nor umpire has reported a result of this melt."
          how={
            <PathLink to={pathTo('/receiving/melts/$melt/portions', { melt })}>
              It is recorded at the portion that was sent to him.
            </PathLink>
          }
        />
      </Page>
    );
  }
  const isOpen = ['no limit', 'within', 'apart', 'umpire has spoken'].includes(answer.state);
  return isOpen ? <Settle answer={answer} /> : <Frame answer={answer} />;
}

function Frame(props: {
  readonly answer: ExchangeAnswer;
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}) {
  const { answer } = props;
  return (
    <Page
      title={`Exchange of assays, melt ${answer.melt}`}
      about={<ExchangeStateShown state={answer.state} />}
      known={<Known answer={answer} />}
      act={props.act}
    >
      <ExchangeComparison answer={answer} />
      <Part title="What the others report">
        <ExchangeReports answer={answer} />
      </Part>
      {props.children}
    </Page>
  );
}

function Known({ answer }: { readonly answer: ExchangeAnswer }) {
  const { melt, umpirePortions } = answer;
  return (
    <>
      <Facts
        facts={[
          ['Stands so since', printInstant(answer.since)],
          [
            'Melt',
            <PathLink key="melt" to={pathTo('/laboratory/melts/$melt', { melt })}>
              {melt}
            </PathLink>,
          ],
          ...umpirePortions.map(
            ({ portion, state }) =>
              [
                'For the umpire',
                <PathLink key={portion} to={pathTo('/receiving/portions/$portion', { portion })}>
                  {`${portion}, ${state}`}
                </PathLink>,
              ] as const,
          ),
        ]}
      />
      <LineageStrip thing="melt" id={melt} />
    </>
  );
}

/** Two people state by which fineness the melt is paid for. */
function Settle({ answer }: { readonly answer: ExchangeAnswer }) {
  const { melt, comparison } = answer;
  const settled = comparison?.output.settledFinenessPerMille ?? null;
  const [draft, change, clear] = useDraft(`settle exchange ${melt}`, {
    agreed: settled === null ? '' : settled.toFixed(3),
    document: '',
    words: '',
  });
  const settle = useCommand('settle-exchange', { onRecorded: clear });
  return (
    <Frame
      answer={answer}
      act={
        <MainAct
          label="Settle exchange"
          command={settle}
          input={() => ({ melt, ...draft, agreed: digits(draft.agreed) })}
          notYet={
            draft.agreed === '' || draft.document === ''
              ? 'State the fineness that both sides agree on, and the document.'
              : undefined
          }
        />
      }
    >
      <Part title="What is agreed">
        <FieldRow>
          <TextField
            label="Agreed fineness"
            kind="decimal"
            value={draft.agreed}
            onChange={(agreed) => change({ agreed })}
            unit="‰"
            hint="By which the melt is paid for; the verdict stays what the plant found."
            refusal={settle.refusalAt('agreed')}
          />
          <TextField
            label="Document"
            value={draft.document}
            onChange={(document) => change({ document })}
            hint="In which both sides agree."
            refusal={settle.refusalAt('document')}
          />
        </FieldRow>
        <TextField
          label="Why"
          kind="long"
          value={draft.words}
          onChange={(text) => change({ words: text })}
          refusal={settle.refusalAt('words')}
        />
      </Part>
    </Frame>
  );
}
