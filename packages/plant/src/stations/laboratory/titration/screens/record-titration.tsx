import {
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  MainAct,
  SheetKept,
  TextField,
  useCommand,
  useDraft,
  useKeptSheet,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ReagentLotRow } from '../../../registers/index.ts';
import { openTitrants } from '../../controls/screens/titre-choices.ts';
import { Cautions } from '../../screens/cautions.tsx';
import { blanksToAssay } from '../../screens/cupellation-draft.ts';
import { InstrumentChoice, instrumentAtHand } from '../../screens/instrument-choice.tsx';
import { MeltFrame, type MeltWork } from '../../screens/melt-frame.tsx';
import { determinationsLeft } from '../../screens/next-act.ts';
import { CurvePart } from './curve-part.tsx';
import { BuretteAtHand } from './from-titrator.tsx';
import {
  firstTitration,
  isByTitre,
  methodOf,
  newVessel,
  type TitrationDraft,
  titrationInputOf,
  titrationNotYet,
  type VesselDraft,
  type VesselList,
} from './titration-draft.ts';
import { TitreOfLot } from './titre-of-lot.tsx';
import { VesselGroup } from './vessel-group.tsx';

interface Form {
  readonly draft: TitrationDraft;
  readonly change: (part: Partial<TitrationDraft>) => void;
  readonly record: CommandInHand;
}

