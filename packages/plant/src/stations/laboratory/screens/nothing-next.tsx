import { inWords, PathLink, useSession } from '../../../workbench/index.ts';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { MoreReplicates } from './more-replicates.tsx';
import { commandOf, type MeltAct } from './next-act.ts';

/** A melt whose trial has ended. */
export function NothingNext(work: MeltWork) {
  const { answer } = work;
  const isReleased = answer.stage.startsWith('released');
  return (
    <MeltFrame {...work} title="The trial has ended">
      {isReleased ? (
        <p>
          The melt may be struck.{' '}
          <PathLink to={`/press-room/take-blanks?melt=${encodeURIComponent(answer.melt)}`}>
            The press room takes its blanks.
          </PathLink>
        </p>
      ) : (
        <p>The melt is {answer.stage}; nothing is left to do here.</p>
      )}
    </MeltFrame>
  );
}

const workWords: Readonly<Partial<Record<MeltAct, string>>> = {
  'measure blanks': 'The drawn blanks are weighed and gauged.',
  'cut blanks': 'The blanks that the draw chose for assay are cut.',
  'ask further blanks': 'Further blanks are asked for, and drawn at receiving.',
  'record run': 'Portions of the cut blanks are assayed.',
  'sign result': 'The assayer signs the result.',
  'check result': 'Another assayer checks the signed result against the worksheets.',
  'rule on melt': 'The chief assayer rules on the melt.',
  'return melt': 'The refused melt goes back to its supplier.',
};

/** What comes next is done by other people than the one who is signed in. */
export function WaitsForOthers({ act, ...work }: MeltWork & { readonly act: MeltAct }) {
  const { session } = useSession();
  const roles = session?.commands[commandOf(act, work.answer.method)]?.roles ?? [];
  return (
    <MeltFrame {...work} title={`Next: ${inWords(act).toLowerCase()}`}>
      <p>
        {workWords[act]} This is done by: {roles.join(', ')}.
      </p>
      <MoreReplicates answer={work.answer} />
    </MeltFrame>
  );
}
