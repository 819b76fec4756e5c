import { type OwnFieldProps, SearchedChoice, useQuestion } from '../../../../workbench/index.ts';
import { methodName } from '../../screens/words.ts';
import type { MethodsAnswer } from './method-answer.ts';

/** The calculation of a method: chosen by its title among those that fit its way of assay. */
export function CalculationChoice({ value, form, onChange, refusal }: OwnFieldProps) {
  const { answer } = useQuestion<MethodsAnswer>('methods');
  const way = String((form as { readonly assayMethod?: unknown }).assayMethod ?? '');
  const all = answer?.calculations ?? [];
  const fitting = all.filter(({ waysOfAssay }) => waysOfAssay.some((one) => one === way));
  return (
    <SearchedChoice
      label="Calculation"
      value={value}
      choices={(fitting.length > 0 ? fitting : all).map(({ id, title, purpose, source }) => ({
        value: id,
        label: title,
        purpose,
        source,
      }))}
      onChange={onChange}
      hint={
        fitting.length > 0
          ? `Those by which runs of ${methodName(way as Parameters<typeof methodName>[0])} are computed.`
          : 'Choose the way of assay, and those that fit it are shown.'
      }
      refusal={refusal}
    />
  );
}
