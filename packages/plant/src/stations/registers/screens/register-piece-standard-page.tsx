import {
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  MainAct,
  Page,
  Pending,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { PieceStandard } from '../piece-standard.ts';
import {
  assayFigures,
  draftLike,
  emptyPieceStandard,
  guardFigures,
  massFigures,
  metalFigures,
  miscountFigures,
  type PieceStandardDraft,
  packingFigures,
  pieceStandardInput,
  sizeFigures,
  spreadFigures,
} from './piece-standard-fields.ts';
import { metalChoices, methodChoices } from './words.ts';

const inspectionLevels = [
  'S-1',
  'S-2',
  'S-3',
  'S-4',
  'I',
  'II',
  'III',
] as const satisfies readonly PieceStandard['inspectionLevel'][];

/** The limits of the table that are percent of pieces; those above 10 count defects. */
const acceptanceQualityLimits = [
  0.01, 0.015, 0.025, 0.04, 0.065, 0.1, 0.15, 0.25, 0.4, 0.65, 1, 1.5, 2.5, 4, 6.5, 10,
] as const satisfies readonly PieceStandard['acceptanceQualityLimitPercent'][];

const likeWhich = (): string => new URLSearchParams(location.search).get('like') ?? '';

/** Registering a kind of piece, from nothing or with the figures of another one to begin with. */
export function RegisterPieceStandardPage() {
  const like = likeWhich();
  if (like !== '') return <RegisterOneLike like={like} />;
  return <RegisterPieceStandard like="" initial={emptyPieceStandard} />;
}

function RegisterOneLike({ like }: { readonly like: string }) {
  const { answer, problem } = useQuestion<{ standard: PieceStandard } | null>('piece-standard', {
    pieceStandard: like,
  });
  if (answer === undefined) {
    return (
      <Page title="Register a piece standard">
        <Pending problem={problem} />
      </Page>
    );
  }
  const initial = answer ? draftLike(answer.standard) : emptyPieceStandard;
  return <RegisterPieceStandard like={like} initial={initial} />;
}

function RegisterPieceStandard(props: {
  readonly like: string;
  readonly initial: PieceStandardDraft;
}) {
  const [draft, change, clear] = useDraft(`register-piece-standard ${props.like}`, props.initial);
  const register = useCommand('register-piece-standard', { onRecorded: clear });
  const form = { draft, change, register };
  return (
    <Page
      title="Register a piece standard"
      about="What this kind of piece must be. Its figures are never changed: another kind gets another id."
      act={
        <MainAct
          label="Register piece standard"
          command={register}
          input={() => pieceStandardInput(draft)}
        />
      }
    >
      <Identity {...form} />
      <Fineness {...form} />
      <FieldGroup title="Mass of one piece">
        <Figures {...form} fields={massFigures} />
      </FieldGroup>
      <FieldGroup title="Size of one piece">
        <Figures {...form} fields={sizeFigures} />
      </FieldGroup>
      <FieldGroup title="Metal of a blank, where the standard sets it">
        <Figures {...form} fields={metalFigures} />
      </FieldGroup>
      <Impurities {...form} />
      <Sampling {...form} />
      <FieldGroup title="Tubes and boxes">
        <Figures {...form} fields={packingFigures} />
      </FieldGroup>
      <FieldGroup title="Counting by weight">
        <Figures {...form} fields={spreadFigures} />
        <Figures {...form} fields={miscountFigures} />
      </FieldGroup>
    </Page>
  );
}

interface Form {
  readonly draft: PieceStandardDraft;
  readonly change: (part: Partial<PieceStandardDraft>) => void;
  readonly register: CommandInHand;
}

function Figures(props: Form & { readonly fields: typeof massFigures }) {
  const { draft, change, register } = props;
  return (
    <FieldRow>
      {props.fields.map(({ name, label, unit, hint, isWhole }) => (
        <TextField
          key={name}
          label={label}
          kind={isWhole ? 'whole number' : 'decimal'}
          value={draft[name]}
          onChange={(text) => change({ [name]: text })}
          unit={unit}
          hint={hint}
          refusal={register.refusalAt(name)}
        />
      ))}
    </FieldRow>
  );
}

/** The impurity table, line by line as it stands in its edition. */
function Impurities({ draft, change, register }: Form) {
  const refused = register.refusals.find(({ field }) => field?.startsWith('impurityTable'));
  return (
    <FieldGroup title="Impurity table, where the standard has one">
      <FieldRow>
        <TextField
          label="Edition"
          value={draft.impurityEdition}
          onChange={(impurityEdition) => change({ impurityEdition })}
          optional
          refusal={register.refusalAt('impurityTable.edition')}
        />
      </FieldRow>
      <TextField
        label="Greatest contents"
        kind="long"
        value={draft.impurityLimits}
        onChange={(impurityLimits) => change({ impurityLimits })}
        unit="mg/kg"
        optional
        hint="A line for each element, as: Ag 50"
        refusal={refused?.field === 'impurityTable.edition' ? undefined : refused?.message}
      />
    </FieldGroup>
  );
}

function Identity({ draft, change, register }: Form) {
  return (
    <>
      <FieldRow>
        <TextField
          label="Piece standard"
          hint="Its id, as it stands on labels."
          value={draft.pieceStandard}
          onChange={(pieceStandard) => change({ pieceStandard })}
          refusal={register.refusalAt('pieceStandard')}
        />
        <TextField
          label="Title"
          hint="What people call this kind of piece."
          value={draft.title}
          onChange={(title) => change({ title })}
          refusal={register.refusalAt('title')}
        />
      </FieldRow>
      <ChoiceField
        label="Metal that is guaranteed"
        value={draft.metal}
        choices={metalChoices}
        onChange={(metal) => change({ metal })}
        refusal={register.refusalAt('metal')}
      />
    </>
  );
}

function Fineness(form: Form) {
  const { draft, change, register } = form;
  return (
    <FieldGroup title="Fineness and how it is found">
      <FieldRow>
        <TextField
          label="Declared fineness"
          kind="decimal"
          unit="‰"
          hint="By it the fine mass is reckoned; to a thousandth of a ‰."
          value={draft.finenessDeclaredPartsPerMillion}
          onChange={(text) => change({ finenessDeclaredPartsPerMillion: text })}
          refusal={register.refusalAt('finenessDeclaredPartsPerMillion')}
        />
        <TextField
          label="Least fineness"
          kind="decimal"
          unit="‰"
          hint="What every melt must reach."
          value={draft.finenessLimitPerMille}
          onChange={(finenessLimitPerMille) => change({ finenessLimitPerMille })}
          refusal={register.refusalAt('finenessLimitPerMille')}
        />
      </FieldRow>
      <ChoiceField
        label="Method of assay"
        value={draft.assayMethod}
        choices={methodChoices}
        onChange={(assayMethod) => change({ assayMethod })}
        refusal={register.refusalAt('assayMethod')}
      />
      <Figures {...form} fields={assayFigures} />
      <Figures {...form} fields={guardFigures} />
    </FieldGroup>
  );
}

function Sampling({ draft, change, register }: Form) {
  return (
    <FieldGroup title="Sampling of blanks, ISO 2859-1">
      <FieldRow>
        <ChoiceField
          label="Inspection level"
          value={draft.inspectionLevel as (typeof inspectionLevels)[number] | ''}
          choices={inspectionLevels.map((level) => ({ value: level, label: level }))}
          onChange={(inspectionLevel) => change({ inspectionLevel })}
          refusal={register.refusalAt('inspectionLevel')}
        />
        <ChoiceField
          label="Acceptance quality limit"
          value={draft.acceptanceQualityLimitPercent}
          choices={acceptanceQualityLimits.map((limit) => ({
            value: String(limit),
            label: `${limit} %`,
          }))}
          onChange={(limit) => change({ acceptanceQualityLimitPercent: limit })}
          refusal={register.refusalAt('acceptanceQualityLimitPercent')}
        />
      </FieldRow>
    </FieldGroup>
  );
}
