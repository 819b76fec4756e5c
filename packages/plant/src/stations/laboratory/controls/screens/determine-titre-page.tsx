import { useState } from 'react';
import { CommandForm, Page, type ScreenProps } from '../../../../workbench/index.ts';

/** A titrant is titrated against certified silver. */
export function DetermineTitrePage({ params }: ScreenProps) {
  const [told, tell] = useState('');
  const lot = params['lot'] ?? '';
  return (
    <Page
      title={`Titre of ${lot}`}
      about="Certified silver, titrated with this lot: how much silver a millilitre answers for."
    >
      {told ? <p role="status">{told}</p> : null}
      <CommandForm
        command="determine-titre"
        label="Determine titre"
        given={{ lot }}
        isMain
        onRecorded={(answer) => tell(String(answer['words'] ?? ''))}
      />
    </Page>
  );
}
