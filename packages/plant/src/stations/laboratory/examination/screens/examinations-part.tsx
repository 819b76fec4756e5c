import {
  inWords,
  Part,
  PathLink,
  pathTo,
  printInstant,
  printNumber,
  State,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { Finding } from '../books.ts';
import type { ExaminationsAnswer, ShownExamination } from './examination-answer.ts';

const toneOf = {
  inside: 'plain',
  undecided: 'look',
  outside: 'stopped',
  'no limits': 'plain',
} as const satisfies Readonly<Record<Finding, string>>;

const pages = [
  { command: 'measure-hardness', path: '/laboratory/melts/$melt/hardness', words: 'Hardness' },
  { command: 'examine-structure', path: '/laboratory/melts/$melt/structure', words: 'Structure' },
  { command: 'measure-edge', path: '/laboratory/melts/$melt/edge', words: 'Edge' },
] as const;

/** What was examined of the blanks of a melt beside mass and size, and the way to examine more. */
export function ExaminationsPart({ melt }: { readonly melt: string }) {
  const { answer } = useQuestion<ExaminationsAnswer | null>('melt-examinations', { melt });
  const may = useMay('measure-hardness');
  if (!answer || (answer.examinations.length === 0 && !may)) return null;
  return (
    <Part
      title="Hardness, structure and edge"
      aside={
        may && answer.isOpen ? (
          <span className="other-melt-acts">
            {pages.map(({ path, words }) => (
              <PathLink key={path} to={pathTo(path, { melt })}>
                {words}
              </PathLink>
            ))}
          </span>
        ) : undefined
      }
    >
      {answer.examinations.length === 0 ? (
        <p className="faint">Nothing was examined yet.</p>
      ) : (
        <ol className="plain-list">
          {answer.examinations.map((row) => (
            <OneExamination key={row.entry} row={row} />
          ))}
        </ol>
      )}
    </Part>
  );
}

function OneExamination({ row }: { readonly row: ShownExamination }) {
  const page = pathTo('/laboratory/melts/$melt/examinations/$entry', {
    melt: row.melt,
    entry: String(row.entry),
  });
  return (
    <li>
      <PathLink to={page}>
        {inWords(row.quality)} of {row.blank}
      </PathLink>{' '}
      {row.setAside === null ? (
        <State
          word={row.finding === 'no limits' ? 'recorded' : `${row.finding} its limits`}
          tone={toneOf[row.finding]}
        />
      ) : (
        <span className="faint">set aside</span>
      )}
      <p>{row.words}</p>
      {row.setAside === null ? null : <p className="faint">{row.setAside}</p>}
      <p className="faint">
        Entry {printNumber(row.entry)}, {row.authorName}, {printInstant(row.instant)}, on{' '}
        {row.instrument}
      </p>
    </li>
  );
}
