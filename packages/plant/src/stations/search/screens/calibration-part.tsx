import {
  Drawings,
  Empty,
  Part,
  Probability,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { Calibration, Compared } from '../calibration.ts';

/** Whether searches say what is true: foretold beside found, by bands of probability. */
export function CalibrationPart() {
  const { answer } = useQuestion<Calibration | null>('search-calibration');
  if (!answer) return null;
  const { causes, looks, searches, words } = answer;
  return (
    <Part title="Does it come true?">
      {causes ? (
        <>
          <p>{words}</p>
          {searches.causeNotNamed > 0 ? (
            <p className="faint">
              In {searches.causeNotNamed} of them the cause was none that the search had named.
            </p>
          ) : null}
          <Drawings drawings={causes.drawings as Parameters<typeof Drawings>[0]['drawings']} />
          <Bands caption="Causes, as foretold when the search began" compared={causes} />
        </>
      ) : (
        <Empty
          what={words}
          how="Whenever a search ends with a confirmed cause, what it had foretold is compared here with what was found."
        />
      )}
      {looks ? (
        <>
          <p className="faint">Looks of every search: {looks.table.words}</p>
          <Bands caption="Looks, by the chance that they find something" compared={looks} />
        </>
      ) : null}
    </Part>
  );
}

const edge = (value: number): string => String(Number((100 * value).toPrecision(3)));

function Bands({ caption, compared }: { readonly caption: string; readonly compared: Compared }) {
  const { bands } = compared.table;
  return (
    <Table
      caption={caption}
      rows={bands}
      keyOf={({ from }) => String(from)}
      columns={[
        {
          key: 'band',
          title: 'Foretold between',
          unit: '%',
          value: ({ from }) => from,
          cell: ({ from, to }) => (
            <span className="nowrap">
              {edge(from)} and {edge(to)}
            </span>
          ),
        },
        { key: 'cases', title: 'Named', value: ({ cases }) => cases, isNumber: true },
        {
          key: 'foretold',
          title: 'Mean foretold',
          value: ({ foretold }) => foretold,
          cell: ({ foretold }) => <Probability value={foretold} />,
          isNumber: true,
        },
        { key: 'found', title: 'Found', value: ({ found }) => found, isNumber: true },
        {
          key: 'share',
          title: 'Part found',
          value: ({ foundShare }) => foundShare,
          cell: ({ foundShare }) => <Probability value={foundShare} />,
          isNumber: true,
        },
        {
          key: 'error',
          title: 'Standard error',
          unit: '%',
          value: ({ standardError }) => 100 * standardError,
          decimals: 1,
          isNumber: true,
        },
        {
          key: 'chance',
          title: 'So far off by chance',
          value: ({ chanceOfThisOrFarther }) => chanceOfThisOrFarther,
          cell: ({ chanceOfThisOrFarther }) => <Probability value={chanceOfThisOrFarther} />,
          isNumber: true,
        },
      ]}
    />
  );
}
