import { type ComponentType, lazy, Suspense } from 'react';
import { Page, Pending, type ScreenProps } from '../../../workbench/index.ts';

/** A page that is loaded when it is first opened. */
export function laterPage(
  title: string,
  load: () => Promise<ComponentType<ScreenProps>>,
): ComponentType<ScreenProps> {
  const Loaded = lazy(async () => ({ default: await load() }));
  // biome-ignore lint/correctness/noComponentHookFactories: called once for each path, when the screens are listed
  return function LaterPage(props: ScreenProps) {
    const waiting = (
      <Page title={title}>
        <Pending />
      </Page>
    );
    return (
      <Suspense fallback={waiting}>
        <Loaded {...props} />
      </Suspense>
    );
  };
}
