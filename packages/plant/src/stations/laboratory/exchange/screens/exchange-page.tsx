import { useState } from 'react';
import {
  ChoiceField,
  Facts,
  Page,
  Part,
  Pending,
  SideAct,
  TextField,
  useCommand,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import { TablesOf } from './tables-of.tsx';

type DecimalMark = 'point' | 'comma';

/** Tables of the laboratory as files: results of a month, and the decimal sign of them all. */
export function ExchangePage() {
  const { answer, problem } = useQuestion<{ readonly decimalMark: DecimalMark }>('decimal-sign');
  const [month, setMonth] = useState('');
  return (
    <Page
      title="Tables as files"
      about="Results to take elsewhere; worksheets stand with their melt"
      known={answer ? <Facts facts={[['Decimal sign', answer.decimalMark]]} /> : undefined}
    >
      <Part title="Determinations of a month">
        <TextField
          label="Month"
          value={month}
          onChange={setMonth}
          hint="As 2026-03: one row for each determination."
        />
        {/^\d{4}-\d{2}$/.test(month) ? (
          <TablesOf paper="month-determinations" id={month} title={`Determinations of ${month}`} />
        ) : null}
      </Part>
      {answer ? <DecimalSign chosen={answer.decimalMark} /> : <Pending problem={problem} />}
    </Page>
  );
}

function DecimalSign({ chosen }: { readonly chosen: DecimalMark }) {
  const [sign, setSign] = useState<DecimalMark>(chosen);
  const choose = useCommand('choose-decimal-sign');
  const may = useMay('choose-decimal-sign');
  if (!may) return null;
  return (
    <Part title="Decimal sign of tables that are text">
      <ChoiceField
        label="Decimal sign"
        value={sign}
        choices={[
          { value: 'point', label: 'point, with commas between the cells' },
          { value: 'comma', label: 'comma, with semicolons between the cells' },
        ]}
        onChange={setSign}
      />
      <SideAct
        label="Choose decimal sign"
        command={choose}
        input={() => ({ decimalMark: sign })}
        notYet={sign === chosen ? 'It is chosen already.' : undefined}
      />
    </Part>
  );
}
