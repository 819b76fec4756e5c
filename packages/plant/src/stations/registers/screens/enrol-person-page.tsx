import { useState } from 'react';
import {
  MainAct,
  OneTimeCode,
  Page,
  Part,
  PathLink,
  pathTo,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { nobody, PersonFields, personInput } from './person-fields.tsx';

interface Enrolled {
  readonly person: string;
  readonly name: string;
}

/** Enrolling a person, and the code with which that person signs in for the first time. */
export function EnrolPersonPage() {
  const [draft, change, clear] = useDraft('enrol-person', nobody);
  const [enrolled, setEnrolled] = useState<Enrolled | undefined>(undefined);
  const enrol = useCommand('enrol-person', {
    onRecorded: () => {
      setEnrolled(personInput(draft));
      clear();
    },
  });
  return (
    <Page
      title="Enrol a person"
      about="Who works in the plant signs in under an own name, with a password that nobody else knows."
      known={<HowToSignIn />}
      act={<MainAct label="Enrol person" command={enrol} input={() => personInput(draft)} />}
    >
      {enrolled ? <FirstSignIn key={enrolled.person} {...enrolled} /> : null}
      <PersonFields draft={draft} change={change} command={enrol} isNew />
    </Page>
  );
}

function HowToSignIn() {
  return (
    <div>
      <h3>The first sign-in</h3>
      <p>
        Once the person is enrolled, you give a one-time code here. With it the person sets the own
        password at the sign-in page, where it says that it is the first time.
      </p>
      <p className="faint">The code is shown once. A new one can be given at any time.</p>
    </div>
  );
}

function FirstSignIn({ person, name }: Enrolled) {
  const page = pathTo('/registers/people/$person', { person });
  return (
    <Part title={`${name} is enrolled`} aside={<PathLink to={page}>{person}</PathLink>}>
      <OneTimeCode person={person} name={name} />
    </Part>
  );
}