/** A titration run: standards of pure silver around the portions, each with its curve. */
export function RecordTitration(work: MeltWork) {
  const { answer, instruments } = work;
  const { melt } = answer;
  const [hand, keep] = useDraft('laboratory titration instruments', { balance: '', burette: '' });
  const balance = instrumentAtHand(instruments, ['balance'], hand.balance);
  const burette = instrumentAtHand(instruments, ['burette'], hand.burette);
  const left = determinationsLeft(answer);
  const [draft, change, clear, sheet] = useKeptSheet<TitrationDraft>(
    { command: 'record-titration', thing: `${melt} ${answer.runs.length}` },
    firstTitration(answer, left),
  );
  const record = useCommand('record-titration', {
    onRecorded: (recorded, entries) => {
      clear();
      work.onRecorded(entries, String(recorded['voidReason'] ?? recorded['words'] ?? ''));
    },
  });
  const form = { draft, change, record };
  const { cut } = blanksToAssay(answer);
  return (
    <MeltFrame
      {...work}
      title="Record a titration run"
      mainAct={
        <MainAct
          label="Record run"
          command={record}
          notYet={titrationNotYet(draft)}
          input={() => titrationInputOf(draft, { melt, balance, instrument: burette })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <Cautions cautions={answer.cautions} />
      <RunHead {...form} />
      <FieldRow>
        <InstrumentChoice
          label="Balance"
          instruments={instruments}
          kinds={['balance']}
          value={balance}
          onChange={(chosen) => keep({ balance: chosen })}
          refusal={record.refusalAt('balance')}
        />
        <InstrumentChoice
          label="Burette"
          instruments={instruments}
          kinds={['burette']}
          value={burette}
          onChange={(chosen) => keep({ burette: chosen })}
          refusal={record.refusalAt('instrument')}
        />
      </FieldRow>
      <EndPointMethod {...form} />
      <FactorSource {...form} melt={melt} />
      <BuretteAtHand value={burette}>
        <ReagentBlank {...form} />
        {isByTitre(draft) ? null : (
          <Vessels {...form} list="standards" cut={cut} least={2} most={20} />
        )}
        <Vessels {...form} list="samples" cut={cut} least={1} most={left} />
        <Vessels {...form} list="references" cut={cut} least={0} most={20} />
      </BuretteAtHand>
    </MeltFrame>
  );
}

/** The lots that can stand as titrant, told below the field that waits for one. */
function useOpenTitrants(): string | undefined {
  const { answer } = useQuestion<{ day: string; lots: readonly ReagentLotRow[] }>('reagent-lots');
  if (!answer) return undefined;
  const open = openTitrants(answer.lots, answer.day);
  return open.length === 0
    ? 'No titrant is open.'
    : `Open: ${open.map(({ lot }) => lot).join(', ')}.`;
}

function RunHead({ draft, change, record }: Form) {
  const titrants = useOpenTitrants();
  return (
    <>
      <FieldRow>
        <TextField
          label="Run"
          kind="code"
          value={draft.assayRun}
          onChange={(assayRun) => change({ assayRun })}
          hint="A name that no run has had."
          refusal={record.refusalAt('assayRun')}
        />
        <TextField
          label="Lot of the titrant"
          kind="code"
          hint={titrants}
          value={draft.titrant}
          onChange={(titrant) => change({ titrant })}
          refusal={record.refusalAt('titrant')}
        />
        <ChoiceField
          label="Precipitant"
          value={draft.halide}
          choices={[
            { value: 'bromide', label: 'bromide' },
            { value: 'chloride', label: 'chloride' },
          ]}
          onChange={(halide) => change({ halide })}
          refusal={record.refusalAt('halide')}
        />
      </FieldRow>
      <FieldRow>
        <TextField
          label="Concentration of the titrant"
          kind="decimal"
          unit="mol/L"
          optional
          value={draft.concentration}
          onChange={(concentration) => change({ concentration })}
          hint="By its making, to compare the factor with."
          refusal={record.refusalAt('titrantMolesPerLitre')}
        />
        <TextField
          label="Lots of other reagents"
          optional
          value={draft.reagentLots}
          onChange={(reagentLots) => change({ reagentLots })}
          hint="Apart by commas."
          refusal={record.refusalAt('reagentLots')}
        />
      </FieldRow>
    </>
  );
}

function EndPointMethod({ draft, change, record }: Form) {
  return (
    <FieldGroup title="How end points are found">
      <FieldRow>
        <ChoiceField
          label="On the curve by"
          value={draft.method}
          choices={[
            { value: 'second derivative', label: 'second derivative' },
            { value: 'smoothing spline', label: 'smoothing spline' },
            { value: 'precipitation curve', label: 'equation of Nernst' },
          ]}
          onChange={(method) => change({ method })}
          refusal={record.refusalAt('method')}
        />
        {draft.method === 'precipitation curve' ? (
          <TextField
            label="Solution before titrating"
            kind="decimal"
            unit="mL"
            value={draft.startVolume}
            onChange={(startVolume) => change({ startVolume })}
            refusal={record.refusalAt('method.startVolumeMillilitres')}
          />
        ) : null}
        <TextField
          label="Standard uncertainty of the burette"
          kind="decimal"
          unit="mL"
          value={draft.buretteUncertainty}
          onChange={(buretteUncertainty) => change({ buretteUncertainty })}
          hint="Of one volume delivered, from its calibration."
          refusal={record.refusalAt('buretteStandardUncertaintyMillilitres')}
        />
      </FieldRow>
    </FieldGroup>
  );
}

/** Where the factor of the titrant comes from. */
function FactorSource(form: Form & { readonly melt: string }) {
  const { draft, change, record, melt } = form;
  return (
    <FieldGroup title="Factor of the titrant">
      <ChoiceField
        label="It comes from"
        value={draft.factorBy ?? 'standards'}
        choices={[
          { value: 'standards', label: 'standards in this run' },
          { value: 'titre', label: 'a titre determined before' },
        ]}
        onChange={(factorBy) => change({ factorBy })}
      />
      {isByTitre(draft) ? (
        <TitreOfLot
          lot={draft.titrant.trim()}
          melt={melt}
          titre={draft.titre ?? ''}
          onChange={(titre) => change({ titre })}
          record={record}
        />
      ) : (
        <Silver {...form} />
      )}
    </FieldGroup>
  );
}

function Silver({ draft, change, record }: Form) {
  return (
    <FieldRow>
      <TextField
        label="Fineness of the silver"
        kind="decimal"
        unit="‰"
        value={draft.silverFineness}
        onChange={(silverFineness) => change({ silverFineness })}
        refusal={record.refusalAt('silverFinenessPerMille')}
      />
      <TextField
        label="Its standard uncertainty"
        kind="decimal"
        unit="‰"
        value={draft.silverUncertainty}
        onChange={(silverUncertainty) => change({ silverUncertainty })}
        hint="From its certificate."
        refusal={record.refusalAt('silverStandardUncertaintyPerMille')}
      />
      <ChoiceField
        label="The factor of a portion is"
        value={draft.drift}
        choices={[
          { value: 'bracketing', label: 'between the standards around it' },
          { value: 'straight line', label: 'on a line through all standards' },
          { value: 'none', label: 'the mean of all standards' },
        ]}
        onChange={(drift) => change({ drift })}
        refusal={record.refusalAt('drift')}
      />
    </FieldRow>
  );
}

function ReagentBlank({ draft, change, record }: Form) {
  const at = 'reagentBlank';
  return (
    <FieldGroup title="Blank titration">
      <ChoiceField
        label="Titrant that the reagents alone take"
        value={draft.reagentBlank}
        choices={[
          { value: 'none', label: 'none' },
          { value: 'stated', label: 'a known volume' },
          { value: 'titrated', label: 'titrated in this run' },
        ]}
        onChange={(reagentBlank) => change({ reagentBlank })}
        refusal={record.refusalAt(at)}
      />
      {draft.reagentBlank === 'stated' ? (
        <FieldRow>
          <TextField
            label="Volume of the blank"
            kind="decimal"
            unit="mL"
            value={draft.blankVolume}
            onChange={(blankVolume) => change({ blankVolume })}
            refusal={record.refusalAt(`${at}.volumeMillilitres`)}
          />
          <TextField
            label="Its standard uncertainty"
            kind="decimal"
            unit="mL"
            value={draft.blankUncertainty}
            onChange={(blankUncertainty) => change({ blankUncertainty })}
            refusal={record.refusalAt(`${at}.standardUncertaintyMillilitres`)}
          />
        </FieldRow>
      ) : null}
      {draft.reagentBlank === 'titrated' ? (
        <CurvePart
          label="the blank"
          curve={draft.blankCurve}
          method={methodOf(draft)}
          buretteUncertainty={draft.buretteUncertainty}
          onChange={(part) => change({ blankCurve: { ...draft.blankCurve, ...part } })}
          refusalAt={(field) => record.refusalAt(`${at}${field}`)}
        />
      ) : null}
    </FieldGroup>
  );
}

const names = {
  standards: 'standard',
  samples: 'portion',
  references: 'reference material',
} as const;

function Vessels(
  props: Form & {
    readonly list: VesselList;
    readonly cut: readonly string[];
    readonly least: number;
    readonly most: number;
  },
) {
  const { draft, change, record, list, cut, least, most } = props;
  const vessels: readonly VesselDraft[] = draft[list];
  const put = (changed: readonly VesselDraft[]) => change({ [list]: changed });
  const from = list === 'samples' ? (cut[0] ?? '') : '';
  return (
    <>
      {vessels.map((vessel, index) => (
        <VesselGroup
          key={vessel.label}
          {...{ list, index, vessel, record, cut }}
          run={draft}
          onChange={(part) =>
            put(vessels.map((one, at) => (at === index ? { ...one, ...part } : one)))
          }
        />
      ))}
      {record.refusalAt(list) ? <p className="field-refusal">{record.refusalAt(list)}</p> : null}
      <p className="row-counts">
        {vessels.length < most ? (
          <button
            type="button"
            className="link-button"
            onClick={() => put([...vessels, newVessel(list, vessels, from)])}
          >
            Add a {names[list]}
          </button>
        ) : null}
        {vessels.length > least ? (
          <button type="button" className="link-button" onClick={() => put(vessels.slice(0, -1))}>
            Take the last {names[list]} away
          </button>
        ) : null}
      </p>
    </>
  );
}
