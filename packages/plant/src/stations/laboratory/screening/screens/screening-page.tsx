import { useState } from 'react';
import {
  ChoiceField,
  Drawings,
  Empty,
  LineageStrip,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  type ScreenProps,
  SideAct,
  State,
  TextField,
  useCommand,
  useDraft,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import { InstrumentChoice, instrumentAtHand } from '../../screens/instrument-choice.tsx';
import type { DeskAnswer, TrialAnswer } from '../../screens/trial-answer.ts';
import { screeningFindings } from '../bodies.ts';
import { type DensityDraft, DensityFields, densityInput, emptyDensity } from './density-fields.tsx';
import {
  emptyFluorescence,
  type FluorescenceDraft,
  FluorescenceFields,
  fluorescenceInput,
} from './fluorescence-fields.tsx';
import type { ShownScreening } from './screening-answer.ts';

/** Screenings of a melt: they raise doubts, and pass nothing. */
export function ScreeningPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const trial = useQuestion<TrialAnswer | null>('melt-trial', { melt });
  const desk = useQuestion<DeskAnswer>('laboratory-desk');
  const screenings = useQuestion<readonly ShownScreening[]>('melt-screenings', { melt });
  const title = `Screening of melt ${melt}`;
  if (trial.answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="No sample of this melt has come to the laboratory."
          how={<PathLink to="/receiving">It is ordered and drawn at receiving.</PathLink>}
        />
      </Page>
    );
  }
  if (!trial.answer || !desk.answer || !screenings.answer) {
    return (
      <Page title={title}>
        <Pending problem={trial.problem ?? desk.problem ?? screenings.problem} />
      </Page>
    );
  }
  return <Screening answer={trial.answer} desk={desk.answer} rows={screenings.answer} />;
}

interface Work {
  readonly answer: TrialAnswer;
  readonly desk: DeskAnswer;
  readonly rows: readonly ShownScreening[];
}

type Means = 'fluorescence' | 'density';

function Screening({ answer, desk, rows }: Work) {
  const { melt } = answer;
  const [head, changeHead] = useDraft('screening', { means: 'fluorescence' as Means });
  const [chosen, choose] = useDraft('screening instruments', { fluorescence: '', density: '' });
  const [blank, setBlank] = useState('');
  const [surface, changeSurface, clearSurface] = useDraft<FluorescenceDraft>(
    `screening fluorescence ${melt}`,
    emptyFluorescence,
  );
  const [weighed, changeWeighed, clearWeighed] = useDraft<DensityDraft>(
    `screening density ${melt}`,
    emptyDensity,
  );
  const onRecorded = () => {
    setBlank('');
    clearSurface();
    clearWeighed();
  };
  const fluorescence = useCommand('screen-by-fluorescence', { onRecorded });
  const density = useCommand('screen-by-density', { onRecorded });
  const { means } = head;
  const isSurface = means === 'fluorescence';
  const command = isSurface ? fluorescence : density;
  const may = useMay(isSurface ? 'screen-by-fluorescence' : 'screen-by-density');
  const kinds = [isSurface ? 'spectrometer' : 'balance'];
  const instrument = instrumentAtHand(desk.instruments, kinds, chosen[means]);
  return (
    <Page
      title={`Screening of melt ${melt}`}
      about="A screening raises doubts; it never shows the fineness and passes nothing"
      known={
        <>
          <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>Melt {melt}</PathLink>
          <LineageStrip thing="melt" id={melt} />
        </>
      }
      act={
        may ? (
          <MainAct
            label="Record screening"
            command={command}
            notYet={blank === '' ? 'Scan the blank.' : undefined}
            input={() => ({
              melt,
              blank,
              instrument,
              ...(isSurface ? fluorescenceInput(surface) : densityInput(weighed)),
            })}
          />
        ) : undefined
      }
    >
      <AnswerScreening melt={melt} rows={rows} />
      {may ? (
        <>
          <ChoiceField
            label="By"
            value={means}
            choices={[
              { value: 'fluorescence', label: 'X-ray fluorescence' },
              { value: 'density', label: 'density' },
            ]}
            onChange={(one) => changeHead({ means: one })}
          />
          {isSurface ? (
            <aside className="cautions" aria-label="Cautions">
              <p>
                The instrument makes X-rays: its interlocks stay closed, and the site’s radiation
                rules and licence come first.
              </p>
            </aside>
          ) : null}
          <TextField
            label="Blank"
            kind="code"
            value={blank}
            onChange={setBlank}
            refusal={command.refusalAt('blank')}
          />
          <InstrumentChoice
            label={isSurface ? 'Spectrometer' : 'Balance'}
            instruments={desk.instruments}
            kinds={kinds}
            value={instrument}
            onChange={(one) => choose({ [means]: one })}
            refusal={command.refusalAt('instrument')}
          />
          {isSurface ? (
            <FluorescenceFields draft={surface} change={changeSurface} command={fluorescence} />
          ) : (
            <DensityFields draft={weighed} change={changeWeighed} command={density} />
          )}
        </>
      ) : null}
      <Screened rows={rows} />
    </Page>
  );
}

/** Screenings that deviate, until the chief assayer says what they mean. */
function AnswerScreening(props: { readonly melt: string; readonly rows: Work['rows'] }) {
  const { melt } = props;
  const open = props.rows.filter(({ state }) => state === 'open');
  const [finding, setFinding] = useState<(typeof screeningFindings)[number]>('assay goes on');
  const [reason, setReason] = useState('');
  const reply = useCommand('answer-screening');
  const may = useMay('answer-screening');
  if (open.length === 0) return null;
  return (
    <Part title="Deviates">
      {open.map((row) => (
        <p key={row.entry} className="still-missing">
          <State word={row.words} tone="stopped" />
        </p>
      ))}
      {may ? (
        <>
          <ChoiceField
            label="What it means"
            value={finding}
            choices={screeningFindings.map((one) => ({ value: one, label: one }))}
            onChange={setFinding}
          />
          <TextField
            label="Reason"
            value={reason}
            onChange={setReason}
            refusal={reply.refusalAt('reason')}
          />
          <SideAct
            label="Answer screening"
            command={reply}
            input={() => ({ melt, finding, reason })}
            notYet={reason.trim().length < 3 ? 'Say what was looked at and found.' : undefined}
          />
        </>
      ) : (
        <p>The melt is not released before the chief assayer has answered.</p>
      )}
    </Part>
  );
}

function Screened({ rows }: { readonly rows: Work['rows'] }) {
  if (rows.length === 0) return null;
  return (
    <Part title="Screened">
      <ol className="plain-list">
        {rows.map((row) => (
          <li key={row.entry}>
            <PathLink to={`/journal/${row.entry}`}>
              {row.blank}, by {row.means}
            </PathLink>
            , {printInstant(row.instant)}
            <p>{row.words}</p>
            {row.state === 'set aside' ? (
              <p className="faint">Set aside: its instrument was in doubt.</p>
            ) : null}
            {row.answered ? (
              <p className="faint">
                {row.answered.finding}: {row.answered.reason}
              </p>
            ) : null}
            <Drawings drawings={row.drawings} />
          </li>
        ))}
      </ol>
    </Part>
  );
}
