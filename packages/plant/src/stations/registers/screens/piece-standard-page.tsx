import {
  Empty,
  Facts,
  Figure,
  LimitRule,
  LineageStrip,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  Table,
  ThingLink,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import type { Die, PieceStandardRow } from '../books.ts';
import { methodName } from './words.ts';

interface PieceStandardAnswer {
  readonly standard: PieceStandardRow;
  /** What a melt must show: as stated, or as its least guard factor stands for. */
  readonly requiredProbability: number;
  readonly dies: readonly Die[];
}

/** What a kind of piece must be, and the dies that strike it. */
export function PieceStandardPage({ params }: ScreenProps) {
  const pieceStandard = params['pieceStandard'] ?? '';
  const { answer, problem } = useQuestion<PieceStandardAnswer | null>('piece-standard', {
    pieceStandard,
  });
  const mayRegister = useMay('register-piece-standard');
  if (!answer) {
    return (
      <Page title={pieceStandard}>
        {answer === null ? (
          <Empty
            what={`${pieceStandard} is not registered.`}
            how="The registers list every piece standard."
          />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  const { standard } = answer;
  const like = `/registers/register-piece-standard?like=${encodeURIComponent(pieceStandard)}`;
  return (
    <Page
      title={standard.title}
      about={<Metal metal={standard.metal} />}
      known={
        <>
          <Facts
            facts={[
              ['Piece standard', <code key="id">{pieceStandard}</code>],
              ['Registered', printInstant(standard.since)],
            ]}
          />
          {mayRegister ? (
            <p>
              Its figures are never changed. <PathLink to={like}>Register one like it</PathLink>
            </p>
          ) : null}
          <LineageStrip thing="piece-standard" id={pieceStandard} />
        </>
      }
    >
      <Fineness {...answer} />
      <Impurities standard={standard} />
      <OnePiece standard={standard} />
      <Counting standard={standard} />
      <Dies dies={answer.dies} />
    </Page>
  );
}

function Fineness({ standard, requiredProbability }: PieceStandardAnswer) {
  return (
    <Part title="Fineness">
      <Facts
        facts={[
          [
            'Declared',
            <Figure
              key="declared"
              value={standard.finenessDeclaredPartsPerMillion / 1000}
              unit="‰"
              size="result"
            />,
          ],
          [
            'Least of a melt',
            <Figure key="least" value={standard.finenessLimitPerMille} unit="‰" size="result" />,
          ],
          ['Found by', methodName(standard.assayMethod)],
          ['Blanks cut of each melt', <Figure key="b" value={standard.blanksForAssayPerMelt} />],
          ['Duplicate limit', <Figure key="d" value={standard.duplicateLimitPerMille} unit="‰" />],
          ['Required probability', <Figure key="p" value={requiredProbability * 100} unit="%" />],
          ...(standard.guardFactor === undefined
            ? []
            : [
                [
                  'Least guard factor',
                  <Figure key="g" value={standard.guardFactor} unit="u" />,
                ] as const,
              ]),
        ]}
      />
    </Part>
  );
}

/** The greatest contents of single elements, with the edition that sets them. */
function Impurities({ standard }: { readonly standard: PieceStandardRow }) {
  const table = standard.impurityTable;
  if (!table) return null;
  return (
    <Part title="Impurity table" aside={table.edition}>
      <Table
        caption="Greatest contents in a melt"
        rows={table.limits}
        keyOf={(row) => row.element}
        filter={false}
        columns={[
          { key: 'element', title: 'Element', value: (row) => row.element },
          {
            key: 'limit',
            title: 'Greatest content',
            unit: 'mg/kg',
            value: (row) => row.limitMilligramsPerKilogram,
            isNumber: true,
          },
        ]}
      />
    </Part>
  );
}

function OnePiece({ standard }: { readonly standard: PieceStandardRow }) {
  return (
    <Part title="One piece">
      <LimitRule
        value={standard.massDeclaredMilligrams / 1000}
        lowerLimit={standard.massLeastMilligrams / 1000}
        upperLimit={standard.massGreatestMilligrams / 1000}
        unit="g"
        decimals={3}
        words="declared mass between the limits of a piece"
      />
      <Facts
        facts={[
          [
            'Diameter',
            <Span
              key="diameter"
              least={standard.diameterLeastMillimetres}
              greatest={standard.diameterGreatestMillimetres}
            />,
          ],
          [
            'Thickness',
            <Span
              key="thickness"
              least={standard.thicknessLeastMillimetres}
              greatest={standard.thicknessGreatestMillimetres}
            />,
          ],
          ...metalFacts(standard),
          ['Inspection level', standard.inspectionLevel],
          [
            'Acceptance quality limit',
            <Figure key="aql" value={standard.acceptanceQualityLimitPercent} unit="%" />,
          ],
        ]}
      />
    </Part>
  );
}

/** Hardness and grain of the metal, as far as the standard sets them. */
function metalFacts(standard: PieceStandardRow): readonly (readonly [string, string])[] {
  const between = (least: number | undefined, greatest: number | undefined, unit: string) => {
    if (least === undefined) return `at most ${printNumber(greatest ?? 0)} ${unit}`;
    if (greatest === undefined) return `at least ${printNumber(least)} ${unit}`;
    return `${printNumber(least)} to ${printNumber(greatest)} ${unit}`;
  };
  const { hardnessLeastVickers, hardnessGreatestVickers, grainSizeLeast, grainSizeGreatest } =
    standard;
  const windows = [
    ['Hardness', hardnessLeastVickers, hardnessGreatestVickers, 'HV'],
    ['Grain size number', grainSizeLeast, grainSizeGreatest, 'G'],
  ] as const;
  return windows.flatMap(([name, least, greatest, unit]) =>
    least === undefined && greatest === undefined
      ? []
      : [[name, between(least, greatest, unit)] as const],
  );
}

function Span({ least, greatest }: { readonly least: number; readonly greatest: number }) {
  return (
    <>
      <Figure value={least} decimals={2} /> to <Figure value={greatest} decimals={2} unit="mm" />
    </>
  );
}

/** A mean with its standard deviation. */
function Spread(props: { readonly mean: number; readonly deviation: number }) {
  return (
    <>
      <Figure value={props.mean} unit="g" />, s = <Figure value={props.deviation} unit="g" />
    </>
  );
}

function Counting({ standard }: { readonly standard: PieceStandardRow }) {
  return (
    <Part title="Tubes, boxes and counting by weight">
      <Facts
        facts={[
          ['Pieces in a tube', <Figure key="tube" value={standard.piecesPerTube} size="fact" />],
          ['Tubes in a box', <Figure key="box" value={standard.tubesPerBox} size="fact" />],
          [
            'Tube tare',
            <Spread
              key="tube-tare"
              mean={standard.tubeTareGrams}
              deviation={standard.tubeTareStandardDeviationGrams}
            />,
          ],
          [
            'Box tare',
            <Spread
              key="box-tare"
              mean={standard.boxTareGrams}
              deviation={standard.boxTareStandardDeviationGrams}
            />,
          ],
          [
            'Deviation of a piece',
            <Figure key="piece" value={standard.pieceStandardDeviationMilligrams} unit="mg" />,
          ],
          [
            'Deviation of lot means',
            <Figure key="lot" value={standard.lotStandardDeviationMilligrams} unit="mg" />,
          ],
          ['Reference pieces', <Figure key="reference" value={standard.referencePieces} />],
          [
            'Chance of one less, and of one more',
            <Figure key="prior" value={standard.priorMiscountProbability} />,
          ],
          [
            'Chance of a wrong weighing',
            <Figure key="bad" value={standard.badWeighingProbability} />,
          ],
          [
            'Spread of wrong weighings',
            <Figure key="spread" value={standard.badWeighingSpreadGrams} unit="g" />,
          ],
        ]}
      />
    </Part>
  );
}

function Dies({ dies }: { readonly dies: readonly Die[] }) {
  const mayReceive = useMay('receive-die');
  const act = mayReceive ? (
    <PathLink to={pathTo('/registers/receive-die')}>Receive a die</PathLink>
  ) : null;
  return (
    <Part title="Dies and collars" aside={act}>
      {dies.length === 0 ? (
        <Empty
          what="No die strikes this piece yet."
          how="The die keeper receives them, with a witness."
        />
      ) : (
        <Table
          caption="Dies and collars of this standard"
          rows={dies}
          keyOf={(row) => row.die}
          columns={[
            {
              key: 'die',
              title: 'Die',
              value: (row) => row.die,
              cell: (row) => <ThingLink thing="die" id={row.die} />,
            },
            { key: 'part', title: 'Part', value: (row) => row.part },
          ]}
        />
      )}
    </Part>
  );
}
