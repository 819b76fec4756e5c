import {
  attachmentPath,
  CommandForm,
  Empty,
  Facts,
  Figure,
  LineageStrip,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  Table,
  ThingLink,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { ReferenceMaterialRow } from '../books.ts';
import type { MaterialAnswer } from './material-answer.ts';
import { MaterialState } from './material-state.tsx';

/** One reference material: its certificate, what is left, and every use of it. */
export function MaterialPage({ params }: ScreenProps) {
  const id = params['referenceMaterial'] ?? '';
  const { answer, problem } = useQuestion<MaterialAnswer | null>('reference-material', {
    referenceMaterial: id,
  });
  const may = useMay('retire-reference-material');
  if (!answer) {
    return (
      <Page title={`Reference material ${id}`}>
        {answer === null ? (
          <Empty what={`${id} is not in the register.`} how="The registers list every bottle." />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  const { row, uses, day } = answer;
  return (
    <Page
      title={row.title}
      about={<MaterialState row={row} day={day} />}
      known={
        <>
          <Known row={row} />
          <LineageStrip thing="reference-material" id={id} />
        </>
      }
    >
      <Certified row={row} />
      <Uses uses={uses} />
      {may && !row.retired ? (
        <Part title="Take it out of use">
          <CommandForm
            command="retire-reference-material"
            label="Retire reference material"
            given={{ referenceMaterial: id }}
          />
        </Part>
      ) : null}
    </Page>
  );
}

function Known({ row }: { readonly row: ReferenceMaterialRow }) {
  const { retired, attachmentSha256 } = row;
  return (
    <Facts
      facts={[
        ['Label', <code key="id">{row.referenceMaterial}</code>],
        ['Kind', row.kind],
        ['Metal', row.metal],
        [
          'Certificate',
          attachmentSha256 ? (
            <a key="document" href={attachmentPath(attachmentSha256)}>
              {row.certificate}
            </a>
          ) : (
            row.certificate
          ),
        ],
        ['Valid until', row.validUntil],
        [
          'Received',
          <Mass key="r" micrograms={row.massReceivedMicrograms} unit="g" decimals={3} />,
        ],
        ['Left', <Mass key="l" micrograms={row.massRemainingMicrograms} unit="g" decimals={3} />],
        ['Uses', printNumber(row.uses)],
        ...(retired
          ? ([['Retired', `${printInstant(retired.instant)}: ${retired.reason}`]] as const)
          : []),
      ]}
    />
  );
}

function Certified({ row }: { readonly row: ReferenceMaterialRow }) {
  return (
    <Table
      caption="Certified values"
      rows={row.certified}
      filter={false}
      keyOf={(one) => one.quantity}
      columns={[
        { key: 'quantity', title: 'Quantity', value: (one) => one.quantity },
        {
          key: 'value',
          title: 'Certified',
          value: (one) => one.value,
          cell: (one) => <Figure value={one.value} unit={one.unit} />,
          isNumber: true,
        },
        {
          key: 'uncertainty',
          title: 'Standard uncertainty',
          value: (one) => one.standardUncertainty,
          cell: (one) => <Figure value={one.standardUncertainty} unit={one.unit} />,
          isNumber: true,
        },
        {
          key: 'chart',
          title: 'Chart',
          value: () => '',
          cell: (one) => (
            <PathLink
              to={pathTo('/laboratory/charts/$chart', {
                chart: `reference-material.${row.referenceMaterial}.${one.quantity}`,
              })}
            >
              found in runs
            </PathLink>
          ),
        },
      ]}
    />
  );
}

function Uses({ uses }: { readonly uses: MaterialAnswer['uses'] }) {
  if (uses.length === 0) return <p className="faint">It has not been used yet.</p>;
  return (
    <Table
      caption="Uses, newest first"
      rows={uses}
      keyOf={(use) => String(use.entry)}
      columns={[
        {
          key: 'run',
          title: 'Run',
          value: (use) => use.usedFor,
          cell: (use) => <ThingLink thing="assay-run" id={use.usedFor} />,
        },
        {
          key: 'mass',
          title: 'Used',
          value: (use) => use.massMicrograms,
          cell: (use) => <Mass micrograms={use.massMicrograms} unit="mg" decimals={3} />,
          isNumber: true,
        },
        {
          key: 'author',
          title: 'By',
          value: (use) => use.author,
          cell: (use) => <PeopleNamed author={use.author} />,
        },
        {
          key: 'when',
          title: 'Recorded',
          value: (use) => use.instant,
          cell: (use) => (
            <PathLink to={`/journal/${use.entry}`}>{printInstant(use.instant)}</PathLink>
          ),
        },
      ]}
    />
  );
}
