import { PathLink, pathTo, useQuestion } from '../../../../workbench/index.ts';

/** The file that a run was taken from, where it was taken from one. */
export function ResultFileLink(props: {
  readonly run: { readonly melt: string; readonly assayRun: string; readonly method: string };
}) {
  const { melt, assayRun, method } = props.run;
  const asked = method === 'cupellation' ? undefined : { melt };
  const { answer } = useQuestion<readonly { readonly assayRun: string; readonly name: string }[]>(
    'result-files',
    asked,
  );
  const file = answer?.find((one) => one.assayRun === assayRun);
  if (!file) return null;
  return (
    <p>
      Taken from{' '}
      <PathLink to={pathTo('/laboratory/result-files/$run', { run: assayRun })}>
        {file.name}
      </PathLink>
      , with calibration and drift.
    </p>
  );
}
