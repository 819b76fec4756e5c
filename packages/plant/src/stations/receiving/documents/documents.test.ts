import { describe, expect, it } from 'vitest';
import { bookWriter } from '../../../journal/books.ts';
import { consignments } from '../books.ts';
import { noteResult } from '../from-laboratory.ts';
import { supplierFinenessOf } from '../index.ts';
import { makeAnnouncedTrial, type ReceivingTrial } from '../trial-receiving.ts';
import { documentDocket } from './docket.ts';
import { MaterialCertificateAttached } from './entries.ts';

const file = { name: 'certificate.pdf', sha256: 'ab'.repeat(32) };
const impurity = (element: string, content: number, more: object = {}) => ({
  element,
  content,
  unit: 'ppm',
  isBelow: false,
  ...more,
});
const attaching = {
  consignment: 'C-1',
  document: 'Certificate 88',
  file,
  melts: [
    {
      melt: 'M-1',
      finenessPerMille: 999.93,
      composition: [
        impurity('Ag', 41),
        impurity('Cu', 24),
        impurity('Fe', 2, { isBelow: true }),
        { element: 'Au', content: 99.9935, unit: '%', isBelow: false },
      ],
    },
  ],
  correction: null,
};

const certified = (melt: string, finenessPerMille: number | null, composition: object[] = []) => ({
  melt,
  finenessPerMille,
  composition,
});

async function attached(trial: ReceivingTrial, change: object = {}) {
  const [entry] = await trial.recorded(
    'attach-certificate',
    { ...attaching, ...change },
    'custodian',
  );
  return entry?.body as { melts: { findings: string[] }[]; strange: string[]; missing: string[] };
}

async function signResult(trial: ReceivingTrial, melt: string, isSigned = true): Promise<void> {
  await trial.store.write(async (writer) => {
    await noteResult(bookWriter(writer), { number: 99, instant: '' }, { melt, isSigned });
  });
}

describe('attach-certificate', () => {
  it('matches melts, and checks the impurities against what the least fineness leaves', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await attached(trial)).toMatchObject({
      missing: ['M-2'],
      strange: [],
      melts: [
        {
          melt: 'M-1',
          // 41 + 24 mg/kg found leave 999.935 ‰; the gold is no impurity.
          leftByImpuritiesPerMille: 999.935,
          findings: [],
          check: {
            calculation: 'impurity-table-check',
            output: { state: 'within', elements: [{}, {}, {}] },
            input: {
              edition: 'least fineness 999.9 ‰',
              limits: [{ element: 'Ag', limitMilligramsPerKilogram: 100 }, {}, {}],
            },
          },
        },
      ],
    });
  });

  const findings: readonly (readonly [string, object, string])[] = [
    ['a fineness below the least', certified('M-1', 999.8), 'fineness below the least'],
    [
      'impurities of more than 100 mg/kg together',
      certified('M-1', null, [impurity('Ag', 60), impurity('Cu', 50)]),
      'impurities beyond what the least fineness leaves',
    ],
    [
      // 70 mg/kg leave 999.93; stated is 999.94, of which half the last digit is 0.005.
      'a fineness that its own impurities contradict',
      certified('M-1', 999.94, [impurity('Ag', 70)]),
      'fineness above what the impurities leave',
    ],
    [
      'another fineness than the packing list',
      certified('M-1', 999.95),
      'fineness not that of the packing list',
    ],
  ];
  it.each(findings)('finds %s', async (_what, melt, finding) => {
    const trial = await makeAnnouncedTrial();
    const body = await attached(trial, { melts: [melt] });
    expect(body.melts[0]?.findings).toContain(finding);
  });

  it('states the fineness of a melt for which the packing list stated none, and no other', async () => {
    const trial = await makeAnnouncedTrial();
    await attached(trial, { melts: [certified('M-1', 999.99), certified('M-2', 999.97)] });
    expect(await supplierFinenessOf(trial.books, 'M-1')).toBe(999.93);
    expect(await supplierFinenessOf(trial.books, 'M-2')).toBe(999.97);
    const corrected = { melts: [certified('M-2', 999.96)], correction: 'Read the wrong line.' };
    await attached(trial, corrected);
    expect(await supplierFinenessOf(trial.books, 'M-2')).toBe(999.96);
  });

  const refusals: readonly (readonly [string, object, string, string])[] = [
    ['an unknown consignment', { consignment: 'C-9' }, 'ConsignmentUnknown', 'consignment'],
    [
      'a certificate of other melts',
      { melts: [certified('M-8', 999.9)] },
      'CertificateNamesNoMelt',
      'melts',
    ],
    [
      'contents that are more than the whole',
      {
        melts: [
          certified('M-1', null, [impurity('Ag', 60, { unit: '%' }), impurity('Cu', 410_000)]),
        ],
      },
      'CompositionBeyondWhole',
      'melts.0.composition',
    ],
    [
      'an element twice',
      { melts: [certified('M-1', null, [impurity('Ag', 1), impurity('Ag', 2)])] },
      'InputNotAccepted',
      'melts.0.composition.1.element',
    ],
    [
      'what is no element',
      { melts: [certified('M-1', null, [impurity('Xx', 1)])] },
      'InputNotAccepted',
      'melts.0.composition.0.element',
    ],
    [
      'a melt twice',
      { melts: [certified('M-1', 999.9), certified('M-1', 999.9)] },
      'InputNotAccepted',
      'melts.1.melt',
    ],
    [
      'a fineness in percent',
      { melts: [certified('M-1', 99.993)] },
      'FinenessImplausible',
      'melts.0.finenessPerMille',
    ],
  ];
  it.each(refusals)('refuses %s', async (_what, change, refusal, field) => {
    const trial = await makeAnnouncedTrial();
    expect(
      await trial.refused('attach-certificate', { ...attaching, ...change }, 'custodian'),
    ).toMatchObject([{ refusal, field }]);
  });

  it('refuses the same file again, unless it says what it corrects', async () => {
    const trial = await makeAnnouncedTrial();
    await attached(trial);
    expect(await trial.refused('attach-certificate', attaching, 'custodian')).toMatchObject([
      { refusal: 'CertificateAlreadyAttached' },
    ]);
    await attached(trial, { correction: 'A digit was read wrongly.' });
    const shown = await trial.ask('material-certificates', { consignment: 'C-1' }, 'custodian');
    expect(shown).toMatchObject({ certificates: [{ entry: 7 }] });
  });
});

