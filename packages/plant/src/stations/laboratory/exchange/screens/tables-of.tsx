import { PaperLink } from '../../../../workbench/index.ts';

/** A table that is handed out, in its three forms. */
export function TablesOf(props: {
  readonly paper: string;
  readonly id: string;
  readonly title: string;
}) {
  const { paper, id, title } = props;
  return (
    <p className="table-forms">
      <span>{title}</span>
      <PaperLink paper={paper} id={`${id}@xlsx`}>
        workbook
      </PaperLink>
      <PaperLink paper={paper} id={`${id}@csv`}>
        text (CSV)
      </PaperLink>
    </p>
  );
}
