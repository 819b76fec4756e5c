import type { HeardLine } from '../../../ports/instrument-line.ts';
import {
  Facts,
  LineWord,
  Part,
  PathLink,
  pathTo,
  printInstant,
  SideAct,
  StandsHere,
  useCommand,
  useInstrumentLine,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import type { InstrumentRow } from '../books.ts';
import type { InstrumentLineRow } from '../lines/books.ts';
import { sendingKinds } from '../lines/queries.ts';

/** What the question `instrument-line` answers of a registered instrument. */
export interface LineAnswer {
  readonly registered: InstrumentRow;
  readonly line: InstrumentLineRow | null;
}

/** The line of an instrument on its page: whether it is in touch, and what it sent last. */
export function LinePart({ row }: { readonly row: InstrumentRow }) {
  const { instrument } = row;
  const { answer } = useQuestion<LineAnswer | null>('instrument-line', { instrument });
  const mayConnect = useMay('connect-instrument');
  if (!answer || !sendingKinds.includes(row.kind)) return null;
  const path = pathTo('/registers/instruments/$instrument/line', { instrument });
  return (
    <Part
      title="Its line"
      aside={
        mayConnect ? (
          <PathLink to={path}>{answer.line ? 'Change its line' : 'Connect instrument'}</PathLink>
        ) : null
      }
    >
      {answer.line ? (
        <OpenLine line={answer.line} />
      ) : (
        <p className="faint">
          It is read on no line: its readings come as keystrokes or are typed.
        </p>
      )}
    </Part>
  );
}

function heardWords({ decoded }: HeardLine): string {
  switch (decoded.says) {
    case 'stable':
      return `stable, ${decoded.text} ${decoded.unit}`;
    case 'point':
      return `${decoded.volume} mL, ${decoded.potential}`;
    case 'unstable':
      return 'not stable';
    case 'overload':
      return 'out of range';
    case 'not understood':
      return `not understood: ${decoded.why}`;
  }
}

function OpenLine({ line }: { readonly line: InstrumentLineRow }) {
  const { instrument } = line;
  const state = useInstrumentLine(instrument);
  const disconnect = useCommand('disconnect-instrument');
  const [last] = state?.heard ?? [];
  return (
    <>
      <Facts
        facts={[
          ['State', state ? <LineWord key="state" line={state} /> : 'not read'],
          ['So since', state ? printInstant(state.since) : null],
          ...(state?.why ? [['Why', state.why] as const] : []),
          ['On', <code key="end">{line.end}</code>],
          ['Last line', last ? <code key="raw">{last.raw}</code> : 'none yet'],
          ['Which is', last ? heardWords(last) : null],
          ['Silent since', state ? printInstant(last?.instant ?? state.since) : null],
        ]}
      />
      <StandsHere instrument={instrument} />
      {disconnect.description?.allowed ? (
        <SideAct
          label="Take instrument off its line"
          command={disconnect}
          input={() => ({ instrument })}
        />
      ) : null}
    </>
  );
}
