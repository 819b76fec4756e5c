import {
  ChoiceField,
  Empty,
  Facts,
  FieldRow,
  Figure,
  MainAct,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printNumber,
  ReadingField,
  readingOf,
  type ScreenProps,
  State,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../../workbench/index.ts';
import { portionParties } from '../words.ts';
import type { MeltPortionsAnswer } from './answer-shapes.ts';
import { PortionsTable } from './portions-table.tsx';
import { ScanBlanks } from './scan-blanks.tsx';
import { emptyPortion, nextPortion, type PortionDraft } from './seal-draft.ts';

/** Dividing the sample of a melt into sealed portions. */
export function SealPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const { answer, problem } = useQuestion<MeltPortionsAnswer | null>('melt-portions', { melt });
  const title = `Portions of melt ${melt}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null || !answer.isDrawn) {
    return (
      <Page title={title}>
        <Empty
          what="No sample of this melt was drawn."
          how={
            <PathLink to={pathTo('/receiving/melts/$melt', { melt })}>
              Draw it by its pick list; then it can be divided.
            </PathLink>
          }
        />
      </Page>
    );
  }
  return <Seal answer={answer} />;
}

interface SealDraft {
  readonly ready: readonly PortionDraft[];
  readonly inHand: PortionDraft;
  readonly instrument: string;
}

/** What the plant is told of a portion. */
function told({ gross, keptUntil, ...portion }: PortionDraft) {
  return {
    ...portion,
    gross: readingOf(gross),
    keptUntil: keptUntil === '' ? null : keptUntil,
  };
}

function isComplete({ portion, gross, seal, place }: PortionDraft): boolean {
  return portion !== '' && gross.text !== '' && seal !== '' && place !== '';
}

function Seal({ answer }: { readonly answer: MeltPortionsAnswer }) {
  const { melt } = answer;
  const [draft, change, clear] = useDraft<SealDraft>(`seal portions ${melt}`, {
    ready: [],
    inHand: emptyPortion(),
    instrument: answer.balances[0]?.instrument ?? '',
  });
  const seal = useCommand('seal-portions', { onRecorded: clear });
  // The portion in hand is sealed too where it is complete: nobody has to add the last one.
  const list = isComplete(draft.inHand) ? [...draft.ready, draft.inHand] : draft.ready;
  const add = () => {
    if (!isComplete(draft.inHand)) return;
    change({ ready: list, inHand: nextPortion(draft.inHand) });
  };
  return (
    <Page
      title={`Portions of melt ${melt}`}
      about={`${answer.pieceStandardTitle}: sealed in the presence of two people`}
      act={
        <MainAct
          label={list.length > 1 ? `Seal ${list.length} portions` : 'Seal portion'}
          command={seal}
          input={() => ({ melt, portions: list.map(told), instrument: draft.instrument })}
          notYet={list.length === 0 ? 'Weigh and seal the first portion.' : undefined}
        />
      }
    >
      <Facts
        facts={[
          [
            'Blanks that can be sealed',
            <Figure
              key="blanks"
              value={answer.blanks.filter(({ canBeSealed }) => canBeSealed).length}
              size="result"
            />,
          ],
          ...(answer.freeMicrograms === null
            ? []
            : [
                [
                  'Unsealed in the laboratory',
                  <Mass key="free" micrograms={answer.freeMicrograms} unit="g" size="result" />,
                ] as const,
              ]),
        ]}
      />
      <MeantForAssay answer={answer} draft={draft} />
      <InHand answer={answer} draft={draft} change={change} seal={seal} add={add} />
      <Ready draft={draft} change={change} seal={seal} />
      {answer.portions.length > 0 ? (
        <Part
          title="Portions of this melt"
          aside={
            <PathLink to={pathTo('/receiving/melts/$melt/exchange', { melt })}>
              Exchange of assays
            </PathLink>
          }
        >
          <PortionsTable caption="Portions of this melt" portions={answer.portions} />
        </Part>
      ) : null}
    </Page>
  );
}

/** Which whole blanks are to be cut for assay: whoever seals them keeps them from the laboratory. */
function MeantForAssay(props: { readonly answer: MeltPortionsAnswer; readonly draft: SealDraft }) {
  const { answer, draft } = props;
  const meant = answer.blanks.filter(({ forAssay, isWhole }) => forAssay && isWhole);
  if (meant.length === 0) return null;
  const inHand = [...draft.ready, draft.inHand].flatMap(({ blanks }) => blanks);
  const sealing = meant.map(({ blank }) => blank).filter((blank) => inHand.includes(blank));
  return (
    <>
      <p>
        Drawn for assay, to be cut:{' '}
        {meant
          .map(({ blank, portion }) => (portion ? `${blank} (in portion ${portion})` : blank))
          .join(', ')}
        .
      </p>
      {sealing.length === 0 ? null : (
        <p role="status">
          <State
            word={`${sealing.join(', ')} ${sealing.length === 1 ? 'is' : 'are'} meant for assay.`}
            tone="look"
          />{' '}
          Sealed, {sealing.length === 1 ? 'it is' : 'they are'} cut only once the portion is opened.
        </p>
      )}
    </>
  );
}

interface DraftProps {
  readonly draft: SealDraft;
  readonly change: (part: Partial<SealDraft>) => void;
  readonly seal: ReturnType<typeof useCommand>;
}

function InHand(
  props: DraftProps & { readonly answer: MeltPortionsAnswer; readonly add: () => void },
) {
  const { answer, draft, change, seal, add } = props;
  const { inHand, ready } = draft;
  const put = (part: Partial<PortionDraft>) => change({ inHand: { ...inHand, ...part } });
  const at = (field: string) => seal.refusalAt(`portions.${ready.length}.${field}`);
  return (
    <Part title="Portion in hand">
      <ChoiceField
        label="For"
        value={inHand.for}
        choices={portionParties.map((value) => ({ value, label: value }))}
        onChange={(party) => put({ for: party })}
      />
      <TextField
        label="Portion"
        kind="code"
        value={inHand.portion}
        onChange={(portion) => put({ portion })}
        hint="Scan its label."
        refusal={at('portion')}
      />
      <ScanBlanks
        answer={answer}
        inHand={inHand.blanks}
        inOthers={ready.flatMap(({ blanks }) => blanks)}
        change={(blanks) => put({ blanks })}
      />
      <ReadingField
        label="Mass, without bag and seal"
        large
        value={inHand.gross}
        onChange={(gross) => put({ gross })}
        refusal={at('gross') ?? at('gross.text')}
      />
      <FieldRow>
        <TextField
          label="Seal"
          kind="code"
          value={inHand.seal}
          onChange={(text) => put({ seal: text })}
          refusal={at('seal')}
        />
        <TextField
          label="Place"
          value={inHand.place}
          onChange={(place) => put({ place })}
          hint="Shelf and box."
          refusal={at('place')}
        />
        <TextField
          label="Kept until"
          kind="date"
          value={inHand.keptUntil}
          onChange={(keptUntil) => put({ keptUntil })}
          optional={inHand.for !== 'reserve'}
          refusal={at('keptUntil')}
        />
      </FieldRow>
      <button
        type="button"
        className="quiet-button"
        data-goes-on
        disabled={!isComplete(inHand)}
        onClick={add}
      >
        Next portion
      </button>
      <ChoiceField
        label="Balance"
        value={draft.instrument}
        choices={answer.balances.map(({ instrument, title }) => ({
          value: instrument,
          label: `${title} (${instrument})`,
        }))}
        onChange={(instrument) => change({ instrument })}
        refusal={seal.refusalAt('instrument')}
      />
    </Part>
  );
}

/** The portions that wait for the two signatures. */
function Ready({ draft, change, seal }: DraftProps) {
  if (draft.ready.length === 0) return null;
  return (
    <Part title={`Ready to be signed: ${printNumber(draft.ready.length)}`}>
      <ul className="plain-list">
        {draft.ready.map((one, index) => (
          <li key={one.portion}>
            {one.portion} for the {one.for}: {printNumber(one.blanks.length)} blanks,{' '}
            {one.gross.text} {one.gross.unit}, seal {one.seal}, {one.place}{' '}
            <button
              type="button"
              className="row-remove"
              aria-label={`Remove portion ${one.portion}`}
              onClick={() => change({ ready: draft.ready.filter((_, place) => place !== index) })}
            >
              remove
            </button>
            {['portion', 'seal', 'gross', 'keptUntil'].map((field) => {
              const refusal = seal.refusalAt(`portions.${index}.${field}`);
              return refusal ? (
                <p key={field} className="field-refusal">
                  {refusal}
                </p>
              ) : null;
            })}
          </li>
        ))}
      </ul>
    </Part>
  );
}
