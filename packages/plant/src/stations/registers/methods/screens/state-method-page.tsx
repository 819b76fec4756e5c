import { CommandForm, Page, pathTo, useGo } from '../../../../workbench/index.ts';
import { CalculationChoice } from './calculation-choice.tsx';

/** A method is stated for the first time; further editions stand on its own page. */
export function StateMethodPage() {
  const go = useGo();
  return (
    <Page
      title="State a method"
      about="From then on its runs need the controls and reagents that it asks for."
    >
      <CommandForm
        command="state-method"
        label="State method"
        isMain
        own={{ calculation: CalculationChoice }}
        initial={{ greatestNormalizedError: 1, determinationsAtLeast: 2 }}
        onRecorded={(answer) =>
          go(pathTo('/registers/methods/$method', { method: String(answer['method']) }))
        }
      />
    </Page>
  );
}
