import { State } from '../../../workbench/index.ts';

const tones = { normal: 'plain', tightened: 'look', discontinued: 'stopped' } as const;

/** The severity of a series by word and mark. */
export function SeverityShown({ severity }: { readonly severity: keyof typeof tones }) {
  return <State word={severity} tone={tones[severity]} />;
}
