import {
  ChoiceField,
  Empty,
  Facts,
  LineageStrip,
  MainAct,
  OneTimeCode,
  Page,
  Pending,
  printInstant,
  type ScreenProps,
  State,
  useCommand,
  useDraft,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import type { PersonRow } from '../books.ts';
import type { RegistersAnswer } from './desk-answer.ts';
import { PersonFields, personDraft, personInput } from './person-fields.tsx';
import { Until } from './until.tsx';
import { methodName } from './words.ts';

/** One person of the register. */
export function PersonPage({ params }: ScreenProps) {
  const id = params['person'] ?? '';
  const { answer, problem } = useQuestion<RegistersAnswer>('registers-desk');
  const mayChange = useMay('change-person');
  const row = answer?.people.find(({ person }) => person === id);
  if (!answer || !row) {
    return (
      <Page title={id}>
        {answer ? (
          <Empty what={`Nobody is enrolled as ${id}.`} how="The registers list everybody." />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  if (mayChange) return <ChangePerson key={row.entry} row={row} />;
  return (
    <Page title={row.name} about={<About row={row} />} known={<Known row={row} />}>
      <Facts
        facts={[
          ['Roles', row.roles.join(', ')],
          ...row.methods.map(
            ({ method, until }) =>
              [methodName(method), <Until key={method} day={until} answer={answer} />] as const,
          ),
        ]}
      />
    </Page>
  );
}

function About({ row }: { readonly row: PersonRow }) {
  return (
    <>
      {row.roles.join(', ')}
      {row.active ? null : (
        <>
          {' '}
          <State word="has left" tone="stopped" />
        </>
      )}
    </>
  );
}

function Known({ row }: { readonly row: PersonRow }) {
  const mayGiveCode = useMay('enrol-person');
  return (
    <>
      <Facts
        facts={[
          ['Sign-in name', <code key="person">{row.person}</code>],
          ['So since', printInstant(row.since)],
        ]}
      />
      {row.active && mayGiveCode ? (
        <div>
          <h3>First sign-in, or a forgotten password</h3>
          <OneTimeCode person={row.person} name={row.name} />
        </div>
      ) : null}
      <LineageStrip thing="person" id={row.person} />
    </>
  );
}

function ChangePerson({ row }: { readonly row: PersonRow }) {
  const [draft, change, clear] = useDraft(`change-person ${row.person} ${row.entry}`, {
    ...personDraft(row),
    presence: row.active ? 'works here' : 'has left',
  });
  const command = useCommand('change-person', { onRecorded: clear });
  return (
    <Page
      title={row.name}
      about={<About row={row} />}
      known={<Known row={row} />}
      act={
        <MainAct
          label="Change person"
          command={command}
          input={() => ({ ...personInput(draft), active: draft.presence === 'works here' })}
        />
      }
    >
      <PersonFields draft={draft} change={change} command={command} />
      <ChoiceField
        label="In the plant"
        value={draft.presence}
        choices={[
          { value: 'works here', label: 'Works here' },
          { value: 'has left', label: 'Has left' },
        ]}
        onChange={(presence) => change({ presence })}
        refusal={command.refusalAt('active')}
      />
    </Page>
  );
}
