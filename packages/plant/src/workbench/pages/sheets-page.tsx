import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { printAge, printInstant } from '../number-text.ts';
import { Empty, Page, Pending } from '../page.tsx';
import { PathLink } from '../path-link.tsx';
import { listSheets } from '../plant-client.ts';
import type { Screen } from '../screen.ts';
import { groupsOf, pageOfSheets, type SheetGroup } from '../sheet-list.ts';
import { Table } from '../table.tsx';
import { putSheetAway } from '../use-kept-sheet.ts';

const queryKey = ['sheets'];

/** Half-filled sheets that the plant keeps: who, for what, since when; go on, or put away. */
export function SheetsPage({ screens }: { readonly screens: readonly Screen[] }) {
  // Keeping a sheet records nothing, so that nobody is told of it: the list is read afresh each time.
  const { data, error } = useQuery({ queryKey, queryFn: listSheets, refetchOnMount: 'always' });
  const groups = data ? groupsOf(data) : undefined;
  return (
    <Page title="Half-filled sheets" about="Typed and not recorded; each person sees his own alone">
      {groups === undefined ? <Pending problem={error?.message} /> : null}
      {groups?.length === 0 ? (
        <Empty
          what="No half-filled sheet is kept."
          how="What is typed on a worksheet comes here by itself until it is recorded."
        />
      ) : null}
      {groups && groups.length > 0 ? <Sheets groups={groups} screens={screens} /> : null}
    </Page>
  );
}

function Sheets(props: {
  readonly groups: readonly SheetGroup[];
  readonly screens: readonly Screen[];
}) {
  return (
    <Table
      caption="Half-filled sheets, the one untouched longest first"
      rows={props.groups}
      keyOf={(group) => group.key}
      columns={[
        { key: 'who', title: 'Who', value: (group) => group.name },
        { key: 'what', title: 'What', value: (group) => group.title },
        { key: 'thing', title: 'Of', value: (group) => group.thing },
        {
          key: 'since',
          title: 'Untouched',
          value: (group) => group.keptAt,
          cell: (group) => (
            <time dateTime={group.keptAt} title={printInstant(group.keptAt)}>
              {printAge(group.keptAt)}
            </time>
          ),
        },
        {
          key: 'acts',
          title: '',
          value: () => '',
          cell: (group) => <Acts group={group} path={pageOfSheets(props.screens, group)} />,
        },
      ]}
    />
  );
}

function Acts({ group, path }: { readonly group: SheetGroup; readonly path: string | undefined }) {
  const client = useQueryClient();
  const away = useMutation({
    mutationFn: async () => {
      for (const sheet of group.sheets) await putSheetAway(sheet);
    },
    onSettled: () => client.invalidateQueries({ queryKey }),
  });
  if (!group.isOwn) return null;
  return (
    <p className="row-counts">
      {path ? <PathLink to={path}>Go on</PathLink> : null}
      <button
        type="button"
        className="link-button"
        disabled={away.isPending}
        onClick={() => away.mutate()}
      >
        Put away
      </button>
      {away.error ? <span className="field-refusal">{away.error.message}</span> : null}
    </p>
  );
}
