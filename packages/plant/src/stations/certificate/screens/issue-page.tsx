import {
  MainAct,
  Page,
  PathLink,
  Pending,
  pathTo,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { BoxChoice } from './box-choice.tsx';
import type { DeskAnswer } from './desk-answer.ts';

interface IssueDraft {
  readonly certificate: string;
  readonly replaces: string;
  readonly scanned: string;
  readonly boxes: readonly string[];
  readonly last: string;
}

const empty: IssueDraft = { certificate: '', replaces: '', scanned: '', boxes: [], last: '' };

/** The chief assayer certifies sealed boxes. */
export function IssuePage() {
  const { answer, problem } = useQuestion<DeskAnswer>('certificate-desk');
  const [draft, change] = useDraft<IssueDraft>('issue certificate', empty);
  const issue = useCommand('issue-certificate', {
    onRecorded: () => change({ ...empty, last: draft.certificate }),
  });
  if (!answer) {
    return (
      <Page title="Issue certificate">
        <Pending problem={problem} />
      </Page>
    );
  }
  const missing =
    draft.certificate === ''
      ? 'Give the certificate its number.'
      : draft.boxes.length === 0
        ? 'Choose the boxes.'
        : undefined;
  return (
    <Page
      title="Issue certificate"
      about="It carries every reading, calculation and signature behind the boxes; anyone can compute it again."
      known={
        draft.last === '' ? (
          <p className="faint">The certificate issued last will stand here.</p>
        ) : (
          <p>
            Issued last:{' '}
            <PathLink
              to={pathTo('/certificate/certificates/$certificate', { certificate: draft.last })}
            >
              {draft.last}
            </PathLink>
          </p>
        )
      }
      act={
        <MainAct
          label="Issue certificate"
          command={issue}
          notYet={missing}
          input={() => ({
            certificate: draft.certificate,
            boxes: draft.boxes,
            replaces: draft.replaces === '' ? null : draft.replaces,
          })}
        />
      }
    >
      {issue.description?.allowed === false ? null : (
        <>
          <div className="field-row">
            <TextField
              label="Certificate number"
              kind="text"
              value={draft.certificate}
              onChange={(certificate) => change({ certificate })}
              refusal={issue.refusalAt('certificate')}
            />
            <TextField
              label="Replaces"
              kind="text"
              optional
              hint="A withdrawn certificate."
              value={draft.replaces}
              onChange={(replaces) => change({ replaces })}
              refusal={issue.refusalAt('replaces')}
            />
          </div>
          <BoxChoice
            boxes={answer.boxes.filter(({ certificate }) => certificate === null)}
            chosen={draft.boxes}
            onChange={(boxes) => change({ boxes })}
            scanned={draft.scanned}
            onScan={(scanned) => change({ scanned })}
            refusalAt={issue.refusalAt}
          />
        </>
      )}
    </Page>
  );
}
