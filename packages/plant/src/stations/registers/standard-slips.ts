/** The figures of a piece standard that a slip of the pen shows in. */
interface Figures {
  readonly finenessDeclaredPartsPerMillion: number;
  readonly finenessLimitPerMille: number;
  readonly acceptanceQualityLimitPercent: number;
  readonly massDeclaredMilligrams: number;
  readonly massLeastMilligrams: number;
  readonly massGreatestMilligrams: number;
  readonly diameterLeastMillimetres: number;
  readonly diameterGreatestMillimetres: number;
  readonly thicknessLeastMillimetres: number;
  readonly thicknessGreatestMillimetres: number;
  readonly pieceStandardDeviationMilligrams: number;
  readonly lotStandardDeviationMilligrams: number;
  readonly piecesPerTube: number;
  readonly tubesPerBox: number;
  readonly tubeTareGrams: number;
  readonly tubeTareStandardDeviationGrams: number;
  readonly boxTareGrams: number;
  readonly boxTareStandardDeviationGrams: number;
  readonly badWeighingSpreadGrams: number;
}

interface Slip {
  readonly field: keyof Figures;
  readonly message: string;
}

/** A figure that is at most another one, and the words for that. */
type AtMost = readonly [field: keyof Figures, most: number, words: string];

function inPrint(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/**
 * Apparent density of the piece as a flat disc, in g/cm³. No metal of a coin is lighter than 2 or
 * heavier than 23 g/cm³; a rim above the field makes a piece look lighter than its metal, by less
 * than half.
 */
const [lightest, heaviest] = [3, 23];

function densityOf(standard: Figures): number {
  const middle = (least: number, greatest: number) => (least + greatest) / 2;
  const diameter = middle(standard.diameterLeastMillimetres, standard.diameterGreatestMillimetres);
  const thickness = middle(
    standard.thicknessLeastMillimetres,
    standard.thicknessGreatestMillimetres,
  );
  return standard.massDeclaredMilligrams / ((Math.PI / 4) * diameter ** 2 * thickness);
}

function atMosts(standard: Figures): readonly AtMost[] {
  const tubeGrams = (standard.massDeclaredMilligrams * standard.piecesPerTube) / 1000;
  const boxGrams = tubeGrams * standard.tubesPerBox;
  const tenth = standard.massDeclaredMilligrams / 10;
  const ofPiece = 'a tenth of the declared mass';
  return [
    ['massGreatestMilligrams', 2 * standard.massLeastMilligrams, 'twice the least mass'],
    [
      'diameterGreatestMillimetres',
      2 * standard.diameterLeastMillimetres,
      'twice the least diameter',
    ],
    [
      'thicknessGreatestMillimetres',
      2 * standard.thicknessLeastMillimetres,
      'twice the least thickness',
    ],
    ['pieceStandardDeviationMilligrams', tenth, ofPiece],
    ['lotStandardDeviationMilligrams', tenth, ofPiece],
    ['tubeTareGrams', 10 * tubeGrams, 'ten times the mass of its pieces'],
    ['boxTareGrams', 10 * boxGrams, 'ten times the mass of its pieces'],
    ['tubeTareStandardDeviationGrams', standard.tubeTareGrams, 'the tare of the tube'],
    ['boxTareStandardDeviationGrams', standard.boxTareGrams, 'the tare of the box'],
    ['badWeighingSpreadGrams', 10 * tubeGrams, 'ten times the mass of the pieces in a tube'],
  ];
}

/**
 * Figures that contradict one another by so much that somebody mistyped one: a factor of ten, another
 * unit, two fields exchanged. A registered standard is never changed, so that they must not get in.
 * The limits are wide on purpose: what a plant may want lies well within.
 */
export function slipsOf(standard: Figures): readonly Slip[] {
  const slips = atMosts(standard).flatMap(([field, most, words]): Slip[] =>
    standard[field] <= most
      ? []
      : [{ field, message: `at most ${words}, which is ${inPrint(most)}` }],
  );
  const leastLimit = (0.9 * standard.finenessDeclaredPartsPerMillion) / 1000;
  if (standard.finenessLimitPerMille < leastLimit) {
    const message = `at least nine tenths of the declared fineness, which is ${inPrint(leastLimit)} ‰`;
    slips.push({ field: 'finenessLimitPerMille', message });
  }
  if (standard.acceptanceQualityLimitPercent > 10) {
    const message = 'at most 10, since each blank conforms or does not (ISO 2859-1)';
    slips.push({ field: 'acceptanceQualityLimitPercent', message });
  }
  const density = densityOf(standard);
  if (slips.length === 0 && (density < lightest || density > heaviest)) {
    const message = `a mass that fits diameter and thickness: a disc of these would have ${inPrint(density)} g/cm³, and a metal has ${lightest} to ${heaviest}`;
    slips.push({ field: 'massDeclaredMilligrams', message });
  }
  return slips;
}
