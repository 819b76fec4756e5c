import { type ReactNode, Suspense } from 'react';
import { Page, Pending } from '../../../../workbench/index.ts';

/** A page that is loaded where it is used: readers of tables bring schemas and calculations with them. */
export function WhileLoading(props: { readonly title: string; readonly children: ReactNode }) {
  const waiting = (
    <Page title={props.title}>
      <Pending />
    </Page>
  );
  return <Suspense fallback={waiting}>{props.children}</Suspense>;
}
