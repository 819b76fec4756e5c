import type { EndPointOutput } from '@cupel/calculation';
import { useId } from 'react';
import { readTableFile } from '../../../../tables/table-file.ts';
import {
  Chart,
  ChoiceField,
  decimalOf,
  Figure,
  printNumber,
  State,
  TextField,
} from '../../../../workbench/index.ts';
import type { CalculatedHere } from '../../examination/screens/use-calculated.ts';
import { curveDrawings } from '../curve-drawings.ts';
import type { TitrationCommand } from '../inputs.ts';
import type { CurveRead } from '../read-curve.ts';
import { isSameVolume } from '../same-volume.ts';
import { FromTitrator } from './from-titrator.tsx';
import { type CurveDraft, curveOf, unconfirmed } from './titration-draft.ts';
import { useEndPoint } from './use-end-point.ts';

interface CurveProps {
  readonly label: string;
  readonly curve: CurveDraft;
  readonly method: TitrationCommand['method'] | undefined;
  /** As typed for the whole run. */
  readonly buretteUncertainty: string;
  readonly onChange: (part: Partial<CurveDraft>) => void;
  /** The refusal of a field of this vessel, as `.endPointConfirmedMillilitres`. */
  readonly refusalAt: (field: string) => string | undefined;
}

/** The curve of one vessel: read, drawn with its end point, and confirmed. */
export function CurvePart(props: CurveProps) {
  const { label, curve, method, onChange } = props;
  const read = curveOf(curve);
  const burette = decimalOf(props.buretteUncertainty);
  const found = useEndPoint(
    read.outcome === 'read' ? read.points : undefined,
    method,
    typeof burette === 'number' ? burette : 0,
  );
  return (
    <div className="titration-curve">
      <FromTitrator label={label} curve={curve} onChange={onChange} />
      <CurveEntry {...props} read={read} />
      {read.outcome === 'read' ? (
        <CurveDrawn label={label} curve={curve} read={read} found={found} />
      ) : null}
      {read.outcome === 'read' ? (
        <Confirmation {...props} found={found} onChange={onChange} />
      ) : null}
    </div>
  );
}

/** Text of the curve: typed, pasted, or read from a file. */
function CurveEntry(props: CurveProps & { readonly read: CurveRead }) {
  const { label, curve, read, onChange } = props;
  const id = useId();
  const take = async (file: File | undefined) => {
    if (!file) return;
    const { text } = await readTableFile(new Uint8Array(await file.arrayBuffer()));
    onChange({ ...unconfirmed, text, origin: 'file', fileName: file.name.slice(0, 200) });
  };
  const refusal = props.refusalAt('.curve');
  return (
    <div className={`field curve-entry${refusal ? ' field-refused' : ''}`}>
      <label htmlFor={id}>Curve of {label}</label>
      <textarea
        id={id}
        rows={curve.text === '' ? 4 : 7}
        spellCheck={false}
        placeholder="Volume in mL and potential in mV, a point in each row"
        value={curve.text}
        onPaste={(event) => {
          if (curve.text !== '') return;
          event.preventDefault();
          const text = event.clipboardData.getData('text');
          onChange({ ...unconfirmed, text, origin: 'pasted', fileName: '' });
        }}
        onChange={(event) =>
          onChange({ ...unconfirmed, text: event.target.value, origin: 'typed', fileName: '' })
        }
      />
      <input
        type="file"
        accept=".csv,.tsv,.txt,.xlsx,text/csv,text/plain"
        aria-label={`File of the curve of ${label}`}
        onChange={(event) => void take(event.target.files?.[0])}
      />
      <CurveState curve={curve} read={read} />
      {read.outcome === 'read' && read.as.header.length === 0 ? (
        <ChoiceField
          label="The potentials are in"
          value={read.as.potentialUnit}
          choices={[
            { value: 'mV', label: 'mV' },
            { value: 'V', label: 'V' },
          ]}
          onChange={(potentialUnit) => onChange({ ...unconfirmed, potentialUnit })}
        />
      ) : null}
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </div>
  );
}

const problemsShown = 6;

