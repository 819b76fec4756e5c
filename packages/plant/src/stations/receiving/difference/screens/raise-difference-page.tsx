import {
  CheckField,
  ChoiceField,
  Empty,
  FieldRow,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  type ScreenProps,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useQuestion,
  wholeNumberOf,
} from '../../../../workbench/index.ts';
import type { DifferenceLine } from '../books.ts';
import { causesInWords } from '../words.ts';
import type { ConsignmentDifferencesAnswer } from './answer-shapes.ts';
import { DocumentsTable } from './differences-page.tsx';
import { DifferenceLines } from './lines-table.tsx';

/** In what a consignment differs, and the document that tells its supplier. */
export function RaiseDifferencePage({ params }: ScreenProps) {
  const consignment = params['consignment'] ?? '';
  const { answer, problem } = useQuestion<ConsignmentDifferencesAnswer | null>(
    'consignment-differences',
    { consignment },
  );
  const title = `Differences of consignment ${consignment}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const open = answer?.lines.filter(({ state }) => state === 'open') ?? [];
  if (answer === null || (open.length === 0 && answer.documents.length === 0)) {
    return (
      <Page title={title}>
        <Empty
          what={
            answer === null
              ? 'No consignment of this name was announced.'
              : 'Everything of this consignment is as announced.'
          }
          how={<PathLink to="/receiving/differences">All differences with suppliers.</PathLink>}
        />
      </Page>
    );
  }
  return <Raise answer={answer} open={open} />;
}

const keyOf = ({ thing, id }: { readonly thing: string; readonly id: string }) => `${thing} ${id}`;

function Raise(props: {
  readonly answer: ConsignmentDifferencesAnswer;
  readonly open: readonly DifferenceLine[];
}) {
  const { answer, open } = props;
  const go = useGo();
  const [draft, change, clear] = useDraft(`raise difference ${answer.consignment}`, {
    leftOut: [] as readonly string[],
    claimWithinDays: String(answer.terms.claimWithinDays),
    answerWithinDays: String(answer.terms.answerWithinDays),
    dayKind: answer.terms.dayKind,
  });
  const raise = useCommand('raise-difference', {
    onRecorded: (recorded) => {
      clear();
      const difference = String(recorded['difference']);
      go(pathTo('/receiving/differences/$difference', { difference }));
    },
  });
  const chosen = open.filter((line) => !draft.leftOut.includes(keyOf(line)));
  return (
    <Page
      title={`Differences of consignment ${answer.consignment}`}
      about={`${answer.pieceStandardTitle} from ${answer.supplierName} · ${answer.document}`}
      act={
        open.length === 0 ? undefined : (
          <MainAct
            label="Raise difference"
            command={raise}
            input={() => ({
              consignment: answer.consignment,
              lines: chosen.map(({ thing, id }) => ({ thing, id })),
              claimWithinDays: wholeNumberOf(draft.claimWithinDays),
              answerWithinDays: wholeNumberOf(draft.answerWithinDays),
              dayKind: draft.dayKind,
            })}
            notYet={chosen.length === 0 ? 'Choose at least one drum or melt.' : undefined}
          />
        )
      }
    >
      {answer.lines.length > 0 ? (
        <Part title="Announced and found">
          <DifferenceLines caption="What differs from the document" lines={answer.lines} />
        </Part>
      ) : null}
      {open.length > 0 ? (
        <Part title="Raise with the supplier">
          <div className="difference-choice">
            {open.map((line) => (
              <CheckField
                key={keyOf(line)}
                label={`${line.thing === 'drum' ? 'Drum' : 'Melt'} ${line.id}: ${causesInWords(line.causes)}`}
                checked={!draft.leftOut.includes(keyOf(line))}
                onChange={(isChosen) =>
                  change({
                    leftOut: isChosen
                      ? draft.leftOut.filter((name) => name !== keyOf(line))
                      : [...draft.leftOut, keyOf(line)],
                  })
                }
              />
            ))}
          </div>
          <FieldRow>
            <TextField
              label="Claim within"
              kind="whole number"
              unit="days"
              value={draft.claimWithinDays}
              onChange={(claimWithinDays) => change({ claimWithinDays })}
              hint="By the contract, from receipt or refusal."
              refusal={raise.refusalAt('claimWithinDays')}
            />
            <TextField
              label="Answer within"
              kind="whole number"
              unit="days"
              value={draft.answerWithinDays}
              onChange={(answerWithinDays) => change({ answerWithinDays })}
              refusal={raise.refusalAt('answerWithinDays')}
            />
          </FieldRow>
          <ChoiceField
            label="Days are"
            value={draft.dayKind}
            choices={[
              { value: 'calendar', label: 'calendar days' },
              { value: 'business', label: 'business days' },
            ]}
            onChange={(dayKind) => change({ dayKind })}
          />
        </Part>
      ) : null}
      {answer.documents.length > 0 ? (
        <Part title="Raised">
          <DocumentsTable documents={answer.documents} />
        </Part>
      ) : null}
    </Page>
  );
}
