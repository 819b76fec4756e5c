import { useState } from 'react';
import {
  ChoiceField,
  CommandForm,
  Empty,
  Page,
  PathLink,
  Pending,
  pathTo,
  type ScreenProps,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ReagentLotRow, ReferenceMaterialRow } from '../../../registers/index.ts';
import { InstrumentChoice } from '../../screens/instrument-choice.tsx';
import type { DeskAnswer } from '../../screens/trial-answer.ts';
import { openTitrants, standardSilver, titreNotYet } from './titre-choices.ts';

/** A titrant is titrated against certified silver. */
export function DetermineTitrePage({ params }: ScreenProps) {
  const lot = params['lot'] ?? '';
  const { answer, problem } = useQuestion<{ day: string; lots: readonly ReagentLotRow[] }>(
    'reagent-lots',
  );
  if (!answer) {
    return (
      <Page title={`Titre of ${lot}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const row = answer.lots.find((one) => one.lot === lot) ?? null;
  const why = titreNotYet(row, answer.day);
  return (
    <Page
      title={`Titre of ${lot}`}
      about="Certified silver, titrated with this lot: how much silver a millilitre answers for."
    >
      {why === undefined ? (
        <TitreForm lot={lot} />
      ) : (
        <Empty what={why} how={<Titrants lots={openTitrants(answer.lots, answer.day)} />} />
      )}
    </Page>
  );
}

/** The lots whose titre can be determined instead. */
function Titrants({ lots }: { readonly lots: readonly ReagentLotRow[] }) {
  if (lots.length === 0) return <>No titrant is open; the registers list every lot.</>;
  return (
    <>
      Open titrants:{' '}
      {lots.map(({ lot, reagent }, index) => (
        <span key={lot}>
          {index === 0 ? '' : ', '}
          <PathLink to={pathTo('/laboratory/titrants/$lot', { lot })}>{lot}</PathLink> ({reagent})
        </span>
      ))}
    </>
  );
}

interface OwnProps {
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly refusal: string | undefined;
}

function SilverChoice(props: OwnProps) {
  const { answer } = useQuestion<{
    day: string;
    referenceMaterials: readonly ReferenceMaterialRow[];
  }>('reference-materials');
  const fit = answer ? standardSilver(answer.referenceMaterials, answer.day) : [];
  return (
    <ChoiceField
      {...props}
      label="Standard silver"
      choices={fit.map(({ referenceMaterial, title }) => ({
        value: referenceMaterial,
        label: `${title} (${referenceMaterial})`,
      }))}
      hint={
        answer && fit.length === 0
          ? 'No silver of certified fineness is in use and left.'
          : undefined
      }
    />
  );
}

function BalanceChoice(props: OwnProps) {
  const { answer } = useQuestion<DeskAnswer>('laboratory-desk');
  return (
    <InstrumentChoice
      {...props}
      label="Balance, that weighed the silver"
      instruments={answer?.instruments ?? []}
      kinds={['balance']}
    />
  );
}

function TitreForm({ lot }: { readonly lot: string }) {
  const [told, tell] = useState('');
  return (
    <>
      {told ? <p role="status">{told}</p> : null}
      <CommandForm
        command="determine-titre"
        label="Determine titre"
        given={{ lot }}
        own={{ referenceMaterial: SilverChoice, instrument: BalanceChoice }}
        isMain
        onRecorded={(answer) => tell(String(answer['words'] ?? ''))}
      />
    </>
  );
}
