import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { balances, movements } from '../../journal/core-books.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import type { Outcome } from '../../journal/recorder.ts';
import type { Circumstances } from '../../journal/station.ts';
import { failBalance } from '../laboratory/controls/failed-balance-trial.ts';
import { recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { laboratoryStation } from '../laboratory/station.ts';
import { pressRoomStation } from '../press-room/station.ts';
import { failTubeBalance } from '../put-up/put-up-trial.ts';
import { putUpStation } from '../put-up/station.ts';
import { receivingStation } from '../receiving/station.ts';
import { registersStation } from '../registers/station.ts';
import { certificateTrial, issue, recordText } from './certificate-trial.ts';
import type { CertificateContent } from './content.ts';
import { certificateDocket } from './docket.ts';
import { issueCertificate } from './issue-certificate.ts';
import { type BoxFacts, type IssueFacts, issueFacts, type MeltFacts } from './issue-facts.ts';
import { certificateRefusals } from './refusals.ts';
import { certificateStation } from './station.ts';
import { verifyCertificate } from './verify-certificate.ts';

// Masses: a tube of 20 pieces shows 180.20 g less 20 g, that is 160.20 g; at 916.7 ‰ its fine mass
// is 160.20 × 0.9167 = 146.855 34 g, by hand.

const contentOf = (outcome: Outcome): CertificateContent =>
  recorded(outcome)[0]?.content as unknown as CertificateContent;

const dispatch = (boxes: readonly string[], changes: object = {}) => ({
  dispatch: 'DISP-1',
  purchaser: 'BANK',
  document: 'Delivery note 12',
  boxes,
  ...changes,
});

describe('issue-certificate', () => {
  it('certifies boxes with masses, counts, results and people, and signs the head', async () => {
    const trial = await certificateTrial();
    const outcome = await issue(trial, 'CERT-1', ['B-1', 'B-2']);
    const content = contentOf(outcome);
    expect(content.totals).toEqual({
      boxes: 2,
      tubes: 2,
      pieces: 40,
      grossMicrograms: 320_400_000,
      fineMicrograms: 293_710_680,
    });
    expect(content.melts.map((melt) => melt.melt)).toEqual(['M-1']);
    const [melt] = content.melts;
    expect(melt?.result.finenessPerMille).toBeCloseTo(917.4, 9);
    expect(melt).toMatchObject({
      supplier: 'North Metals',
      // The guard factor 2 of the standard asks for 0.97725; nothing of u was estimated here.
      decision: {
        verdict: 'passes',
        limitPerMille: 916.6,
        guardFactor: expect.closeTo(2, 9),
        requiredConformanceProbability: expect.closeTo(0.97725, 5),
        degreesOfFreedom: null,
      },
      ruling: { ruling: 'release' },
      signed: { by: { person: 'assayer', name: 'The assayer' } },
      checked: { by: { person: 'checker', name: 'The checker' } },
      physical: { blanksForPhysical: 13, blanksNonconforming: 0, state: 'accepted' },
    });
    // Two proofs and two portions with two masses each.
    expect(melt?.readings).toHaveLength(8);
    expect(outcome).toMatchObject({
      answer: { certificate: 'CERT-1', boxes: 2, pieces: 40, fineMicrograms: 293_710_680 },
    });
    const number = outcome.outcome === 'recorded' ? outcome.entries[0]?.number : undefined;
    expect((await trial.store.reader.heads()).at(-1)?.treeSize).toBe(number);
  });

  it('gives a record of which every check holds', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1', 'B-2']));
    const text = await recordText(trial, 'CERT-1');
    const options = { publicKey: trial.signer.publicKey };
    const { holds, checks, certificate } = await verifyCertificate(text, options);
    expect(checks.filter((check) => !check.holds)).toEqual([]);
    expect(holds).toBe(true);
    expect(certificate).toBe('CERT-1');
    expect(checks.length).toBeGreaterThan(15);
  });

  it('is refused with the first reason first', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1']));
    expect(
      refusals(await issue(trial, 'CERT-1', ['B-9', 'B-1', 'B-1'], { replaces: 'CERT-0' })),
    ).toEqual([
      'CertificateAlreadyIssued',
      'CertificateUnknown',
      'BoxRepeated',
      'BoxUnknown',
      'BoxAlreadyCertified',
      'BoxAlreadyCertified',
    ]);
  });

  it('is for the chief assayer', async () => {
    const trial = await certificateTrial();
    const input = { certificate: 'CERT-1', boxes: ['B-1'] };
    expect(refusals(await trial.do('issue-certificate', input, 'custodian'))).toEqual([
      'RoleMissing',
    ]);
    expect(refusals(await trial.do('issue-certificate', { ...input, boxes: [] }, 'chief'))).toEqual(
      ['InputNotAccepted'],
    );
  });

  it('is refused without the name of the plant, for mixed pieces, an unfinished melt and an open hold', async () => {
    const trial = await certificateTrial();
    const input = { certificate: 'CERT-1', boxes: ['B-1', 'B-2'], replaces: null };
    const facts = await issueFacts(trial.books, input);
    const decided = (changes: Partial<IssueFacts>) => {
      const circumstances = {} as Circumstances;
      const decision = issueCertificate.decide(input, { ...facts, ...changes }, circumstances);
      return 'refusals' in decision
        ? decision.refusals.map((one) => one.refusal)
        : decision.entries;
    };
    expect(decided({ plant: undefined })).toEqual(['PlantNotFounded']);
    const [first, second] = facts.boxes;
    const other = { ...second, row: { ...second?.row, pieceStandard: 'heron-31' } } as BoxFacts;
    expect(decided({ boxes: [first as BoxFacts, other] })).toEqual(['PieceStandardsMixed']);
    const [melt] = facts.melts as [MeltFacts];
    expect(decided({ melts: [{ ...melt, result: undefined }] })).toEqual(['MeltWithoutResult']);
    expect(decided({ melts: [{ ...melt, openHolds: ['H-1'] }] })).toEqual(['HoldOpen']);
  });

  it('is refused while a run behind a melt, or the weighing of a box, is in doubt', async () => {
    const trial = await certificateTrial();
    const ofAssay = await failBalance(trial);
    const ofTubes = await failTubeBalance(trial);
    const outcome = await issue(trial, 'CERT-1', ['B-1']);
    expect([...new Set(refusals(outcome))]).toEqual(['ResultInDoubt', 'BoxWeighingInDoubt']);
    for (const hold of [ofAssay, ofTubes]) {
      const shown = (await trial.ask('results-hold', { hold }, 'chief')) as unknown as {
        readonly held: readonly { readonly entry: number }[];
      };
      const entries = shown.held.map(({ entry }) => entry);
      const answer = { hold, entries, finding: 'stands', reason: 'Weighed again.' };
      recorded(await trial.do('answer-hold', answer, 'chief'));
    }
    recorded(await issue(trial, 'CERT-1', ['B-1']));
  });

  it('is refused when the ruling no longer releases the melt', async () => {
    const trial = await certificateTrial();
    const ruling = { melt: 'M-1', ruling: 'hold', reason: 'The proofs are in doubt.' };
    recorded(await trial.do('rule-melt', ruling, 'chief'));
    expect(await issue(trial, 'CERT-1', ['B-1'])).toMatchObject({
      refusals: [
        {
          refusal: 'MeltNotPassed',
          message: 'Melt M-1: verdict passes, ruling hold.',
          nextStep: certificateRefusals.MeltNotPassed.nextStep,
          figures: { melt: 'M-1', verdict: 'passes', ruling: 'hold' },
        },
      ],
    });
  });
});

