import {
  Facts,
  Page,
  PathLink,
  Pending,
  printNumber,
  useQuestion,
} from '../../../workbench/index.ts';
import { type RegistersAnswer, registers } from './registers.ts';

/** The registers: what the plant knows before the first piece moves. */
export function RegistersDesk() {
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  if (!answer) {
    return (
      <Page title="Registers">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Registers"
      about="People, piece standards, suppliers, purchasers, instruments and dies; every change is an entry"
      known={
        <Facts
          facts={[
            ['Plant', answer.plant?.title ?? 'not founded'],
            ['Time zone', answer.plant?.timeZone ?? '–'],
            ['Today', answer.day],
          ]}
        />
      }
    >
      <ul className="plain-list">
        {registers.map(({ list, title, rows, columns }) => (
          <li key={list}>
            <PathLink to={`/registers/${list}`}>{title}</PathLink>{' '}
            <span className="faint">{printNumber(answer[rows].length)}</span>
            <p className="faint">
              {answer[rows]
                .slice(0, 6)
                .map((row) => String(row[columns[1]?.field ?? ''] ?? ''))
                .join(', ')}
            </p>
          </li>
        ))}
      </ul>
    </Page>
  );
}
