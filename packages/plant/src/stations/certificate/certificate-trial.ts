import { parseEntry } from '../../journal/entry.ts';
import type { SignedHead } from '../../journal/head.ts';
import { inclusionProof } from '../../journal/merkle.ts';
import type { EntryProof, PaperSources } from '../../journal/station.ts';
import type { Trial } from '../../journal/trial.ts';
import { reading, recorded } from '../laboratory/laboratory-trial.ts';
import { pressRoomTrial, send, strikeRun } from '../press-room/press-room-trial.ts';
import { putUpStation } from '../put-up/station.ts';
import { certificatePapers } from './papers.ts';
import { certificateStation } from './station.ts';

/** What papers draw on, in a trial: its books, its signer and the proofs of its journal. */
function paperSources(trial: Trial): PaperSources {
  const { books, signer, store } = trial;
  const proofOf = async (number: number): Promise<EntryProof | undefined> => {
    const line = await store.reader.line(number);
    const covering = await store.reader.headCovering(number);
    if (!line || !covering) return undefined;
    const head = JSON.parse(covering.text) as SignedHead;
    const proof = await inclusionProof(books, { number, treeSize: covering.treeSize });
    return { entryText: line.text, entryHash: parseEntry(line).hash, head, proof };
  };
  return { books, signer, proofOf, instant: new Date(trial.now).toISOString() };
}

/** Renders a paper of the certificate desk; nothing when there is no such thing. */
async function renderPaper(trial: Trial, paper: string, id: string) {
  const found = certificatePapers.find((one) => one.paper === paper);
  if (!found) throw new RangeError(`there is no paper ${paper}`);
  return found.render(paperSources(trial), id);
}

/** The text of the signed record of a certificate. */
export async function recordText(trial: Trial, certificate: string): Promise<string> {
  const paper = await renderPaper(trial, 'certificate-record', certificate);
  if (!paper) throw new RangeError(`no record of ${certificate}`);
  return new TextDecoder().decode(paper.bytes);
}

async function fillBox(
  trial: Trial,
  box: string,
  seal: string,
  tubes: readonly string[],
): Promise<void> {
  for (const tube of tubes) {
    // 20 pieces of 8.01 g in a tube of 20 g.
    const weighing = { tube, melt: 'M-1', pieces: 20, gross: reading('180.20', 'g'), tare: null };
    recorded(await trial.do('weigh-tube', { ...weighing, instrument: 'T-1' }, 'custodian'));
  }
  const gross = reading((tubes.length * 180.2 + 800).toFixed(2), 'g');
  const input = { box, tubes, gross, tare: null, seal, instrument: 'T-1' };
  recorded(await trial.do('pack-box', input, 'custodian', 'storeman'));
}

/** A plant whose melt of 47 blanks has been struck, and lies in the strong room in two boxes of one tube. */
export async function certificateTrial(): Promise<Trial> {
  const trial = await pressRoomTrial([putUpStation, certificateStation]);
  await strikeRun(trial, 47);
  const sent = await send(trial, 47);
  if (sent.outcome === 'refused') throw new RangeError(JSON.stringify(sent.refusals));
  const [delivery] = sent.entries;
  const accepted = { delivery: delivery?.number, pieces: 47 };
  recorded(await trial.do('accept-delivery', accepted, 'custodian'));
  await fillBox(trial, 'B-1', 'SEAL-1', ['T-101']);
  await fillBox(trial, 'B-2', 'SEAL-2', ['T-102']);
  const purchaser = {
    purchaser: 'BANK',
    name: 'Northern Savings Bank',
    approvedUntil: '2026-03-31',
  };
  recorded(await trial.do('approve-purchaser', purchaser, 'chief'));
  return trial;
}

/** Issues a certificate over boxes. */
export function issue(
  trial: Trial,
  certificate: string,
  boxes: readonly string[],
  more: object = {},
) {
  return trial.do('issue-certificate', { certificate, boxes, ...more }, 'chief');
}
