import { CommandForm, Page, useGo } from '../../../../workbench/index.ts';

/** A reference material comes to the laboratory with its certificate. */
export function ReceiveMaterialPage() {
  const go = useGo();
  return (
    <Page
      title="Receive a reference material"
      about="What its certificate states is never changed; a new bottle gets an id of its own."
    >
      <CommandForm
        command="receive-reference-material"
        label="Receive reference material"
        isMain
        onRecorded={() => go('/registers/reference-materials')}
      />
    </Page>
  );
}
