import {
  ChoiceField,
  type CommandInHand,
  decimalOf,
  FieldRow,
  MainAct,
  Page,
  Part,
  PathLink,
  pathTo,
  TextField,
  useCommand,
  useDraft,
  useGo,
} from '../../../../workbench/index.ts';
import { participantsIn } from './participants-text.ts';

type From = 'given' | 'algorithm-a' | 'q-hampel';

interface RoundDraft {
  readonly round: string;
  readonly scheme: string;
  readonly item: string;
  readonly characteristic: string;
  readonly unit: string;
  readonly day: string;
  readonly assignedFrom: From;
  readonly assigned: string;
  readonly assignedUncertainty: string;
  readonly assignedFactor: string;
  readonly assessmentFrom: From;
  readonly assessment: string;
  readonly own: string;
  readonly ownUncertainty: string;
  readonly ownFactor: string;
  readonly others: string;
}

const emptyRound: RoundDraft = {
  round: '',
  scheme: '',
  item: '',
  characteristic: '',
  unit: '‰',
  day: '',
  assignedFrom: 'given',
  assigned: '',
  assignedUncertainty: '',
  assignedFactor: '2',
  assessmentFrom: 'given',
  assessment: '',
  own: '',
  ownUncertainty: '',
  ownFactor: '2',
  others: '',
};

function inputOf(draft: RoundDraft) {
  const { round, scheme, item, characteristic, unit, day, assignedFrom, assessmentFrom } = draft;
  const read = participantsIn(draft.others);
  const uncertainty = decimalOf(draft.ownUncertainty);
  return {
    round,
    scheme,
    item,
    characteristic,
    unit,
    day,
    assigned:
      assignedFrom === 'given'
        ? {
            kind: 'given',
            value: decimalOf(draft.assigned),
            expanded: decimalOf(draft.assignedUncertainty),
            coverageFactor: decimalOf(draft.assignedFactor),
          }
        : { kind: 'robust', method: assignedFrom },
    assessment:
      assessmentFrom === 'given'
        ? { kind: 'given', standardDeviation: decimalOf(draft.assessment) }
        : { kind: 'robust', method: assessmentFrom },
    own: {
      value: decimalOf(draft.own),
      uncertainty:
        uncertainty === null
          ? null
          : { expanded: uncertainty, coverageFactor: decimalOf(draft.ownFactor) },
    },
    others: 'others' in read ? read.others : [],
  };
}

/** Records a round of a comparison of laboratories from its report. */
export function RecordRoundPage() {
  const go = useGo();
  const [draft, change, clear] = useDraft<RoundDraft>('proficiency round', emptyRound);
  const record = useCommand('record-proficiency-round', {
    onRecorded: () => {
      const { round } = draft;
      clear();
      go(pathTo('/laboratory/proficiency/$round', { round }));
    },
  });
  const others = participantsIn(draft.others);
  const form = { draft, change, record };
  return (
    <Page
      title="Record a round"
      about="From the report of a comparison of laboratories"
      known={<PathLink to="/laboratory/proficiency">All rounds</PathLink>}
      act={
        <MainAct
          label="Record round"
          command={record}
          notYet={
            draft.round === ''
              ? 'Name the round.'
              : 'problem' in others
                ? `${others.problem}.`
                : undefined
          }
          input={() => inputOf(draft)}
        />
      }
    >
      <Head {...form} />
      <Assigned {...form} />
      <Own {...form} />
      <TextField
        label="Other participants"
        kind="long"
        optional
        value={draft.others}
        onChange={(text) => change({ others: text })}
        hint="One in a line: name; value; expanded uncertainty; coverage factor. The last two may be left out."
        refusal={'problem' in others ? others.problem : record.refusalAt('others')}
      />
    </Page>
  );
}

interface Form {
  readonly draft: RoundDraft;
  readonly change: (part: Partial<RoundDraft>) => void;
  readonly record: CommandInHand;
}

const headFields = [
  ['round', 'Round', 'code', 'A name that no round has had.'],
  ['scheme', 'Scheme', 'text', 'Who organises the comparison.'],
  ['item', 'Item', 'text', 'The material that was sent round.'],
  ['characteristic', 'Characteristic', 'text', 'Rounds of the same are one history.'],
  ['unit', 'Unit', 'text', 'Of every figure here.'],
  ['day', 'Day of the report', 'date', undefined],
] as const;

function Head({ draft, change, record }: Form) {
  return (
    <FieldRow>
      {headFields.map(([field, label, kind, hint]) => (
        <TextField
          key={field}
          label={label}
          kind={kind}
          scans={false}
          value={draft[field]}
          hint={hint}
          onChange={(text) => change({ [field]: text })}
          refusal={record.refusalAt(field)}
        />
      ))}
    </FieldRow>
  );
}

const sources = [
  { value: 'given', label: 'as the report gives it' },
  { value: 'algorithm-a', label: 'from the results, algorithm A' },
  { value: 'q-hampel', label: 'from the results, Q and Hampel' },
] as const;

function Assigned({ draft, change, record }: Form) {
  const { unit } = draft;
  return (
    <Part title="Assigned value">
      <ChoiceField
        label="Assigned value"
        value={draft.assignedFrom}
        choices={sources}
        onChange={(assignedFrom) => change({ assignedFrom })}
      />
      {draft.assignedFrom === 'given' ? (
        <FieldRow>
          <TextField
            label="Value"
            kind="decimal"
            unit={unit}
            value={draft.assigned}
            onChange={(assigned) => change({ assigned })}
            refusal={record.refusalAt('assigned.value')}
          />
          <TextField
            label="Expanded uncertainty"
            kind="decimal"
            unit={unit}
            value={draft.assignedUncertainty}
            onChange={(assignedUncertainty) => change({ assignedUncertainty })}
            refusal={record.refusalAt('assigned.expanded')}
          />
          <TextField
            label="Coverage factor"
            kind="decimal"
            value={draft.assignedFactor}
            onChange={(assignedFactor) => change({ assignedFactor })}
            refusal={record.refusalAt('assigned.coverageFactor')}
          />
        </FieldRow>
      ) : null}
      <ChoiceField
        label="Standard deviation for assessment"
        value={draft.assessmentFrom}
        choices={sources}
        onChange={(assessmentFrom) => change({ assessmentFrom })}
      />
      {draft.assessmentFrom === 'given' ? (
        <TextField
          label="Standard deviation"
          kind="decimal"
          unit={unit}
          value={draft.assessment}
          onChange={(assessment) => change({ assessment })}
          refusal={record.refusalAt('assessment.standardDeviation')}
        />
      ) : null}
    </Part>
  );
}

function Own({ draft, change, record }: Form) {
  const { unit } = draft;
  return (
    <Part title="Own result">
      <FieldRow>
        <TextField
          label="Own value"
          kind="decimal"
          unit={unit}
          value={draft.own}
          onChange={(own) => change({ own })}
          refusal={record.refusalAt('own.value')}
        />
        <TextField
          label="Own expanded uncertainty"
          kind="decimal"
          unit={unit}
          optional
          value={draft.ownUncertainty}
          onChange={(ownUncertainty) => change({ ownUncertainty })}
          refusal={record.refusalAt('own.uncertainty.expanded')}
        />
        <TextField
          label="Own coverage factor"
          kind="decimal"
          value={draft.ownFactor}
          onChange={(ownFactor) => change({ ownFactor })}
          refusal={record.refusalAt('own.uncertainty.coverageFactor')}
        />
      </FieldRow>
    </Part>
  );
}