describe('withdraw-certificate', () => {
  it('ends a certificate, so that another can replace it', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1']));
    expect(refusals(await issue(trial, 'CERT-2', ['B-2'], { replaces: 'CERT-1' }))).toEqual([
      'ReplacedCertificateStands',
    ]);
    const withdrawal = { certificate: 'CERT-1', reason: 'The seal was misread.' };
    recorded(await trial.do('withdraw-certificate', withdrawal, 'chief'));
    const content = contentOf(await issue(trial, 'CERT-2', ['B-1'], { replaces: 'CERT-1' }));
    expect(content.replaces).toBe('CERT-1');
    expect(await trial.ask('certificate', { certificate: 'CERT-1' }, 'auditor')).toMatchObject({
      state: 'withdrawn',
      withdrawnReason: 'The seal was misread.',
      boxes: [{ box: 'B-1', certificate: 'CERT-2' }],
    });
    expect(refusals(await trial.do('withdraw-certificate', withdrawal, 'chief'))).toEqual([
      'CertificateAlreadyWithdrawn',
    ]);
    const unknown = { ...withdrawal, certificate: 'CERT-9' };
    expect(refusals(await trial.do('withdraw-certificate', unknown, 'chief'))).toEqual([
      'CertificateUnknown',
    ]);
  });
});

