import {
  type CommandInHand,
  Figure,
  printInstant,
  printNumber,
  State,
  TextField,
  useQuestion,
} from '../../../../workbench/index.ts';

interface TitreShown {
  readonly titre: string;
  readonly determinedAt: string;
  readonly factorMilligramsPerMillilitre: number;
  readonly standardUncertaintyMilligramsPerMillilitre: number;
  readonly ageHours: number;
  readonly greatestAgeHours: number;
  readonly against: readonly string[];
}

/** The titre that stands for the standards of a run: the newest of the lot, and whether it may. */
export function TitreOfLot(props: {
  readonly lot: string;
  readonly melt: string;
  readonly titre: string;
  readonly onChange: (titre: string) => void;
  readonly record: CommandInHand;
}) {
  const { lot, melt, titre, onChange, record } = props;
  const { answer } = useQuestion<TitreShown | null>(
    'titre-of-lot',
    lot === '' ? undefined : { lot, melt },
  );
  return (
    <>
      <TextField
        label="Titre"
        kind="code"
        value={titre}
        onChange={onChange}
        hint="The determination of the factor of this lot."
        refusal={record.refusalAt('titre')}
      />
      {answer ? (
        <Newest answer={answer} isTaken={titre === answer.titre} onTake={onChange} />
      ) : null}
      {answer === null ? <p className="faint">No factor of {lot} has been determined.</p> : null}
    </>
  );
}

function Newest(props: {
  readonly answer: TitreShown;
  readonly isTaken: boolean;
  readonly onTake: (titre: string) => void;
}) {
  const { answer, isTaken, onTake } = props;
  return (
    <>
      <p>
        {answer.titre}:{' '}
        <Figure
          value={answer.factorMilligramsPerMillilitre}
          unit="mg/mL"
          decimals={5}
          uncertainty={answer.standardUncertaintyMilligramsPerMillilitre}
        />{' '}
        <span className="faint">
          {printInstant(answer.determinedAt)}, {printNumber(Math.floor(answer.ageHours))} h old of{' '}
          {printNumber(answer.greatestAgeHours)} h
        </span>{' '}
        {isTaken ? null : (
          <button type="button" className="link-button" onClick={() => onTake(answer.titre)}>
            Take it
          </button>
        )}
      </p>
      {answer.against.map((words) => (
        <p key={words}>
          <State word={words} tone="stopped" />
        </p>
      ))}
    </>
  );
}
