import {
  Drawings,
  Figure,
  Probability,
  printNumber,
  State,
  Table,
} from '../../../workbench/index.ts';
import type { FurtherCase, ResultPicture } from '../result-picture.ts';
import { VerdictWord } from './verdict-word.tsx';

/** The result as a picture: its budget, its way to the limit, what more work would change. */
export function ResultPictureShown({ picture }: { readonly picture: ResultPicture }) {
  return (
    <>
      <Drawings drawings={[picture.budget]} />
      <p>
        <Margin picture={picture} /> {picture.probabilityWords}
      </p>
      <SharedByMethod picture={picture} />
      <Further picture={picture} />
      <p className="faint">Calculated by {picture.calculations.join(' and ')}.</p>
    </>
  );
}

function Margin({ picture }: { readonly picture: ResultPicture }) {
  const { marginPerMille, marginInStandardUncertainties, limitPerMille } = picture;
  const side = marginPerMille < 0 ? 'below' : 'above';
  return (
    <>
      The result lies <Figure value={Math.abs(marginPerMille)} decimals={3} unit="‰" /> {side} the
      limit of {printNumber(limitPerMille)} ‰, which is{' '}
      <Figure value={Math.abs(marginInStandardUncertainties)} decimals={1} /> standard
      uncertainties.
    </>
  );
}

/** From this share on, further determinations by the same method hardly narrow the result. */
const greatSharePercent = 75;

function SharedByMethod({ picture }: { readonly picture: ResultPicture }) {
  const { sharedByMethodPercent: share, further } = picture;
  if (share < greatSharePercent || further.state === 'none') return null;
  return (
    <p>
      <Figure value={share} decimals={0} unit="%" /> of the variance is shared by the method:
      further determinations by it hardly narrow the result. A second method or the umpire does.
    </p>
  );
}

const liesWords: Readonly<Record<FurtherCase['lies'], string>> = {
  lower: 'lower, by its scatter',
  'the same': 'the same as now',
  higher: 'higher, by its scatter',
};

function Further({ picture: { further } }: { readonly picture: ResultPicture }) {
  if (further.state === 'none') {
    return <p className="faint">No further determination would change it. {further.why}</p>;
  }
  return (
    <>
      <h3>What one further determination would make of it</h3>
      <Table
        caption="One further determination, of another blank in a run of its own"
        rows={further.cases}
        filter={false}
        keyOf={(row) => row.lies}
        columns={[
          { key: 'lies', title: 'If it came out', value: (row) => liesWords[row.lies] },
          {
            key: 'found',
            title: 'It would find',
            unit: '‰',
            value: (row) => row.determinationPerMille,
            decimals: 3,
          },
          {
            key: 'uncertainty',
            title: 'Standard uncertainty',
            unit: '‰',
            value: (row) => resultOf(row)?.standardUncertaintyPerMille,
            decimals: 4,
          },
          {
            key: 'margin',
            title: 'Margin',
            unit: 'u',
            value: (row) => resultOf(row)?.marginInStandardUncertainties,
            decimals: 1,
          },
          {
            key: 'probability',
            title: 'Probability of conformity',
            value: (row) => resultOf(row)?.conformanceProbability,
            cell: (row) => <CaseProbability row={row} />,
            isNumber: true,
          },
          {
            key: 'verdict',
            title: 'Verdict',
            value: (row) => resultOf(row)?.verdict ?? 'more needed',
            cell: (row) => <CaseVerdict row={row} />,
          },
        ]}
      />
    </>
  );
}

const resultOf = ({ outcome }: FurtherCase) => (outcome.state === 'result' ? outcome : undefined);

function CaseProbability({ row }: { readonly row: FurtherCase }) {
  const value = resultOf(row)?.conformanceProbability;
  return value === undefined ? '–' : <Probability value={Math.min(value, 1 - Number.EPSILON)} />;
}

function CaseVerdict({ row: { outcome } }: { readonly row: FurtherCase }) {
  if (outcome.state === 'result') return <VerdictWord verdict={outcome.verdict} />;
  return (
    <>
      <State word="more needed" tone="look" /> <span className="faint">{outcome.words}</span>
    </>
  );
}
