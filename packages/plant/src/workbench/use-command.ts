import { useCallback, useRef, useState } from 'react';
import type { Refusal } from '../journal/refusal.ts';
import type { JsonObject } from '../ports/json.ts';
import { plainSchema, type Schema } from './pages/schema-draft.ts';
import { inWordsOfForm } from './pages/schema-names.ts';
import {
  type CommandDescription,
  NotSignedIn,
  type RecordedSummary,
  read,
  type Signing,
  sendCommand,
  Unreachable,
} from './plant-client.ts';
import { useSession } from './session.tsx';

/** Where an attempt to record stands. */
type CommandStage = 'ready' | 'sending' | 'unreachable' | 'refused' | 'recorded' | 'failed';

/** A command in the hands of a page. */
export interface CommandInHand {
  readonly command: string;
  readonly description: CommandDescription | undefined;
  readonly stage: CommandStage;
  readonly refusals: readonly Refusal[];
  readonly entries: readonly RecordedSummary[];
  readonly answer: JsonObject;
  /** Why it failed, when it did so for another reason than a refusal. */
  readonly problem: string;
  send(input: unknown, signing?: Signing): Promise<void>;
  /** The refusal that blames that field of the input, as `gross.text` or `drums.2.pieces`. */
  refusalAt(field: string): string | undefined;
  /** Forgets the last outcome; what the server refused is no longer shown. */
  reset(): void;
}

interface Attempt {
  readonly text: string;
  readonly key: string;
}

/** A key of 128 random bits. It works without a secure context, as on a plant's own network. */
function newKey(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) =>
    byte.toString(16).padStart(2, '0'),
  ).join('');
}

const nothing = { refusals: [], entries: [], answer: {}, problem: '' } as const;

type Result = Pick<CommandInHand, 'stage' | 'refusals' | 'entries' | 'answer' | 'problem'>;

/** Refusals with fields called as people know them; as they came where the schema is out of reach. */
async function inWords(command: string, refusals: readonly Refusal[]): Promise<readonly Refusal[]> {
  if (!refusals.some(({ figures }) => 'accepted' in figures)) return refusals;
  try {
    const { input } = await read<{ input: Schema }>(`/api/commands/${command}`);
    return inWordsOfForm(plainSchema(input), refusals);
  } catch {
    return refusals;
  }
}

async function attemptOnce(
  command: string,
  body: { key: string; input: unknown } & Signing,
): Promise<Result> {
  try {
    const outcome = await sendCommand(command, body);
    if (outcome.outcome === 'refused') {
      return { ...nothing, stage: 'refused', refusals: await inWords(command, outcome.refusals) };
    }
    return { ...nothing, ...outcome, stage: 'recorded' };
  } catch (error) {
    const problem = (error as Error).message;
    if (error instanceof Unreachable) return { ...nothing, stage: 'unreachable', problem };
    return { ...nothing, stage: 'failed', problem };
  }
}

/**
 * Records a command. The key of an attempt is kept until the plant has answered, so that the same
 * input sent again after a broken connection is recorded once; another input is another act.
 */
export function useCommand(
  command: string,
  options: {
    readonly onRecorded?: (answer: JsonObject, entries: readonly RecordedSummary[]) => void;
  } = {},
): CommandInHand {
  const { session, sessionEnded } = useSession();
  const [result, setResult] = useState<Result>({ ...nothing, stage: 'ready' });
  const attempt = useRef<Attempt | undefined>(undefined);
  const onRecorded = useRef(options.onRecorded);
  onRecorded.current = options.onRecorded;

  const send = useCallback(
    async (input: unknown, signing: Signing = {}) => {
      const text = JSON.stringify(input);
      if (attempt.current?.text !== text) attempt.current = { text, key: newKey() };
      setResult({ ...nothing, stage: 'sending' });
      const next = await attemptOnce(command, { key: attempt.current.key, input, ...signing });
      if (next.stage === 'recorded') attempt.current = undefined;
      if (next.stage === 'failed' && next.problem === new NotSignedIn('').message) sessionEnded();
      setResult(next);
      if (next.stage === 'recorded') onRecorded.current?.(next.answer, next.entries);
    },
    [command, sessionEnded],
  );
  const reset = useCallback(() => setResult({ ...nothing, stage: 'ready' }), []);
  const refusalAt = (field: string) =>
    result.refusals.find((refusal) => refusal.field === field)?.message;
  return {
    ...result,
    command,
    description: session?.commands[command],
    send,
    refusalAt,
    reset,
  };
}