describe("the supplier's certificate", () => {
  const ask = (trial: ReceivingTrial, person: string) =>
    trial.ask('material-certificates', { consignment: 'C-1' }, person);

  it.each(['chief', 'assayer', 'checker', 'inspector', 'accountant'])(
    'shows nothing to %s before the result is signed, not even its file',
    async (person) => {
      const trial = await makeAnnouncedTrial();
      await attached(trial);
      const text = JSON.stringify(await ask(trial, person));
      expect(text).toContain('Certificate 88');
      for (const secret of ['999.93', '"Ag"', 'findings', file.sha256]) {
        expect(text).not.toContain(secret);
      }
    },
  );

  it('shows its file, and no value, to who received it', async () => {
    const trial = await makeAnnouncedTrial();
    await attached(trial);
    const text = JSON.stringify(await ask(trial, 'custodian'));
    expect(text).toContain(file.sha256);
    expect(text).not.toContain('999.93');
  });

  it('is open to all once the results of its melts are signed, and closed when one is sent back', async () => {
    const trial = await makeAnnouncedTrial();
    await attached(trial, { melts: [...attaching.melts, certified('M-2', 999.97)] });
    await signResult(trial, 'M-1');
    // One melt is signed: its values are shown, the file with both is not.
    expect(await ask(trial, 'assayer')).toMatchObject({
      certificates: [{ sha256: null }],
      melts: [{ melt: 'M-1', values: [{ finenessPerMille: 999.93 }] }, { values: [] }],
    });
    await signResult(trial, 'M-2');
    expect(await ask(trial, 'assayer')).toMatchObject({
      certificates: [{ sha256: file.sha256 }],
      melts: [{}, { values: [{ finenessPerMille: 999.97 }] }],
    });
    await signResult(trial, 'M-2', false);
    expect(await ask(trial, 'assayer')).toMatchObject({
      certificates: [{ sha256: null }],
      melts: [{}, { values: [] }],
    });
  });

  it('is in no entry that others may read', () => {
    expect(MaterialCertificateAttached.readableBy).toEqual(['custodian', 'auditor']);
  });

  it('stands on the docket while it leaves out a melt, and names the strange ones', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await documentDocket(trial.books)).toEqual([]);
    const body = await attached(trial, { melts: [...attaching.melts, certified('M-7', 999.9)] });
    expect(body).toMatchObject({ strange: ['M-7'], missing: ['M-2'] });
    expect(await documentDocket(trial.books)).toMatchObject([
      {
        what: 'No certificate of consignment C-1 names M-2.',
        why: 'Its certificates name M-7, which did not come with it.',
        path: '/receiving/consignments/C-1/certificate',
      },
    ]);
    const other = { file: { name: 'two.pdf', sha256: 'cd'.repeat(32) } };
    await attached(trial, { ...other, melts: [certified('M-2', null)] });
    expect(await documentDocket(trial.books)).toEqual([]);
    expect(await trial.ask('material-certificates', { consignment: 'X' }, 'custodian')).toBeNull();
  });

  it('stays on the docket when the melt is sampled, until the chief assayer goes without', async () => {
    const trial = await makeAnnouncedTrial();
    await attached(trial);
    await trial.store.write(async (writer) => {
      const books = bookWriter(writer);
      const row = await books.get(consignments, 'C-1');
      if (row) await books.put(consignments, { ...row, state: 'samples drawn' });
    });
    expect(await documentDocket(trial.books)).toMatchObject([
      { what: 'No certificate of consignment C-1 names M-2.' },
    ]);
    const without = { consignment: 'C-1', melts: ['M-2'], reason: 'The supplier has none.' };
    const command = 'go-without-certificate';
    const named = (refused: readonly { refusal: string }[]) => refused.map((one) => one.refusal);
    expect(named(await trial.refused(command, { ...without, melts: ['M-1'] }, 'chief'))).toEqual([
      'CertificateNotAwaited',
    ]);
    expect(
      named(await trial.refused(command, { ...without, consignment: 'C-9' }, 'chief')),
    ).toEqual(['ConsignmentUnknown']);
    await trial.recorded(command, without, 'chief');
    expect(await documentDocket(trial.books)).toEqual([]);
    expect(
      await trial.ask('material-certificates', { consignment: 'C-1' }, 'custodian'),
    ).toMatchObject({ missing: [], awaited: [], forgone: [{ melt: 'M-2' }] });
    // A further certificate waits for nothing that was given up.
    await attached(trial, { file: { name: 'two.pdf', sha256: 'cd'.repeat(32) } });
    expect(await documentDocket(trial.books)).toEqual([]);
  });
});