/** How the text was understood, or what is wrong with it, line by line. */
function CurveState({ curve, read }: { readonly curve: CurveDraft; readonly read: CurveRead }) {
  if (curve.text.trim() === '') {
    return <p className="field-hint">Type it, paste it, or choose the titrator’s file.</p>;
  }
  if (read.outcome === 'read') {
    const last = read.points.at(-1);
    return (
      <p className="field-hint">
        {printNumber(read.points.length)} points up to{' '}
        <Figure value={last?.volumeMillilitres ?? 0} unit="mL" />
        {curve.fileName ? `, from ${curve.fileName}` : null}
      </p>
    );
  }
  const { problems } = read;
  return (
    <ul className="plain-list curve-problems" aria-live="polite">
      {problems.slice(0, problemsShown).map(({ line, column, value, accepted }) => (
        <li key={`${line} ${column}`}>
          {line === 0 ? null : `Line ${printNumber(line)}, ${column}: `}
          {value === '' ? 'nothing' : value}; accepted is {accepted}.
        </li>
      ))}
      {problems.length > problemsShown ? (
        <li>and {printNumber(problems.length - problemsShown)} more</li>
      ) : null}
    </ul>
  );
}

function CurveDrawn(props: {
  readonly label: string;
  readonly curve: CurveDraft;
  readonly read: Extract<CurveRead, { outcome: 'read' }>;
  readonly found: CalculatedHere<EndPointOutput>;
}) {
  const { label, curve, read, found } = props;
  const typed = decimalOf(curve.confirmed);
  const drawings = curveDrawings(label, read.points, {
    found: found.state === 'found' ? found.output.endPointMillilitres : undefined,
    taken: curve.isOther && typeof typed === 'number' ? typed : undefined,
  });
  return (
    <div className="curve-drawings">
      {drawings.map((figures) => (
        <Chart key={figures.title} figures={figures} />
      ))}
    </div>
  );
}

/** The end point found is confirmed, or another point is taken with its reason. */
function Confirmation(props: CurveProps & { readonly found: CalculatedHere<EndPointOutput> }) {
  const { label, curve, found, onChange, refusalAt } = props;
  const at = '.endPointConfirmedMillilitres';
  if (found.state === 'none') return null;
  if (found.state === 'working') {
    return (
      <p className="faint" role="status">
        Looking for the end point of {label} …
      </p>
    );
  }
  if (found.state === 'refused') {
    return (
      <p role="status">
        <State word="No end point found" tone="look" /> {found.words}
      </p>
    );
  }
  const { endPointMillilitres: volume, standardUncertaintyMillilitres, words } = found.output;
  const typed = decimalOf(curve.confirmed);
  const isConfirmed = !curve.isOther && typeof typed === 'number' && isSameVolume(typed, volume);
  return (
    <div className="curve-confirmation">
      <p className="curve-end-point">
        End point{' '}
        <Figure
          value={volume}
          decimals={4}
          uncertainty={standardUncertaintyMillilitres}
          unit="mL"
          size="result"
        />
      </p>
      <p className="faint">{words}</p>
      {isConfirmed ? (
        <p role="status">✓ confirmed as the end point of {label}</p>
      ) : curve.isOther ? null : (
        <button
          type="button"
          className="quiet-button"
          onClick={() => onChange({ confirmed: String(volume), isOther: false, reason: '' })}
        >
          Confirm {printNumber(volume, 4)} mL for {label}
        </button>
      )}
      <button
        type="button"
        className="link-button"
        onClick={() =>
          onChange(
            curve.isOther
              ? { confirmed: '', isOther: false, reason: '' }
              : { confirmed: '', isOther: true },
          )
        }
      >
        {curve.isOther ? 'Go back to the end point found' : 'Take another point'}
      </button>
      {curve.isOther ? (
        <>
          <TextField
            label={`Point taken for ${label}`}
            kind="decimal"
            unit="mL"
            value={curve.confirmed}
            onChange={(confirmed) => onChange({ confirmed })}
            refusal={refusalAt(at)}
          />
          <TextField
            label="Why this point and not the one found"
            value={curve.reason}
            onChange={(reason) => onChange({ reason })}
            hint="Both stay in the record."
            refusal={refusalAt('.endPointReason')}
          />
        </>
      ) : refusalAt(at) ? (
        <p className="field-refusal">{refusalAt(at)}</p>
      ) : null}
    </div>
  );
}
