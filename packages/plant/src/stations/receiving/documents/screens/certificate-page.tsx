import {
  attachmentPath,
  ChoiceField,
  Empty,
  Facts,
  FieldRow,
  type KeptDocument,
  KeptFileField,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  TextField,
  useCommand,
  useDraft,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import { type ContentUnit, contentUnits } from '../content.ts';
import {
  emptyMelt,
  type MeltDraft,
  notReadOf,
  statedMelts,
  whyNotYet,
} from './certificate-draft.ts';
import { type CertificatesAnswer, MeltsShown } from './certified-melts.tsx';
import { WithoutPart } from './without-part.tsx';

/** The supplier's certificates of a consignment: kept as they came, read once the plant has signed. */
export function CertificatePage({ params }: ScreenProps) {
  const consignment = params['consignment'] ?? '';
  const { answer, problem } = useQuestion<CertificatesAnswer | null>('material-certificates', {
    consignment,
  });
  const title = `Certificates of consignment ${consignment}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="No consignment of this name was announced."
          how={<PathLink to="/receiving">The desk of receiving lists them.</PathLink>}
        />
      </Page>
    );
  }
  return <Certificates answer={answer} />;
}

function Certificates({ answer }: { readonly answer: CertificatesAnswer }) {
  const { consignment } = answer;
  const may = useMay('attach-certificate');
  const waiting = answer.missing.length > 0 ? answer.missing : [''];
  const [draft, change, clear] = useDraft(`certificate ${consignment}`, {
    document: '',
    file: null as KeptDocument | null,
    unit: 'ppm' as ContentUnit,
    correction: '',
    melts: waiting.map((melt): MeltDraft => ({ ...emptyMelt, melt })),
  });
  const attach = useCommand('attach-certificate', { onRecorded: clear });
  const stated = statedMelts(draft.melts, draft.unit);
  const put = (index: number, part: Partial<MeltDraft>) =>
    change({
      melts: draft.melts.map((one, place) => (place === index ? { ...one, ...part } : one)),
    });
  return (
    <Page
      title={`Certificates of consignment ${consignment}`}
      about={`${answer.pieceStandardTitle} from ${answer.supplierName}`}
      known={<Known answer={answer} />}
      act={
        may ? (
          <MainAct
            label="Attach certificate"
            command={attach}
            input={() => ({
              consignment,
              document: draft.document,
              file: draft.file,
              melts: stated,
              correction: draft.correction === '' ? null : draft.correction,
            })}
            notYet={whyNotYet({ ...draft, isKept: draft.file !== null, stated: stated.length })}
          />
        ) : undefined
      }
    >
      <MeltsShown answer={answer} />
      <WithoutPart answer={answer} />
      {may ? (
        <Part title="Attach a certificate">
          <FieldRow>
            <TextField
              label="Document"
              value={draft.document}
              onChange={(document) => change({ document })}
              hint="What the certificate is called."
              refusal={attach.refusalAt('document')}
            />
            <KeptFileField
              label="The certificate itself"
              value={draft.file}
              onChange={(file) => change({ file })}
              refusal={attach.refusalAt('file')}
            />
          </FieldRow>
          <ChoiceField
            label="Contents are in"
            value={draft.unit}
            choices={contentUnits.map((value) => ({ value, label: value }))}
            onChange={(unit) => change({ unit })}
          />
          {draft.melts.map((melt, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a melt that is being typed has no name yet
            <fieldset className="certified-melt" key={index} aria-label={`Row ${index + 1}`}>
              <TextField
                label="Melt"
                kind="code"
                value={melt.melt}
                onChange={(text) => put(index, { melt: text })}
                refusal={attach.refusalAt(`melts.${index}.melt`)}
              />
              <TextField
                label="Fineness"
                kind="decimal"
                unit="‰"
                optional
                value={melt.fineness}
                onChange={(fineness) => put(index, { fineness })}
                refusal={attach.refusalAt(`melts.${index}.finenessPerMille`)}
              />
              <TextField
                label="Composition"
                optional
                value={melt.composition}
                onChange={(composition) => put(index, { composition })}
                hint="As Ag 12; Cu 5; Fe <2."
                refusal={notReadOf(melt) ?? attach.refusalAt(`melts.${index}.composition`)}
              />
            </fieldset>
          ))}
          <button
            type="button"
            className="quiet-button"
            data-goes-on
            onClick={() => change({ melts: [...draft.melts, emptyMelt] })}
          >
            Add a melt
          </button>
          <TextField
            label="What is corrected"
            value={draft.correction}
            onChange={(correction) => change({ correction })}
            optional
            hint="Only where the same file is entered again."
            refusal={attach.refusalAt('correction')}
          />
        </Part>
      ) : null}
    </Page>
  );
}

function Known({ answer }: { readonly answer: CertificatesAnswer }) {
  const { consignment, certificates } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Consignment',
            <PathLink
              key="consignment"
              to={pathTo('/receiving/consignments/$consignment', { consignment })}
            >
              {consignment}
            </PathLink>,
          ],
          ['Certificates', printNumber(certificates.length)],
        ]}
      />
      {certificates.map((one) => (
        <p key={one.entry}>
          {one.sha256 === null ? (
            one.document
          ) : (
            <a className="link" href={attachmentPath(one.sha256)} download={one.name}>
              {one.document}
            </a>
          )}
          <br />
          <span className="faint">
            {printInstant(one.instant)}, {one.melts.join(', ')}
            {one.strange.length > 0 ? `; strange here: ${one.strange.join(', ')}` : ''}
          </span>
        </p>
      ))}
    </>
  );
}