describe('dispatch-boxes', () => {
  it('moves the metal out of the strong room with the masses that brought it there', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1', 'B-2']));
    const outcome = await trial.do('dispatch-boxes', dispatch(['B-1']), 'custodian', 'storeman');
    expect(outcome).toMatchObject({
      entries: [
        {
          postings: [
            {
              metal: 'gold',
              pieceStandard: 'lark-8',
              melt: 'M-1',
              container: 'B-1',
              from: 'strong-room',
              to: 'with-purchaser',
              pieces: 20,
              grossMicrograms: 160_200_000,
              fineMicrograms: 146_855_340,
              estimated: false,
            },
          ],
        },
      ],
    });
    // The tube balance of put-up gave the mass, whatever way the box has gone since.
    const [sent] = await trial.books.select(movements, { descending: true, limit: 1 });
    expect(sent).toMatchObject({
      to: 'with-purchaser',
      weighings: [{ instrument: 'T-1', readings: 1, grossMicrograms: 160_200_000 }],
    });
    const left = await trial.books.get(balances, 'strong-room', 'gold', 'lark-8', 'M-1');
    expect(left).toMatchObject({ pieces: 20, grossMicrograms: 160_200_000 });
    expect(await trial.ask('strong-room', {}, 'custodian')).toMatchObject({
      boxes: [{ box: 'B-2', certificate: 'CERT-1', pieces: 20 }],
    });
  });

  it('is refused without certificate, twice, and for an unknown box', async () => {
    const trial = await certificateTrial();
    const send = (boxes: readonly string[], changes: object = {}) =>
      trial.do('dispatch-boxes', dispatch(boxes, changes), 'custodian', 'storeman');
    expect(refusals(await send(['B-1', 'B-9', 'B-1']))).toEqual([
      'BoxRepeated',
      'BoxNotCertified',
      'BoxUnknown',
      'BoxNotCertified',
    ]);
    recorded(await issue(trial, 'CERT-1', ['B-1', 'B-2']));
    recorded(await send(['B-1']));
    expect(refusals(await send(['B-1']))).toEqual(['DispatchAlreadyRecorded', 'BoxGone']);
    expect(refusals(await issue(trial, 'CERT-2', ['B-1']))).toEqual(['BoxGone']);
  });

  it('goes to nobody who is not approved, or no longer', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1']));
    const send = (changes: object) =>
      trial.do('dispatch-boxes', dispatch(['B-1'], changes), 'custodian', 'storeman');
    expect(refusals(await send({ purchaser: 'OTHER' }))).toEqual(['PurchaserNotApproved']);
    trial.now = Date.parse('2026-04-01T06:00:00Z');
    expect(await send({})).toMatchObject({
      refusals: [
        {
          refusal: 'PurchaserNotApproved',
          figures: { purchaser: 'BANK', approvedUntil: '2026-03-31', day: '2026-04-01' },
        },
      ],
    });
  });

  it('needs a second person', async () => {
    const trial = await certificateTrial();
    expect(refusals(await trial.do('dispatch-boxes', dispatch(['B-1']), 'custodian'))).toEqual([
      'WitnessMissing',
    ]);
  });
});

describe('the books of the certificate desk', () => {
  it('come out the same when they are made anew from the journal', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1', 'B-2']));
    recorded(await trial.do('dispatch-boxes', dispatch(['B-1']), 'custodian', 'storeman'));
    const withdrawal = { certificate: 'CERT-1', reason: 'The seal was misread.' };
    recorded(await trial.do('withdraw-certificate', withdrawal, 'chief'));
    const rebuilt = new MemoryStore('trial');
    const registry = registerStations([
      registersStation,
      receivingStation,
      laboratoryStation,
      pressRoomStation,
      putUpStation,
      certificateStation,
    ]);
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter((one) => !one.equal)).toEqual([]);
    expect(comparisons.find((one) => one.book === 'certificate_box')?.records).toBe(2);
  });
});

describe('the desk', () => {
  it('lists the boxes in the strong room, certified or not, and what was issued', async () => {
    const trial = await certificateTrial();
    recorded(await issue(trial, 'CERT-1', ['B-1']));
    expect(await trial.ask('certificate-desk', {}, 'chief')).toMatchObject({
      boxes: [
        { box: 'B-1', seal: 'SEAL-1', certificate: 'CERT-1', grossMicrograms: 160_200_000 },
        { box: 'B-2', seal: 'SEAL-2', certificate: null, melts: [{ melt: 'M-1', pieces: 20 }] },
      ],
      certificates: [{ certificate: 'CERT-1', state: 'valid', pieces: 20 }],
      dispatches: [],
    });
    expect(await trial.ask('certificate', { certificate: 'CERT-9' }, 'chief')).toBeNull();
  });

  it('puts boxes without a certificate on the docket until there is one', async () => {
    const trial = await certificateTrial();
    const papers = await certificateDocket(trial.books);
    expect(papers).toMatchObject([
      {
        paper: 'certificate/uncertified/lark-8',
        what: '2 sealed boxes of lark-8, 40 pieces, lie in the strong room without a certificate.',
        weight: 'look',
      },
    ]);
    recorded(await issue(trial, 'CERT-1', ['B-1', 'B-2']));
    expect(await certificateDocket(trial.books)).toEqual([]);
  });
});
