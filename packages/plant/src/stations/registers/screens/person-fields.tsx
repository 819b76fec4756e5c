import type { Role } from '../../../journal/station.ts';
import {
  CheckField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  TextField,
} from '../../../workbench/index.ts';
import type { EnrolledPerson } from '../people.ts';
import type { AssayMethod } from '../piece-standard.ts';
import { methodChoices, roleChoices } from './words.ts';

/** A person while the form is filled: for each method the last day, empty where none is held. */
export interface PersonDraft {
  readonly person: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly until: Readonly<Record<AssayMethod, string>>;
}

export const nobody: PersonDraft = {
  person: '',
  name: '',
  roles: [],
  until: { cupellation: '', 'fineness-by-difference': '', titration: '' },
};

/** The form as it stands for a person of the register. */
export function personDraft({ person, name, roles, methods }: EnrolledPerson): PersonDraft {
  const held = Object.fromEntries(methods.map(({ method, until }) => [method, until]));
  return { person, name, roles, until: { ...nobody.until, ...held } };
}

function methodsHeld({ until }: PersonDraft) {
  return methodChoices.flatMap(({ value }) =>
    until[value] === '' ? [] : [{ method: value, until: until[value] }],
  );
}

/** The person as the commands take one. */
export function personInput(draft: PersonDraft) {
  const { person, name, roles } = draft;
  return { person: person.trim(), name: name.trim(), roles, methods: methodsHeld(draft) };
}

/** Who a person is, what the person does in the plant, and which methods the person may sign. */
export function PersonFields(props: {
  readonly draft: PersonDraft;
  readonly change: (part: Partial<PersonDraft>) => void;
  readonly command: CommandInHand;
  /** Whether the id is still to be chosen. */
  readonly isNew?: boolean;
}) {
  const { draft, change, command, isNew } = props;
  const held = methodsHeld(draft).map(({ method }) => method);
  return (
    <>
      <FieldRow>
        {isNew ? (
          <TextField
            label="Sign-in name"
            hint="The id on every entry of this person. It is never given to another one."
            value={draft.person}
            onChange={(person) => change({ person })}
            refusal={command.refusalAt('person')}
          />
        ) : null}
        <TextField
          label="Name"
          hint="As it stands on papers and certificates."
          value={draft.name}
          onChange={(name) => change({ name })}
          refusal={command.refusalAt('name')}
        />
      </FieldRow>
      <Roles {...props} />
      <FieldGroup title="Methods that the person may carry out and sign">
        <FieldRow>
          {methodChoices.map(({ value, label }) => (
            <TextField
              key={value}
              label={`${label} until`}
              kind="date"
              hint="The last day; empty where the person is not authorised."
              value={draft.until[value]}
              onChange={(day) => change({ until: { ...draft.until, [value]: day } })}
              refusal={
                command.refusalAt(`methods.${held.indexOf(value)}.until`) ??
                (value === methodChoices[0]?.value ? command.refusalAt('methods') : undefined)
              }
            />
          ))}
        </FieldRow>
      </FieldGroup>
    </>
  );
}

function Roles(props: {
  readonly draft: PersonDraft;
  readonly change: (part: Partial<PersonDraft>) => void;
  readonly command: CommandInHand;
}) {
  const { draft, change } = props;
  const refusal = props.command.refusalAt('roles');
  const turn = (role: Role, isHeld: boolean) =>
    change({
      roles: isHeld ? [...draft.roles, role] : draft.roles.filter((one) => one !== role),
    });
  return (
    <FieldGroup title="Roles">
      <FieldRow>
        {roleChoices.map(({ value, label }) => (
          <CheckField
            key={value}
            label={label}
            checked={draft.roles.includes(value)}
            onChange={(isHeld) => turn(value, isHeld)}
          />
        ))}
      </FieldRow>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </FieldGroup>
  );
}
