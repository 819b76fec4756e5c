import { CommandForm, Page, useGo } from '../../../../workbench/index.ts';

/** A lot of a reagent comes to the laboratory, or is made there. */
export function ReceiveLotPage() {
  const go = useGo();
  return (
    <Page
      title="Receive a lot of a reagent"
      about="It can be named in runs once it is opened, until its last day."
    >
      <CommandForm
        command="receive-reagent-lot"
        label="Receive reagent lot"
        isMain
        onRecorded={() => go('/registers/reagents')}
      />
    </Page>
  );
}
