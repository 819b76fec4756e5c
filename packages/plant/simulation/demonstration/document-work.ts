import { suppliers } from './cast.ts';
import { impurityShares } from './impurities.ts';
import { textPage } from './material-certificate.ts';
import type { ConsignmentPlan } from './receiving-work.ts';
import type { MeltAtWork, Scene } from './state.ts';

/** Contents of silver in mg/kg, and of gold in ‰, that leave just the stated fineness. */
function compositionOf(metal: 'gold' | 'silver', finenessPerMille: number) {
  const stated = (element: string, content: number, unit: 'mg/kg' | '‰') => ({
    element,
    content: Number(content.toFixed(unit === '‰' ? 3 : 1)),
    unit,
    isBelow: false,
  });
  const rest = 1000 - finenessPerMille;
  if (metal === 'silver') {
    return impurityShares.map(([element, share]) => stated(element, rest * 1000 * share, 'mg/kg'));
  }
  const copper = stated('Cu', rest / 2, '‰');
  return [copper, stated('Ag', rest - copper.content, '‰')];
}

/** Keeps the supplier's material certificate of a consignment, with what it says of each melt. */
export async function attachCertificate(
  scene: Scene,
  of: {
    readonly plan: ConsignmentPlan;
    readonly consignment: string;
    readonly melts: readonly MeltAtWork[];
  },
): Promise<void> {
  const { plan, consignment } = of;
  if (!scene.equipment || plan.meltsCertified === 0) return;
  const { metal } = plan.standard;
  const stated = of.melts.slice(0, plan.meltsCertified).map(({ truth }, index) => {
    const error = plan.melts[index]?.supplierErrorPerMille ?? 0;
    const finenessPerMille = Number((truth.finenessPerMille + error).toFixed(3));
    const composition = compositionOf(metal, finenessPerMille);
    return { melt: truth.melt, finenessPerMille, composition };
  });
  const document = `Material certificate ${consignment}`;
  const lines = stated.flatMap(({ melt, finenessPerMille, composition }) => [
    '',
    `Melt ${melt}: fineness ${finenessPerMille.toFixed(3)} per mille`,
    ...composition.map(
      ({ element, content, unit }) =>
        `    ${element} ${content} ${unit === '‰' ? 'per mille' : unit}`,
    ),
  ]);
  const supplier = suppliers.find((one) => one.supplier === plan.supplier)?.name ?? plan.supplier;
  const kept = await scene.attachments.keep(textPage([document, supplier, ...lines]));
  if (!kept.kept || kept.sha256 === undefined) throw new Error('a certificate was not kept');
  await scene.hand.do({
    by: 'bettina',
    command: 'attach-certificate',
    input: {
      consignment,
      document,
      file: { name: `${consignment}-certificate.pdf`, sha256: kept.sha256 },
      melts: stated,
      correction: null,
    },
    seconds: 60,
  });
}
