import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { JsonObject } from '../ports/json.ts';
import { missingWords } from './pages/missing-fields.ts';
import type { Schema } from './pages/schema-draft.ts';
import { read } from './plant-client.ts';

/** A command's form as the plant describes it; it never changes while the page stands. */
export const commandForm = (command: string) => ({
  queryKey: ['command', command],
  queryFn: () => read<{ input: Schema; title: string }>(`/api/commands/${command}`),
  staleTime: Number.POSITIVE_INFINITY,
});

/** What an act that is signed still lacks: nobody signs an empty form. */
export function useMissing(command: string, isSigned: boolean) {
  const [isTold, tell] = useState(false);
  const { data } = useQuery({ ...commandForm(command), enabled: isSigned });
  const missingIn = (input: unknown): string | undefined =>
    data && missingWords(data.input, input as JsonObject);
  return { missingIn, isTold, tell };
}
