import {
  ChoiceField,
  MainAct,
  State,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { Ruling } from '../bodies.ts';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { MoreReplicates } from './more-replicates.tsx';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

const labels: Readonly<Record<Ruling, string>> = {
  release: 'release',
  refuse: 'refuse',
  hold: 'hold',
  concession: 'concession on dimensions',
};

/** The rulings that may follow; the plant says why one cannot. */
function choicesOf(answer: TrialAnswer): readonly Ruling[] {
  if (answer.stage.startsWith('released')) return ['hold', 'refuse'];
  if (answer.stage === 'refused') return ['hold'];
  return answer.stage === 'held'
    ? ['release', 'refuse', 'concession']
    : ['release', 'refuse', 'hold', 'concession'];
}

/** What speaks against releasing the melt, in sentences. */
function againstRelease(answer: TrialAnswer): readonly string[] {
  const standing = standingResultOf(answer.results);
  const { physical } = answer;
  const fineness = !standing
    ? ['No result is signed.']
    : standing.state === 'signed'
      ? ['The signed result is not checked.']
      : standing.body.verdict === 'passes'
        ? []
        : [`The verdict on the fineness: ${standing.body.verdict}.`];
  const impurities = String(standing?.body.impurities?.output['state'] ?? 'within');
  const beside =
    impurities === 'within'
      ? []
      : [`The impurities are ${impurities} by the table of the standard.`];
  const blanks =
    physical.state === 'accepted'
      ? []
      : physical.state === 'open'
        ? ['The drawn blanks are not all measured.']
        : [`The blanks reject the melt: ${physical.blanksNonconforming} outside their limits.`];
  return [...fineness, ...beside, ...blanks];
}

/** The chief assayer rules on the melt. */
export function RuleOnMelt(work: MeltWork) {
  const { answer } = work;
  const [draft, change, clear] = useDraft<{ ruling: Ruling | ''; reason: string }>(
    `rule ${answer.melt}`,
    { ruling: '', reason: '' },
  );
  const rule = useCommand('rule-melt', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const choices = choicesOf(answer);
  const ruling = choices.find((one) => one === draft.ruling) ?? '';
  return (
    <MeltFrame
      {...work}
      title="Ruling"
      mainAct={
        <MainAct
          label="Rule on melt"
          command={rule}
          input={() => ({ melt: answer.melt, ruling, reason: draft.reason })}
          notYet={ruling === '' ? 'Choose the ruling and say why.' : undefined}
        />
      }
    >
      <Against answer={answer} />
      <MoreReplicates answer={answer} />
      <ChoiceField
        label="Ruling"
        value={ruling}
        choices={choices.map((value) => ({ value, label: labels[value] }))}
        onChange={(chosen) => change({ ruling: chosen })}
        hint={
          choices.includes('concession')
            ? 'A concession covers dimensions only: never fineness, least mass or count.'
            : undefined
        }
        refusal={rule.refusalAt('ruling') ?? rule.refusalAt('melt')}
      />
      <TextField
        label="Reason"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={rule.refusalAt('reason')}
      />
    </MeltFrame>
  );
}

function Against({ answer }: { readonly answer: TrialAnswer }) {
  if (answer.stage.startsWith('released') || answer.stage === 'refused') return null;
  const against = againstRelease(answer);
  if (against.length === 0) {
    return <p>The result is checked and passes, and the blanks are accepted.</p>;
  }
  return (
    <ul className="against-release">
      {against.map((sentence) => (
        <li key={sentence}>
          <State word={sentence} tone="look" />
        </li>
      ))}
    </ul>
  );
}
